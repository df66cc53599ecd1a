package desk

import (
	"slices"

	"aftbay/geom/layout"
)

// made holds the mesh files that edits have written into the folder, by path: no
// saved layout names them yet. Undo takes such a file back and redo writes it
// again; what is saved is the reader's and is left alone.
type made map[string][]byte

// makeFile writes a new file into the open layout for an edit. A packed one that
// was changed by another program takes none. The lock is held.
func (d *Desk) makeFile(rel string, data []byte) error {
	k := d.keep
	if k != nil && k.packed() {
		if err := k.untouched(); err != nil {
			return err
		}
	}
	if err := d.folder.Add(rel, data); err != nil {
		return err
	}
	if k != nil && k.packed() {
		k.accept()
	}
	if d.made == nil {
		d.made = made{}
	}
	d.made[rel] = data
	return nil
}

// makeAgain writes those files that a document about to be shown names and that
// were taken back; the lock is held.
func (d *Desk) makeAgain(doc *layout.Document) error {
	for _, rel := range doc.Files() {
		data, own := d.made[rel]
		if !own {
			continue
		}
		if _, err := d.folder.Stat(rel); err == nil {
			continue
		}
		if err := d.makeFile(rel, data); err != nil {
			return err
		}
	}
	return nil
}

// takeBack removes the files that the document no longer names, unless they hold
// something else by now; the lock is held.
func (d *Desk) takeBack(doc *layout.Document) {
	named := doc.Files()
	for rel, data := range d.made {
		if !slices.Contains(named, rel) {
			d.folder.Remove(rel, data)
		}
	}
}

// keepMade leaves those files to the reader that a saved document names; the
// lock is held.
func (d *Desk) keepMade(doc *layout.Document) {
	for _, rel := range doc.Files() {
		delete(d.made, rel)
	}
}
