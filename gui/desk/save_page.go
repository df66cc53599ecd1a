package desk

import (
	"aftbay/geom/layout"
)

// Save writes the layout to where it was opened from. A previewed drop is not
// part of it.
func (d *Desk) Save() error {
	d.mu.Lock()
	doc, folder := d.doc, d.folder
	d.mu.Unlock()
	if doc == nil {
		return ErrNothingOpen
	}
	if err := layout.SaveAs(folder.Path(), doc, folder); err != nil {
		return err
	}
	d.mu.Lock()
	if d.folder == folder {
		d.saved = doc
	}
	d.mu.Unlock()
	d.listener()
	return nil
}

// SaveAs writes the layout and its meshes to another folder, or to one packed
// file if target ends in .aftbay, and goes on from there.
func (d *Desk) SaveAs(target string) error {
	d.mu.Lock()
	doc, old := d.doc, d.folder
	d.mu.Unlock()
	if doc == nil {
		return ErrNothingOpen
	}
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
		return folder.Close()
	}
	d.folder, d.saved = folder, doc
	d.mu.Unlock()
	d.listener()
	return old.Close()
}

// SaveCopy writes the layout and its meshes elsewhere and stays where it is.
func (d *Desk) SaveCopy(target string) error {
	d.mu.Lock()
	doc, folder := d.doc, d.folder
	d.mu.Unlock()
	if doc == nil {
		return ErrNothingOpen
	}
	return layout.SaveAs(target, doc, folder)
}
