package layout

import (
	"archive/zip"
	"errors"
	"io"
	"path/filepath"
	"strings"

	"aftbay/geom/disk"
)

// archive returns the archive that holds a file: as it was opened, or as it was
// after a later Add.
func (f *Folder) archive(rel string) *packed {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, p := range f.later {
		if p.entries[p.prefix+rel] != nil && f.packed.entries[f.packed.prefix+rel] == nil {
			return p
		}
	}
	return f.packed
}

// addPacked packs a new file into the archive on the disk, which is replaced
// whole; the archives that are open stay as they are.
func (f *Folder) addPacked(rel string, data []byte) error {
	if _, err := f.archive(rel).stat(rel); err == nil {
		return takenFault(rel)
	}
	now, err := openPacked(f.path)
	if err != nil {
		return err
	}
	err = f.packOnto(now, rel, data)
	if err := errors.Join(err, now.file.Close()); err != nil {
		return err
	}
	after, err := openPacked(f.path)
	if err != nil {
		return err
	}
	f.mu.Lock()
	f.later = append(f.later, after)
	f.mu.Unlock()
	return nil
}

// packOnto writes the archive with one more file.
func (f *Folder) packOnto(now *packed, rel string, data []byte) error {
	if other, taken := now.folded[strings.ToLower(now.prefix+rel)]; taken {
		return takenFault(other)
	}
	d, err := disk.At(filepath.Dir(f.path))
	if err != nil {
		return err
	}
	err = disk.ReplaceWith(d, filepath.Base(f.path), disk.Options{}, func(w io.Writer) error {
		archive := zip.NewWriter(w)
		for _, entry := range now.list {
			if err := archive.Copy(entry); err != nil {
				return err
			}
		}
		return errors.Join(packFile(archive, now.prefix+rel, data), archive.Close())
	})
	return errors.Join(err, d.Close())
}
