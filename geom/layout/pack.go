package layout

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Files returns every file that the document names, each once, sorted.
func (d *Document) Files() []string {
	var list []string
	for i := range d.Parts {
		list = append(list, d.Parts[i].Mesh)
	}
	for i := range d.Groups {
		list = append(list, d.Groups[i].Positions)
	}
	for i := range d.Spots {
		list = append(list, d.Spots[i].Mesh)
	}
	slices.Sort(list)
	return slices.DeleteFunc(slices.Compact(list), func(s string) bool { return s == "" })
}

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
		data, err := from.ReadFile(rel)
		if err != nil {
			return err
		}
		if err := packFile(archive, rel, data); err != nil {
			return err
		}
	}
	return archive.Close()
}

func packFile(archive *zip.Writer, rel string, data []byte) error {
	w, err := archive.Create(rel) // without a time, so that equal content gives equal bytes
	if err == nil {
		_, err = w.Write(data)
	}
	if err != nil {
		return fmt.Errorf("pack %s: %w", rel, err)
	}
	return nil
}

// SaveAs writes the document and the files it names to a new place: a packed
// file if target ends in .aftbay, else a folder, which is made. from gives the
// files; it may be the target itself.
func SaveAs(target string, doc *Document, from *Folder) error {
	if strings.EqualFold(filepath.Ext(target), PackedExt) {
		return saveAsPacked(target, doc, from)
	}
	if err := Check(doc); err != nil {
		return err
	}
	if sameFolder(target, from) {
		return Save(target, doc)
	}
	if err := os.MkdirAll(target, 0o755); err != nil {
		return fmt.Errorf("%s: the folder can't be made: %w", target, err)
	}
	root, err := os.OpenRoot(target)
	if err != nil {
		return unreadable(target, err, "give a folder")
	}
	err = copyFiles(root, doc, from)
	if err := errors.Join(err, root.Close()); err != nil {
		return err
	}
	return Save(target, doc) // last: a folder with a layout file is complete
}

func copyFiles(root *os.Root, doc *Document, from *Folder) error {
	for _, rel := range doc.Files() {
		data, err := from.ReadFile(rel)
		if err != nil {
			return err
		}
		if old, err := root.ReadFile(rel); err == nil && bytes.Equal(old, data) {
			continue
		}
		if err := root.MkdirAll(path.Dir(rel), 0o755); err != nil {
			return fmt.Errorf("%s: its folder can't be made: %w", rel, err)
		}
		if err := replace(root, rel, data); err != nil {
			return err
		}
	}
	return nil
}

// saveAsPacked packs into a file beside the target, then puts it in its place.
func saveAsPacked(target string, doc *Document, from *Folder) error {
	temp, err := os.CreateTemp(filepath.Dir(target), ".aftbay-*")
	if err != nil {
		return unreadable(target, err, "give a folder that may be written")
	}
	err = Pack(temp, doc, from)
	if err == nil {
		err = temp.Chmod(0o644)
	}
	if err == nil {
		err = temp.Sync()
	}
	if err = errors.Join(err, temp.Close()); err == nil {
		err = os.Rename(temp.Name(), target)
	}
	if err != nil {
		return errors.Join(err, os.Remove(temp.Name()))
	}
	return nil
}
