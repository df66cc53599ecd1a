package desk

import (
	"errors"
	"io"
	"path/filepath"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/claim"
	"aftbay/gui/journal"
	"aftbay/gui/phrase"
)

// keep is what guards a layout that is worked on: the lock, the journal, and
// what is known of its files. nil guards nothing.
type keep struct {
	place
	claim   *claim.Claim // nil if another has it, or nothing could be locked
	held    *claim.Held  // who has it: the layout is read-only; nil if it is not
	disk    disk.Disk    // of the place's folder; nil if it can't be used
	root    io.Closer
	journal *journal.Journal // nil for a read-only layout
	fault   string           // why edits are not journaled, "" if they are
	told    string           // something to know, once
	meshes  []string         // changed since the layout was saved, in words

	files   files
	outside Outside
}

// ErrReadOnly means that a layout is open in another window, so that nothing
// can be changed in this one.
var ErrReadOnly = say.New("the layout is read-only here")

// refuses returns why the layout can't be changed, nil if it can.
func (k *keep) refuses() error {
	if k == nil || k.held == nil {
		return nil
	}
	return say.Errorf("%w: it is %w; save a copy to go on with", ErrReadOnly, k.held)
}

// hold claims a layout and opens the place of its journal. That another has it,
// or that nothing can be written there, is no error: see refuses and fault.
func (d *Desk) hold(path string) (*keep, error) {
	p, err := placeOf(path)
	if err != nil {
		return nil, err
	}
	k := &keep{place: p}
	if k.claim, err = claim.Take(p.dir, p.lock(), d.system.now()); errors.As(err, &k.held) {
		return k, nil
	}
	if err != nil { // not here: in the user's own state
		if k.place, err = p.elsewhere(d.system.stateDir); err != nil {
			k.place, k.fault = p, phrase.Err(err)
			return k, nil
		}
		k.claim, err = claim.Take(k.dir, k.lock(), d.system.now())
		if errors.As(err, &k.held) {
			return k, nil
		}
		if err != nil {
			k.fault = phrase.Err(err)
			return k, nil
		}
	}
	if k.disk, k.root, err = d.system.disks(k.dir); err != nil {
		k.fault = phrase.Err(err)
		return k, nil
	}
	k.tidy()
	return k, nil
}

// tidy removes what a crash has left half written. Where it can't, nothing but
// the room is lost.
func (k *keep) tidy() {
	file := filepath.Base(k.file)
	_ = disk.Tidy(k.disk, file, file+layout.BackupExt, layout.MeshesName, k.place.journal())
}

// begin makes the journal of a layout that is saved as text; content, if there
// is one, stands in it already.
func (k *keep) begin(saved journal.Text, content *journal.Content) error {
	if k == nil || k.held != nil || k.disk == nil {
		return nil
	}
	k.journal = journal.New(k.disk, k.place.journal(), saved)
	if content == nil {
		return nil
	}
	return k.journal.Resume(content)
}

// ahead writes the next form of the text into the journal; the lock is held. A
// failure is told and does not stop the work.
func (d *Desk) ahead(kind journal.Kind, name string, text journal.Text) {
	k := d.keep
	if k == nil || k.journal == nil {
		return
	}
	k.fault = ""
	if err := k.journal.Add(kind, name, d.system.now(), text); err != nil {
		k.fault = phrase.Err(err)
	}
}

// fate is what becomes of a journal at the end.
type fate int

const (
	leave   fate = iota // for the next start
	aside               // kept under another name
	discard             // of no use: all is saved
)

// end lets go of everything.
func (k *keep) end(stays fate) error {
	if k == nil {
		return nil
	}
	var err error
	if k.journal != nil {
		switch stays {
		case aside:
			err = k.journal.SetAside()
		case discard:
			err = errors.Join(k.journal.Close(), journal.Remove(k.disk, k.place.journal()))
		default:
			err = k.journal.Close()
		}
	}
	if k.root != nil {
		err = errors.Join(err, k.root.Close())
	}
	if k.claim != nil {
		err = errors.Join(err, k.claim.Release())
	}
	return err
}

// SetAside gives up the unsaved edits in the journal: they are kept under
// another name, in the place of ones kept before. What is on the desk stays.
func (d *Desk) SetAside() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.keep == nil || d.keep.journal == nil {
		return nil
	}
	return d.keep.journal.SetAside()
}

// Journaled reports whether every unsaved edit is in the journal on the disk.
func (d *Desk) Journaled() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.keep != nil && d.keep.journal != nil && d.keep.fault == ""
}

// write saves a document into its own folder through the desk's disk, or as a
// packed file.
func (d *Desk) write(p place, doc *layout.Document, folder *layout.Folder) error {
	if p.packed() {
		return layout.SaveAs(p.file, doc, folder)
	}
	on, root, err := d.system.disks(folder.Path())
	if err != nil {
		return err
	}
	return errors.Join(layout.SaveInPlace(on, doc, folder), root.Close())
}
