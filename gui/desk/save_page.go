package desk

import (
	"errors"
	"os"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/journal"
	"aftbay/gui/phrase"
)

// Save writes the layout to where it was opened from. A previewed drop is not
// part of it. A file that was changed by another program is not written over:
// the error is ErrChangedOutside then, and SaveOver writes all the same.
func (d *Desk) Save() error { return d.save(false) }

// SaveOver is Save over a file that was changed by another program; that one is
// kept as the backup.
func (d *Desk) SaveOver() error { return d.save(true) }

// save writes the layout to its place. Overruling: over what others have written.
func (d *Desk) save(overruling bool) error {
	d.mu.Lock()
	doc, text, folder, k := d.doc, d.text, d.folder, d.keep
	err := k.refuses()
	if err == nil && k != nil && !overruling {
		err = k.untouched()
	}
	if err == nil && doc != nil {
		d.keepMade(doc) // before the file says so: none may go meanwhile
	}
	d.mu.Unlock()
	switch {
	case doc == nil:
		return ErrNothingOpen
	case err != nil:
		return err
	case k == nil:
		err = layout.SaveAs(folder.Path(), doc, folder)
	default:
		err = d.write(k.place, doc, folder)
	}
	if err != nil {
		return err
	}
	d.mu.Lock()
	if d.folder == folder {
		d.saved = text
		d.keep.saved(text, d)
	}
	d.mu.Unlock()
	d.listener()
	return nil
}

// saved notes that the layout's file now holds text: the journal begins anew.
// The desk's lock is held.
func (k *keep) saved(text journal.Text, d *Desk) {
	if k == nil {
		return
	}
	k.accept()
	k.outside.Layout, k.outside.Gone = false, false
	if k.journal == nil {
		return
	}
	k.fault = ""
	if err := k.journal.Restart(text, d.text, d.system.now()); err != nil {
		k.fault = phrase.Err(err)
	}
}

// SaveAs writes the layout and its meshes to another folder, or to one packed
// file if target ends in .aftbay, and goes on from there. A layout that another
// window has open is not written over.
func (d *Desk) SaveAs(target string) error {
	d.mu.Lock()
	doc, text, old, k := d.doc, d.text, d.folder, d.keep
	d.mu.Unlock()
	if doc == nil {
		return ErrNothingOpen
	}
	if k == nil {
		return d.moveTo(target, doc, text, old, nil)
	}
	p, err := placeOf(target)
	if err != nil {
		return err
	}
	if p.file == k.file {
		return d.Save()
	}
	if !p.packed() {
		if err := os.MkdirAll(p.dir, 0o755); err != nil {
			return say.Errorf("%s: the folder can't be made: %w", target, err)
		}
	}
	next, err := d.hold(target)
	if err != nil {
		return err
	}
	if next.held != nil {
		return say.Errorf("%s: %w; save elsewhere", target, next.held)
	}
	if err := d.moveTo(target, doc, text, old, next); err != nil {
		return errors.Join(err, next.end(leave))
	}
	return nil
}

// moveTo saves a layout elsewhere and goes on from there under a new keep.
func (d *Desk) moveTo(target string, doc *layout.Document, text journal.Text, old *layout.Folder, next *keep) error {
	if err := layout.SaveAs(target, doc, old); err != nil {
		return err
	}
	_, folder, err := layout.Open(target)
	if err != nil {
		return err
	}
	d.mu.Lock()
	if d.folder != old { // another layout was opened meanwhile
		d.mu.Unlock()
		return errors.Join(next.end(leave), folder.Close())
	}
	for rel, data := range d.made { // the layout left behind does not name them
		old.Remove(rel, data)
	}
	d.folder, d.saved, d.made = folder, text, nil
	was := d.keep
	d.keep = next
	if next != nil {
		next.files.note(next.file)
		next.files.noteAll(doc, folder)
		if err := next.begin(text, nil); err != nil {
			next.fault = phrase.Err(err)
		}
		if d.unsaved() { // edited meanwhile
			d.ahead(journal.Edit, phrase.Of("edits made while saving"), d.text)
		}
	}
	d.mu.Unlock()
	d.listener()
	return errors.Join(was.end(discard), old.Close())
}

// SaveCopy writes the layout and its meshes elsewhere and stays where it is.
func (d *Desk) SaveCopy(target string) error {
	d.mu.Lock()
	doc, folder, k := d.doc, d.folder, d.keep
	d.mu.Unlock()
	if doc == nil {
		return ErrNothingOpen
	}
	if p, err := placeOf(target); k != nil && err == nil && p.file == k.file {
		return say.New("a copy belongs elsewhere: choose another place, or save")
	}
	return layout.SaveAs(target, doc, folder)
}

// Occupied returns, in words, what a save to target would write over, "" if
// nothing.
func Occupied(target string) string {
	p, err := placeOf(target)
	if err != nil {
		return ""
	}
	if _, err := os.Stat(p.file); err != nil {
		return ""
	}
	what := phrase.Of("There is a layout in ") + target + " already"
	if doc, folder, err := layout.Open(p.file); err == nil {
		what += ": " + strings.TrimSpace(doc.Title)
		_ = folder.Close() // it was only read
	}
	return what + phrase.Of(". Its file is kept as the backup.")
}
