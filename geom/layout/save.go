package layout

import (
	"bytes"
	"errors"
	"os"
	"path"
	"path/filepath"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// BackupName is where Save keeps the file that it replaces; BackupExt is put
// after the name of a packed file for the same.
const (
	BackupExt  = ".bak"
	BackupName = FileName + BackupExt
)

// Save writes the document as layout.json into the folder dir, which must
// exist. Whatever happens, either the old or the new file stands there whole;
// the old one is kept once as layout.json.bak. A document with faults is
// refused.
func Save(dir string, doc *Document) error {
	if err := Check(doc); err != nil {
		return err
	}
	d, err := disk.At(dir)
	if err != nil {
		return err
	}
	return errors.Join(SaveOn(d, doc), d.Close())
}

// SaveOn is Save for a folder that is open already.
func SaveOn(d disk.Disk, doc *Document) error {
	if err := Check(doc); err != nil {
		return err
	}
	data, err := Encode(doc)
	if err != nil {
		return err
	}
	// The same again: nothing to write, and the backup stays worth having.
	if same(d, FileName, data) {
		return nil
	}
	return disk.Replace(d, FileName, data, disk.Options{Backup: BackupName})
}

// same reports whether a plain file, not a link, holds these bytes.
func same(d disk.Disk, rel string, data []byte) bool {
	info, err := d.Lstat(rel)
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(data)) {
		return false
	}
	old, err := disk.Read(d, rel, int64(len(data)))
	return err == nil && bytes.Equal(old, data)
}

// copyFiles brings the files that the document names to another folder.
func copyFiles(d disk.Disk, doc *Document, from *Folder) error {
	for _, rel := range doc.Files() {
		data, _, err := from.ReadPrinted(rel)
		if err != nil {
			return err
		}
		if same(d, rel, data) {
			continue
		}
		if err := d.MkdirAll(path.Dir(rel), 0o755); err != nil {
			return unreadable(rel, err, say.Of("its folder can't be made; save elsewhere"))
		}
		if err := disk.Replace(d, rel, data, disk.Options{}); err != nil {
			return err
		}
	}
	return nil
}

// sameFolder reports whether dir is the plain folder that f has open.
func sameFolder(dir string, f *Folder) bool {
	a, errA := os.Stat(dir)
	b, errB := os.Stat(filepath.Clean(f.path))
	return f.packed == nil && f.mapped == nil && errA == nil && errB == nil && os.SameFile(a, b)
}
