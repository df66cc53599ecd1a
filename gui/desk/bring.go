package desk

import (
	"bytes"
	"path/filepath"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// BringMesh makes an STL file ready to be named by the open layout and returns
// the path to name it by: that of the file itself where it lies in the layout's
// folder, else that of a copy, which is written by the edit that first names it
// and taken back with it.
//
// Errors: a file that cannot be read or is no STL file, a layout that takes none.
func (d *Desk) BringMesh(from string) (rel string, err error) {
	data, err := meshBytes(from)
	if err != nil {
		return "", err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.folder == nil {
		return "", ErrNothingOpen
	}
	if err := d.keep.refuses(); err != nil {
		return "", err
	}
	if rel, inside := d.insideFolder(from); inside {
		return rel, nil
	}
	for rel, known := range d.made { // brought before
		if bytes.Equal(known, data) {
			return rel, nil
		}
	}
	base := filepath.Base(from)
	rel = freeFile(d.folder, strings.TrimSuffix(base, filepath.Ext(base)), d.made)
	if d.made == nil {
		d.made = made{}
	}
	d.made[rel] = data
	return rel, nil
}

// meshBytes returns the content of a file that holds a mesh.
func meshBytes(from string) ([]byte, error) {
	dir, err := disk.At(filepath.Dir(from))
	if err != nil {
		return nil, err
	}
	defer dir.Close()
	data, err := disk.Read(dir, filepath.Base(from), layout.MaxFileBytes)
	if err != nil {
		return nil, err
	}
	if _, err := mesh.ReadSTL(data); err != nil {
		return nil, say.Errorf("%s: %w", from, err)
	}
	return data, nil
}

// insideFolder returns the path of a file inside the folder of the open layout;
// a packed one has no folder. The lock is held.
func (d *Desk) insideFolder(from string) (rel string, inside bool) {
	if d.keep == nil || d.keep.packed() {
		return "", false
	}
	full, err := filepath.Abs(from)
	if err != nil {
		return "", false
	}
	rel, err = filepath.Rel(d.keep.place.dir, full)
	if err != nil || layout.CheckPath(filepath.ToSlash(rel)) != nil {
		return "", false
	}
	return filepath.ToSlash(rel), true
}
