package layout

import (
	"errors"
	"path"
	"path/filepath"

	"aftbay/geom/disk"
)

// OpenMapped reads a document that lies at name inside the folder dir and whose
// files lie elsewhere in it: files tells where, by the path that the document
// gives. The folder takes no new files. It must be closed by the caller.
func OpenMapped(dir, name string, files map[string]string) (*Document, *Folder, error) {
	root, err := disk.At(dir)
	if err != nil {
		return nil, nil, err
	}
	f := &Folder{path: filepath.Join(dir, filepath.FromSlash(path.Dir(name))), root: root, mapped: map[string]string{FileName: name}}
	doc, err := f.document(FileName)
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	for rel, at := range files {
		f.mapped[rel] = at
	}
	return doc, f, nil
}

// at returns where a file of the folder really lies.
func (f *Folder) at(rel string) string {
	if at, ok := f.mapped[rel]; ok {
		return at
	}
	return rel
}
