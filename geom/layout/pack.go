package layout

import (
	"archive/zip"
	"errors"
	"io"
	"path/filepath"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// Pack writes the document and the files it names as one packed layout. The
// same content gives the same bytes.
func Pack(w io.Writer, doc *Document, from *Folder) error {
	if err := Check(doc); err != nil {
		return err
	}
	data, err := Encode(doc)
	if err != nil {
		return err
	}
	archive := zip.NewWriter(w)
	if err := packFile(archive, FileName, data); err != nil {
		return err
	}
	for _, rel := range doc.Files() {
		data, _, err := from.ReadPrinted(rel)
		if err != nil {
			return err
		}
		if err := packFile(archive, rel, data); err != nil {
			return err
		}
	}
	data, err = from.remembered(doc).encode()
	if err == nil {
		err = packFile(archive, MeshesName, data)
	}
	return errors.Join(err, archive.Close())
}

func packFile(archive *zip.Writer, rel string, data []byte) error {
	w, err := archive.Create(rel) // without a time, so that equal content gives equal bytes
	if err == nil {
		_, err = w.Write(data)
	}
	if err != nil {
		return say.Errorf("pack %s: %w", rel, err)
	}
	return nil
}

// SaveAs writes the document and the files it names to a new place: a packed
// file if target ends in .aftbay, else a folder, which is made. from gives the
// files; it may be the target itself. What was there before is kept once beside
// it; should anything fail, it stands as it was.
func SaveAs(target string, doc *Document, from *Folder) error {
	if err := Check(doc); err != nil {
		return err
	}
	if strings.EqualFold(filepath.Ext(target), PackedExt) {
		d, err := disk.At(filepath.Dir(target))
		if err != nil {
			return err
		}
		return errors.Join(savePacked(d, filepath.Base(target), doc, from), d.Close())
	}
	d, err := disk.Make(target)
	if err != nil {
		return err
	}
	if sameFolder(target, from) {
		err = SaveInPlace(d, doc, from)
	} else {
		err = saveCopy(d, doc, from)
	}
	return errors.Join(err, d.Close())
}

// SaveInPlace is SaveOn for the folder that from has open, with what is
// remembered of its meshes. The layout comes first: it is what must not be lost.
func SaveInPlace(d disk.Disk, doc *Document, from *Folder) error {
	if err := SaveOn(d, doc); err != nil {
		return err
	}
	return writeMemory(d, from.remembered(doc))
}

// saveCopy writes the layout last: a folder with a layout file is complete.
func saveCopy(d disk.Disk, doc *Document, from *Folder) error {
	if err := copyFiles(d, doc, from); err != nil {
		return err
	}
	if err := writeMemory(d, from.remembered(doc)); err != nil {
		return err
	}
	return SaveOn(d, doc)
}

// savePacked packs the layout into the file name.
func savePacked(d disk.Disk, name string, doc *Document, from *Folder) error {
	return disk.ReplaceWith(d, name, disk.Options{Backup: name + BackupExt}, func(w io.Writer) error {
		return Pack(w, doc, from)
	})
}
