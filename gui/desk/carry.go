package desk

import (
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// Load is what a hand takes along: some parts, or the whole group of the first.
type Load struct {
	Parts []string
	Group string // "" for the parts alone
}

// LoadOf returns what goes along with the selected parts: with whole set the
// group of the first, if it has one.
func LoadOf(s *State, parts []string, whole bool) Load {
	l := Load{Parts: parts}
	if !whole || s.Scene == nil || len(parts) == 0 {
		return l
	}
	if i, ok := s.Scene.Index(parts[0]); ok {
		l.Group = s.Scene.Parts[i].Group
	}
	return l
}

// text names what is carried.
func (l Load) text() string {
	switch {
	case l.Group != "":
		return "group " + l.Group
	case len(l.Parts) > 1:
		return phrase.F("%s and %d more", l.Parts[0], len(l.Parts)-1)
	case len(l.Parts) == 1:
		return l.Parts[0]
	}
	return ""
}

// put moves it in a document.
func (l Load) put(doc *layout.Document, by geom.Pose) error {
	if l.Group != "" {
		return movementOf(by).group(doc, l.Group)
	}
	return movementOf(by).parts(doc, l.Parts)
}

// carried is what is shown elsewhere while a hand holds it.
type carried struct {
	load Load
	by   geom.Pose
}

// Carry shows parts or a group moved in vehicle axes from where the layout has
// them: what a drag does. The answers follow, the layout stays as it is until
// PutDown makes one edit of it or LetGo takes it back.
func (d *Desk) Carry(l Load, by geom.Pose) error {
	d.mu.Lock()
	err := d.carry(l, by)
	d.mu.Unlock()
	d.listener()
	return err
}

func (d *Desk) carry(l Load, by geom.Pose) error {
	if d.doc == nil {
		return ErrNothingOpen
	}
	if err := d.keep.refuses(); err != nil {
		return say.Errorf("move %s: %w", l.text(), err)
	}
	next := movable(d.doc)
	if err := l.put(next, by); err != nil {
		return say.Errorf("move %s: %w", l.text(), err)
	}
	base, err := d.build(next) // against d.base: only what is held differs
	if err != nil {
		return err
	}
	shown, err := d.standing(next, base, d.at)
	if err != nil {
		return err
	}
	d.held, d.shown, d.touched = &carried{l, by}, shown, time.Now()
	d.stalePose()
	return nil
}

// PutDown makes one edit of what is carried.
func (d *Desk) PutDown() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	held := d.held
	if held == nil {
		return nil
	}
	err := d.edit(anEdit{name: "move " + held.load.text(), after: d.at}, func(doc *layout.Document) error {
		return held.load.put(doc, held.by)
	})
	if d.held != nil { // refused, or back where it was
		d.letGo()
	}
	return err
}

// LetGo shows what is carried where the layout has it.
func (d *Desk) LetGo() {
	d.mu.Lock()
	d.letGo()
	d.mu.Unlock()
	d.listener()
}

func (d *Desk) letGo() {
	if d.held == nil {
		return
	}
	d.held = nil
	shown, err := d.standing(d.doc, d.base, d.at)
	if err != nil {
		shown = d.base // it was shown before
	}
	d.shown = shown
	d.stalePose()
}
