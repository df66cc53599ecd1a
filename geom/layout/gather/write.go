package gather

import (
	"context"
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// meshDir is where the meshes go inside the new layout.
const meshDir = "meshes"

// Write makes the layout folder target out of the proposal as it is now.
// Meshes are copied in; those that lie below target already stay where they
// are. A folder that holds a layout already, and a file that is there and holds
// something else, are left alone with an error. The layout file comes last, so
// that a folder with one is complete.
func (p *Proposal) Write(ctx context.Context, target string) error {
	if strings.EqualFold(filepath.Ext(target), layout.PackedExt) {
		return layout.Fault{Where: target, What: say.Of("meshes are gathered into a folder"), Mend: say.F("name a folder, then save it as %s", layout.PackedExt)}
	}
	doc, err := p.document(target)
	if err != nil {
		return err
	}
	d, err := disk.Make(target)
	if err != nil {
		return err
	}
	return errors.Join(p.write(ctx, d, target, doc), d.Close())
}

func (p *Proposal) write(ctx context.Context, d disk.Disk, target string, doc *layout.Document) error {
	if _, err := d.Lstat(layout.FileName); !errors.Is(err, fs.ErrNotExist) {
		return layout.Fault{Where: target, What: say.Of("a layout stands there already"), Mend: say.Of("name a new folder, or open that layout")}
	}
	for i := range p.Parts {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := p.Parts[i].copyTo(d); err != nil {
			return err
		}
	}
	if err := layout.SaveOn(d, doc); err != nil {
		return err
	}
	_, folder, err := layout.Open(target)
	if err != nil {
		return err
	}
	return errors.Join(folder.AcceptMeshes(doc), folder.Close())
}

// document gives each part its file and returns the layout, checked.
func (p *Proposal) document(target string) (*layout.Document, error) {
	doc := &layout.Document{Format: layout.Format, Version: layout.Version, Title: p.Title}
	given := taken{}
	for i := range p.Parts {
		if rel, ok := p.Parts[i].below(target); ok {
			given[fold(rel)] = 1
		}
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		rel, ok := part.below(target)
		if !ok {
			rel = given.unique(path.Join(meshDir, fileOf(part.at.rel)), "-", ".stl")
		}
		part.file = rel
		one := layout.Part{Name: part.Name, Role: part.Role, Mesh: rel}
		if part.Unit != "mm" {
			one.MeshUnit = part.Unit
		}
		doc.Parts = append(doc.Parts, one)
	}
	return doc, layout.Check(doc)
}

// below returns the file's place inside target if it lies there already and
// its name may stand in a layout.
func (p *Part) below(target string) (string, bool) {
	to, errTo := filepath.Abs(target)
	from, errFrom := filepath.Abs(p.From)
	rel, err := filepath.Rel(to, from)
	rel = filepath.ToSlash(rel)
	if errors.Join(errTo, errFrom, err) != nil || !filepath.IsLocal(rel) {
		return "", false
	}
	return rel, layout.CheckPath(rel) == nil
}

// copyTo brings the file into the layout, unless it is there.
func (p *Part) copyTo(d disk.Disk) error {
	data, err := p.content()
	if err != nil {
		return err
	}
	if old, err := disk.Read(d, p.file, layout.MaxFileBytes); err == nil {
		if layout.PrintOf(old) == p.print {
			return nil
		}
		return layout.Fault{Where: p.file, What: say.Of("another file of this name is there already"), Mend: say.Of("name a new folder")}
	}
	if err := d.MkdirAll(path.Dir(p.file), 0o755); err != nil {
		return layout.Fault{Where: path.Dir(p.file), What: say.F("the folder can't be made: %s", err), Mend: say.Of("name another folder")}
	}
	return disk.Replace(d, p.file, data, disk.Options{})
}
