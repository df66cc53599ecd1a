package desk

import (
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/journal"
)

// anEdit says how an edit is named and counted.
type anEdit struct {
	name  string
	joins bool  // the edit before: one undo takes back both
	after Stand // previewed from then on
}

// Edit changes the document under a name that undo shows. change gets a copy;
// when it fails, or the result does not pass the checks of the file format, the
// desk stays as it was and the error says why. The edit is in the journal
// before the desk shows it. One that changes nothing leaves no trace.
func (d *Desk) Edit(name string, change func(doc *layout.Document) error) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.edit(anEdit{name: name, after: d.at}, change)
}

// edit is Edit with the lock held.
func (d *Desk) edit(e anEdit, change func(doc *layout.Document) error) error {
	if d.doc == nil {
		return ErrNothingOpen
	}
	if err := d.keep.refuses(); err != nil {
		return say.Errorf("%s: %w", e.name, err)
	}
	next, err := copyOf(d.doc)
	if err != nil {
		return err
	}
	if err := change(next); err != nil {
		d.takeBack(d.doc)
		return say.Errorf("%s: %w", e.name, err)
	}
	text, err := textOf(next)
	if err != nil {
		return say.Errorf("%s: %w", e.name, err)
	}
	if slices.Equal(text, d.text) && e.after == d.at {
		return nil
	}
	f, err := d.prepare(text, e.after)
	if err != nil {
		d.takeBack(d.doc)
		return say.Errorf("%s: %w", e.name, err)
	}
	if e.joins {
		d.ahead(journal.More, e.name, text)
		d.history.Join(e.name, d.text, text)
	} else {
		d.ahead(journal.Edit, e.name, text)
		d.history.Do(e.name, d.text, text)
	}
	d.become(f)
	return nil
}

// Undo takes the last edit back; Redo does it again. Without one they do nothing.
func (d *Desk) Undo() error {
	return d.travel(journal.Undo, func() bool { return len(d.history.Past) > 0 }, d.history.Undone, d.history.TakeBack)
}

// Redo does the last undone edit again.
func (d *Desk) Redo() error {
	return d.travel(journal.Redo, func() bool { return len(d.history.Future) > 0 }, d.history.Redone, d.history.DoAgain)
}

func (d *Desk) travel(kind journal.Kind, can func() bool, look func(now journal.Text) (journal.Text, string, error), step func()) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil || !can() {
		return nil
	}
	if err := d.keep.refuses(); err != nil {
		return err
	}
	text, name, err := look(d.text)
	if err != nil {
		return say.Errorf("%s: %w", name, err)
	}
	f, err := d.prepare(text, d.at)
	if err != nil {
		return say.Errorf("%s: %w", name, err)
	}
	d.ahead(kind, name, text)
	step()
	d.become(f)
	return nil
}

// form is a document that has passed all checks and is ready to be shown.
type form struct {
	doc         *layout.Document
	text        journal.Text
	base, shown *scene.Scene
	at          Stand
}

// prepare checks a text and builds its scenes; the lock is held.
func (d *Desk) prepare(text journal.Text, at Stand) (form, error) {
	f := form{text: text, at: at}
	var err error
	if f.doc, err = layout.Decode(text.Bytes(), ""); err != nil {
		return f, err
	}
	if err := d.makeAgain(f.doc); err != nil {
		return f, err
	}
	if at == d.at && d.sameButNotes(f.doc) {
		f.base, f.shown = d.base, d.shown
		return f, nil
	}
	if f.base, err = d.build(f.doc); err != nil {
		return f, err
	}
	f.shown, err = d.standing(f.doc, f.base, at)
	return f, err
}

// become shows another form of the document; the lock is held. The listener is
// told once the lock is free.
func (d *Desk) become(f form) {
	same := f.base == d.base && f.shown == d.shown
	d.held = nil // put down, or dropped by another edit
	d.doc, d.text, d.base, d.shown, d.at = f.doc, f.text, f.base, f.shown, f.at
	d.takeBack(d.doc)
	if !same {
		d.stale()
	}
	go d.listener()
}

// sameButNotes reports whether a document differs from the one at hand in its
// decisions and measurements at most: they change no answer. The lock is held.
func (d *Desk) sameButNotes(doc *layout.Document) bool {
	was, is := *d.doc, *doc
	was.Decisions, is.Decisions = nil, nil
	was.Measurements, is.Measurements = nil, nil
	a, errA := textOf(&was)
	b, errB := textOf(&is)
	return errA == nil && errB == nil && slices.Equal(a, b)
}

// textOf returns a document as its file would be, by lines.
func textOf(doc *layout.Document) (journal.Text, error) {
	data, err := layout.Encode(doc)
	if err != nil {
		return nil, err
	}
	return journal.Lines(data), nil
}

// unsaved reports whether the document differs from its file; the lock is held.
func (d *Desk) unsaved() bool { return d.doc != nil && !slices.Equal(d.text, d.saved) }
