package layout

import (
	"errors"
	"io/fs"
	"path"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// Add writes a new file into an open layout folder, or packs it into the packed
// file that stands on the disk now; one that is there is left alone. The error is
// a Fault that names the file.
func (f *Folder) Add(rel string, data []byte) error {
	if what, mend := pathFault(rel); !what.IsZero() {
		return Fault{Where: rel, What: what, Mend: mend}
	}
	if f.packed != nil {
		return f.addPacked(rel, data)
	}
	if f.mapped != nil {
		return Fault{Where: f.path, What: say.Of("it takes no new files"), Mend: say.Of("save the layout into a folder of its own first")}
	}
	switch _, err := f.root.Stat(rel); {
	case err == nil:
		return takenFault(rel)
	case !errors.Is(err, fs.ErrNotExist):
		return unreadable(rel, err, say.Of("check the folder"))
	}
	if dir := path.Dir(rel); dir != "." {
		if err := f.root.MkdirAll(dir, 0o755); err != nil {
			return unreadable(dir, err, say.Of("check the folder"))
		}
	}
	return disk.Replace(f.root, rel, data, disk.Options{})
}

func takenFault(rel string) error {
	return Fault{Where: rel, What: say.Of("a file of that name is there already"), Mend: say.Of("choose another name")}
}

// Remove takes a file of an open layout folder away if it still holds data, and
// reports whether it did. A packed file keeps it until it is packed anew.
func (f *Folder) Remove(rel string, data []byte) bool {
	if what, _ := pathFault(rel); !what.IsZero() || f.packed != nil || f.mapped != nil || !same(f.root, rel, data) {
		return false
	}
	return f.root.Remove(rel) == nil
}
