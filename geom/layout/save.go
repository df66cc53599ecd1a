package layout

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// BackupName is where Save keeps the file that it replaces.
const BackupName = FileName + ".bak"

// Save writes the document as layout.json into the folder dir, which must
// exist. Whatever happens, either the old or the new file stands there whole;
// the old one is kept once as layout.json.bak. A document with faults is
// refused.
func Save(dir string, doc *Document) error {
	if err := Check(doc); err != nil {
		return err
	}
	data, err := Encode(doc)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return unreadable(dir, err, "make the folder first")
	}
	return errors.Join(saveDocument(root, data), root.Close())
}

func saveDocument(root *os.Root, data []byte) error {
	old, err := root.ReadFile(FileName)
	if err == nil && bytes.Equal(old, data) {
		return nil // nothing to write, and the backup stays worth having
	}
	if err == nil {
		if err := replace(root, BackupName, old); err != nil {
			return err
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return unreadable(FileName, err, "check the folder")
	}
	return replace(root, FileName, data)
}

// replace writes a file beside the old one, makes sure that it is on the disk,
// and puts it in the old one's place in one step.
func replace(root *os.Root, rel string, data []byte) error {
	temp := path.Join(path.Dir(rel), "."+path.Base(rel)+".new")
	if err := writeSynced(root, temp, data); err != nil {
		return errors.Join(fmt.Errorf("%s: can't be written: %w", rel, err), removeIfThere(root, temp))
	}
	if err := root.Rename(temp, rel); err != nil {
		return errors.Join(fmt.Errorf("%s: can't be replaced: %w", rel, err), removeIfThere(root, temp))
	}
	// The new name is on the disk only once the folder is; some systems can't
	// sync a folder, and the file itself is safe already.
	if folder, err := root.Open(path.Dir(rel)); err == nil {
		_ = folder.Sync()
		return folder.Close()
	}
	return nil
}

func writeSynced(root *os.Root, rel string, data []byte) error {
	if err := removeIfThere(root, rel); err != nil { // left over from a crash, or a link
		return err
	}
	file, err := root.OpenFile(rel, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}

func removeIfThere(root *os.Root, rel string) error {
	if err := root.Remove(rel); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// sameFolder reports whether dir is the plain folder that f has open.
func sameFolder(dir string, f *Folder) bool {
	a, errA := os.Stat(dir)
	b, errB := os.Stat(filepath.Clean(f.path))
	return f.packed == nil && errA == nil && errB == nil && os.SameFile(a, b)
}
