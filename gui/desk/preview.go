package desk

import (
	"context"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Stand is where the drop group is previewed: how far down and how far
// rearward from where the layout has it.
type Stand struct{ DropMM, ShiftMM float64 }

// By returns the shift of the group.
func (p Stand) By() geom.Vec { return geom.Vec{p.ShiftMM, 0, -p.DropMM} }

// PreviewDrop shows the drop group lowered by dropMM without changing the
// document: what the slider does. A fore-aft shift stays.
func (d *Desk) PreviewDrop(dropMM float64) error {
	d.mu.Lock()
	at := d.at
	d.mu.Unlock()
	at.DropMM = dropMM
	return d.PreviewStand(at)
}

// PreviewStand shows the drop group somewhere else without changing the
// document: what a place picked on the map does.
func (d *Desk) PreviewStand(at Stand) error {
	d.mu.Lock()
	if d.doc == nil || d.doc.Drop == nil || at == d.at {
		d.mu.Unlock()
		return nil
	}
	shown, err := d.standing(d.doc, d.base, at)
	if err == nil {
		d.at, d.touched, d.shown = at, time.Now(), shown
		d.stalePose()
	}
	d.mu.Unlock()
	d.listener()
	return err
}

// standing returns the scene of the document with its drop group elsewhere: the
// same that KeepDrop would leave, so that a preview and the edit agree.
func (d *Desk) standing(doc *layout.Document, base *scene.Scene, at Stand) (*scene.Scene, error) {
	if at == (Stand{}) || doc.Drop == nil {
		return base, nil
	}
	next := movable(doc)
	if err := shiftGroup(next, doc.Drop.Group, at.By()); err != nil {
		return nil, err
	}
	return scene.Build(context.Background(), next, d.folder, base, scene.Options{Workers: d.workers, Kept: true})
}

// KeepDrop makes the previewed place an edit.
func (d *Desk) KeepDrop() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil || d.at == (Stand{}) {
		return nil
	}
	at := d.at
	return d.edit(anEdit{name: standText(at)}, func(doc *layout.Document) error {
		return shiftGroup(doc, doc.Drop.Group, at.By())
	})
}

// standText names a place as an edit.
func standText(at Stand) string {
	switch {
	case at.ShiftMM == 0:
		return phrase.Of("lower by ") + units.FormatMM(at.DropMM)
	case at.DropMM == 0:
		return "shift " + asideText(at.ShiftMM)
	}
	return phrase.Of("lower by ") + units.FormatMM(at.DropMM) + ", " + asideText(at.ShiftMM)
}

// asideText says how far and which way something is shifted.
func asideText(mm float64) string {
	if mm < 0 {
		return units.FormatMM(-mm) + " forward"
	}
	return units.FormatMM(mm) + " rearward"
}
