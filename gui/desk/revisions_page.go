package desk

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/revision"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// errPackedRevisions says why a packed layout keeps no revisions.
var errPackedRevisions = say.New("one packed file keeps no revisions: save the layout into a folder first")

// KeepRevision keeps the layout as it is on the desk, saved or not, as a named
// revision with its reason, inside its folder.
func (d *Desk) KeepRevision(name, reason string) (*revision.Revision, error) {
	d.mu.Lock()
	doc, folder, k := d.doc, d.folder, d.keep
	d.mu.Unlock()
	switch {
	case doc == nil:
		return nil, ErrNothingOpen
	case folder.Packed():
		return nil, errPackedRevisions
	}
	if err := k.refuses(); err != nil {
		return nil, err
	}
	on, root, err := d.system.disks(folder.Path())
	if err != nil {
		return nil, err
	}
	r, err := revision.Keep(on, doc, folder, revision.Note{Name: name, Reason: reason, At: d.system.now()})
	return r, errors.Join(err, root.Close())
}

// Revisions returns what is kept of the open layout, the latest first.
func (d *Desk) Revisions() ([]revision.Revision, error) {
	d.mu.Lock()
	folder := d.folder
	d.mu.Unlock()
	switch {
	case folder == nil:
		return nil, ErrNothingOpen
	case folder.Packed():
		return nil, errPackedRevisions
	}
	on, root, err := d.system.disks(folder.Path())
	if err != nil {
		return nil, err
	}
	list, err := revision.List(on)
	slices.Reverse(list)
	return list, errors.Join(err, root.Close())
}

// RestoreRevision puts a revision on the desk as an edit, which undo takes back.
// What reviews have decided since, and its history, stays. No file is changed: a mesh that is another by now is taken from the revision.
func (d *Desk) RestoreRevision(r *revision.Revision) error {
	d.mu.Lock()
	folder := d.folder
	d.mu.Unlock()
	if folder == nil {
		return ErrNothingOpen
	}
	back, err := r.Restored(folder.Path(), folder)
	if err != nil {
		return err
	}
	return d.Edit(phrase.Of("restore revision ")+r.Label(), func(doc *layout.Document) error {
		decided := doc.Decisions
		*doc = *back
		doc.Decisions = decided
		return nil
	})
}

// RevisionFolder returns where a revision of the layout at path lies.
func RevisionFolder(path string, r *revision.Revision) string {
	return filepath.Join(path, filepath.FromSlash(r.Folder))
}

// RevisionText says of a revision when and why it was kept.
func RevisionText(r *revision.Revision) (heading, reason string) {
	return fmt.Sprintf("%s, %s", r.Label(), r.At.Local().Format(timeFormat)), r.Reason
}
