package desk

import (
	"errors"
	"path/filepath"
	"strconv"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/revision"
	"aftbay/geom/say"
)

// OpenState opens a layout, or one of its revisions where path is a folder
// revisions/NNN-NAME, and says what to call it. The caller closes the folder.
func OpenState(path string) (*layout.Document, *layout.Folder, string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, nil, "", err
	}
	if filepath.Base(full) == layout.FileName {
		full = filepath.Dir(full)
	}
	if filepath.Base(filepath.Dir(full)) == revision.Dir {
		doc, folder, r, err := revision.Open(full)
		if err != nil {
			return nil, nil, "", err
		}
		return doc, folder, "revision " + r.Label(), nil
	}
	doc, folder, err := layout.Open(path)
	if err != nil {
		return nil, nil, "", err
	}
	return doc, folder, strings.TrimSuffix(filepath.Base(full), ".aftbay"), nil
}

// RevisionPath returns the folder of a revision, by its name or number, of the
// layout at path.
func RevisionPath(path, which string) (string, error) {
	dir, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	if filepath.Base(dir) == layout.FileName {
		dir = filepath.Dir(dir)
	}
	root, err := disk.At(dir)
	if err != nil {
		return "", err
	}
	list, err := revision.List(root)
	if err = errors.Join(err, root.Close()); err != nil {
		return "", err
	}
	var names []string
	for i := len(list) - 1; i >= 0; i-- { // the latest of a name
		r := &list[i]
		if r.Name == which || strconv.Itoa(r.Number) == which || filepath.Base(r.Folder) == which {
			return filepath.Join(dir, filepath.FromSlash(r.Folder)), nil
		}
		names = append(names, r.Label())
	}
	if len(names) == 0 {
		return "", say.Errorf("%s: no revision %q: none is kept yet", path, which)
	}
	return "", say.Errorf("%s: no revision %q: it has %s", path, which, strings.Join(names, ", "))
}
