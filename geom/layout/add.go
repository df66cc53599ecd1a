package layout

import (
	"errors"
	"io/fs"
	"path"

	"aftbay/geom/disk"
)

// Add writes a new file into an open layout folder; one that is there is left
// alone. The error is a Fault that names the file.
func (f *Folder) Add(rel string, data []byte) error {
	if what, mend := pathFault(rel); what != "" {
		return Fault{Where: rel, What: what, Mend: mend}
	}
	if f.packed != nil {
		return Fault{Where: f.path, What: "one packed file takes no new files while it is open", Mend: "save the layout as a folder first"}
	}
	if f.mapped != nil {
		return Fault{Where: f.path, What: "it takes no new files", Mend: "save the layout into a folder of its own first"}
	}
	switch _, err := f.root.Stat(rel); {
	case err == nil:
		return Fault{Where: rel, What: "a file of that name is there already", Mend: "choose another name"}
	case !errors.Is(err, fs.ErrNotExist):
		return unreadable(rel, err, "check the folder")
	}
	if dir := path.Dir(rel); dir != "." {
		if err := f.root.MkdirAll(dir, 0o755); err != nil {
			return unreadable(dir, err, "check the folder")
		}
	}
	return disk.Replace(f.root, rel, data, disk.Options{})
}
