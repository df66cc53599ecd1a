package main

import (
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// writeMeshes puts every mesh file of a scene, mended and in millimetres, into a
// folder under its own path: as binary STL, or as text. A file that is already
// there is refused, and nothing is written over.
func writeMeshes(s *scene.Scene, dir string, ascii bool) error {
	root, err := disk.Make(dir)
	if err != nil {
		return err
	}
	// unitOf[file][unit]: written; a file read in two units gives two.
	unitOf := map[string]map[string]bool{}
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Route != nil || unitOf[p.Layout.Mesh][p.Layout.MeshUnit] {
			continue
		}
		rel := path.Clean(p.Layout.Mesh)
		if units := unitOf[p.Layout.Mesh]; units == nil {
			unitOf[p.Layout.Mesh] = map[string]bool{}
		} else {
			rel = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(rel, path.Ext(rel)), len(units)+1, path.Ext(rel))
		}
		unitOf[p.Layout.Mesh][p.Layout.MeshUnit] = true
		if err := writeMesh(root, rel, p, ascii); err != nil {
			return errors.Join(fmt.Errorf("part %q: %w", p.Name, err), root.Close())
		}
	}
	return root.Close()
}

func writeMesh(root *disk.Root, rel string, p *scene.Part, ascii bool) error {
	if _, err := root.Lstat(rel); err == nil {
		return layout.Fault{Where: rel, What: say.Of("is there already"), Mend: say.Of("name a new folder after --stl")}
	}
	if err := root.MkdirAll(path.Dir(rel), 0o755); err != nil {
		return err
	}
	return disk.ReplaceWith(root, rel, disk.Options{}, func(w io.Writer) error {
		if ascii {
			return p.Mesh.WriteASCII(w, p.Name)
		}
		return p.Mesh.WriteSTL(w, p.Name)
	})
}
