package desk

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/journal"
	"aftbay/gui/phrase"
)

// Choice is what becomes of unsaved edits that an earlier end has left in the
// journal.
type Choice int

// What OpenToWork does with them.
const (
	Ask      Choice = iota // nothing is opened: the error is *Pending
	Recover                // they are on the desk, unsaved, and can be undone one by one
	PutAside               // they are kept aside, the layout opens as saved
	TakeUp                 // those put aside before are on the desk again
)

// Recovery is what a journal holds that the layout's file does not.
type Recovery struct {
	Path  string
	Title string
	Edits []Entry // first to last
	// Foreign says that the file was changed by something else after the
	// journal was begun: recovering brings back the layout as the journal has it.
	Foreign bool
	Torn    bool // the last record was being written and is left out
}

// Entry is one edit of a journal.
type Entry struct {
	Name string
	At   time.Time
}

// Pending means that a layout has unsaved edits in its journal, and nobody has
// said yet what becomes of them.
type Pending struct{ Recovery Recovery }

// Error returns it on one line.
func (p *Pending) Error() string { return p.Recovery.Path + ": " + p.Recovery.Sentence() }

// timeFormat is how moments are shown.
const timeFormat = "2006-01-02 15:04:05"

// Sentence says what the journal holds.
func (r *Recovery) Sentence() string {
	n := len(r.Edits)
	last := r.Edits[n-1]
	count := phrase.F("%d edits", n)
	if n == 1 {
		count = "1 edit"
	}
	return phrase.F("%s after the last save; last: %s, %s.", count, last.Name, last.At.Local().Format(timeFormat))
}

// Text says all that one should know before deciding.
func (r *Recovery) Text() string {
	text := r.Path + "\n" + r.Sentence()
	if r.Foreign {
		text += phrase.Of("\nThe file was changed by something else since. Recovering brings back the layout as you had it; the file as it is now is kept as the backup when you save.")
	}
	if r.Torn {
		text += phrase.Of("\nThe edit under way at the end is not complete and is left out.")
	}
	return text + phrase.Of("\nRecovering changes no file: the edits come back unsaved, and undo takes them back one by one. Set aside, they stay in the folder until others are set aside.")
}

// List returns the edits, the last first, one a line.
func (r *Recovery) List() string {
	var lines []string
	for _, e := range slices.Backward(r.Edits) {
		lines = append(lines, e.At.Local().Format(timeFormat)+"  "+e.Name)
	}
	return strings.Join(lines, "\n")
}

// Recoverable returns what the journal of a layout holds that its file does
// not, nil if there is nothing, or if a window has the layout open.
func Recoverable(path string) (*Recovery, error) {
	d := &Desk{system: realSystem()}
	return d.recoverable(path)
}

func (d *Desk) recoverable(path string) (*Recovery, error) {
	k, err := d.hold(path)
	if err != nil {
		return nil, err
	}
	var found *Recovery
	if k.held == nil {
		var doc *layout.Document
		var folder *layout.Folder
		if doc, folder, err = layout.Open(path); err == nil {
			found, err = d.pending(k, doc)
			err = errors.Join(err, folder.Close())
		}
	}
	return found, errors.Join(err, k.end(leave))
}

func (d *Desk) pending(k *keep, doc *layout.Document) (*Recovery, error) {
	text, err := textOf(doc)
	if err != nil {
		return nil, err
	}
	c, err := d.readJournal(k)
	if err != nil {
		return nil, err
	}
	return recoveryOf(k, doc, text, c), nil
}

// readJournal reads what an earlier end has left, nil if nothing.
func (d *Desk) readJournal(k *keep) (*journal.Content, error) {
	if k.disk == nil {
		return nil, nil
	}
	return journal.Read(k.disk, k.place.journal())
}

// recoveryOf returns what a journal holds beyond a text, nil if nothing.
func recoveryOf(k *keep, doc *layout.Document, text journal.Text, c *journal.Content) *Recovery {
	if c == nil {
		return nil
	}
	records, known := c.Unsaved(text.Bytes())
	r := &Recovery{Path: k.file, Title: doc.Title, Foreign: !known, Torn: c.Torn}
	for _, rec := range records {
		name := rec.Name
		switch rec.Kind {
		case journal.More: // of the edit before
			if n := len(r.Edits); n > 0 {
				r.Edits[n-1].At = rec.At
				continue
			}
		case journal.Undo, journal.Redo:
			name = string(rec.Kind) + " " + name
		}
		r.Edits = append(r.Edits, Entry{name, rec.At})
	}
	if len(r.Edits) == 0 || slices.Equal(journal.Lines(c.Text()), text) {
		return nil
	}
	return r
}

// OpenToWork puts a layout on the desk to change it: it is locked against other
// windows, and every edit is written to a journal ahead. One that another
// window has opens read-only. choice says what becomes of edits that an earlier
// end has left; with Ask the error is *Pending if there are any. On any error
// the desk stays as it was. It may take a second for large meshes.
func (d *Desk) OpenToWork(ctx context.Context, path string, choice Choice) error {
	k, again, err := d.holdAgain(path)
	if err != nil {
		return err
	}
	o, content, err := d.load(ctx, path, k, again, choice)
	if err != nil {
		return errors.Join(err, d.giveBack(k, again))
	}
	o.keep, o.content = k, content
	o.takenUp = choice == TakeUp
	if again {
		d.mu.Lock()
		k.claim, d.keep.claim = d.keep.claim, nil
		d.mu.Unlock()
	}
	return d.put(o)
}

// holdAgain is hold; again says that the desk has that very layout already.
func (d *Desk) holdAgain(path string) (k *keep, again bool, err error) {
	p, err := placeOf(path)
	if err != nil {
		return nil, false, err
	}
	d.mu.Lock()
	mine := d.keep
	again = mine != nil && mine.held == nil && mine.file == p.file
	if again {
		k = &keep{place: mine.place, fault: mine.fault}
	}
	d.mu.Unlock()
	if !again {
		k, err = d.hold(path)
		return k, false, err
	}
	if mine.disk != nil {
		k.disk, k.root, err = d.system.disks(k.dir)
	}
	return k, true, err
}

func (d *Desk) giveBack(k *keep, again bool) error {
	if again {
		k.claim = nil
	}
	return k.end(leave)
}

// load reads a layout with what its journal holds, as choice says. content is
// the journal to go on with, nil to begin anew.
func (d *Desk) load(ctx context.Context, path string, k *keep, again bool, choice Choice) (o opening, content *journal.Content, err error) {
	k.files.note(k.file)
	doc, folder, err := layout.Open(path) // doc as the file says
	if err != nil {
		return o, nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, folder.Close())
		}
	}()
	if o, err = openingOf(doc, folder); err != nil {
		return o, nil, err
	}
	if k.held == nil && (!again || choice == TakeUp) {
		if content, err = d.decide(k, &o, choice); err != nil {
			return o, nil, err
		}
	}
	k.files.noteAll(o.doc, folder)
	if o.scene, err = d.sceneOf(ctx, &o); err != nil {
		return o, nil, err
	}
	if o.doc != doc { // a mesh that is gone is no reason not to recover
		o.inFile, _ = scene.Build(ctx, doc, folder, o.scene, scene.Options{Workers: d.workers})
	}
	k.noteMeshes(o.doc, folder)
	return o, content, nil
}

// decide brings what a journal holds into a layout about to be opened.
func (d *Desk) decide(k *keep, o *opening, choice Choice) (*journal.Content, error) {
	if k.disk == nil {
		return nil, nil
	}
	rel := k.place.journal()
	if choice == TakeUp {
		rel = journal.AsideName(rel)
	}
	c, err := journal.Read(k.disk, rel)
	if err != nil && choice != TakeUp {
		k.unreadable(rel, err)
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	r := recoveryOf(k, o.doc, o.text, c)
	switch {
	case choice == TakeUp && r == nil:
		return nil, say.New("no edits are set aside that the layout does not hold")
	case r == nil && c != nil: // all of it is in the file
		return nil, journal.Remove(k.disk, rel)
	case r == nil:
		return nil, nil
	case choice == Ask:
		return nil, &Pending{*r}
	case choice == PutAside:
		return nil, journal.SetAside(k.disk, rel)
	}
	if o.doc, err = layout.Decode(c.Text(), rel); err != nil {
		return nil, err
	}
	o.text, o.history = journal.Lines(c.Text()), c.History
	return c, nil
}

// unreadable sets a journal aside that can't be read, so that the layout can be
// worked on; where even that fails no other is written over it.
func (k *keep) unreadable(rel string, why error) {
	if err := journal.SetAside(k.disk, rel); err != nil {
		k.fault, k.disk = phrase.Err(errors.Join(why, err)), nil
		return
	}
	k.told = phrase.Of("Unsaved edits that an earlier end has left can't be read and are kept as ") + journal.AsideName(rel) + ": " + phrase.Err(why) + "."
}
