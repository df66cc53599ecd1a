package desk

import (
	"aftbay/geom/compare"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// State is all that a window shows, at one moment. It is read-only.
type State struct {
	Open    bool
	Coming  *Coming // the layout on its way, nil for none
	Title   string
	Path    string
	Unsaved bool
	Undo    string // name of the edit that Undo takes back, "" for none
	Redo    string
	Doc     *layout.Document
	Scene   *scene.Scene // as shown, with the previewed drop
	DropMM  float64      // previewed
	ShiftMM float64      // previewed fore-aft shift of the drop group
	Range   layout.Range // of the drop slider, mm; equal without a drop study
	Answers Answers
	Trial   *layout.Shield // on trial, nil for none
	Against *compare.Side  // what it is compared with, nil before the first answer
	Tiles   [6]Tile
	Status  string // what stops us most, in a sentence

	// ReadOnly says that another window has the layout; Notice what one must
	// know about its files.
	ReadOnly bool
	Notice   Notice
}

// State returns what to show now.
func (d *Desk) State() State {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil {
		return d.comingState()
	}
	s := State{
		Open: true, Coming: d.coming, Title: d.doc.Title, Path: d.folder.Path(), Unsaved: d.unsaved(),
		Doc: d.doc, Scene: d.shown, DropMM: d.at.DropMM, ShiftMM: d.at.ShiftMM, Answers: d.answers, Trial: d.trial, Against: d.against(),
	}
	s.ReadOnly, s.Notice = d.keep.refuses() != nil, d.keep.notice()
	if n := len(d.history.Past); n > 0 {
		s.Undo = d.history.Past[n-1].Name
	}
	if n := len(d.history.Future); n > 0 {
		s.Redo = d.history.Future[n-1].Name
	}
	if d.doc.Drop != nil {
		s.Range = d.doc.Drop.RangeMM
	}
	s.Tiles = tiles(&s)
	s.Status = status(&s)
	return s
}
