package desk

import (
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// State is all that a window shows, at one moment. It is read-only.
type State struct {
	Open    bool
	Title   string
	Path    string
	Unsaved bool
	Undo    string // name of the edit that Undo takes back, "" for none
	Redo    string
	Doc     *layout.Document
	Scene   *scene.Scene // as shown, with the previewed drop
	DropMM  float64      // previewed
	Range   layout.Range // of the drop slider, mm; equal without a drop study
	Answers Answers
	Trial   *layout.Shield    // on trial, nil for none
	Opened  *clearance.Result // first answer after opening
	Tiles   [6]Tile
	Status  string // what stops us most, in a sentence
}

// State returns what to show now.
func (d *Desk) State() State {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil {
		return State{Status: "Open a layout folder, or the demo, to start.", Tiles: emptyTiles()}
	}
	s := State{
		Open: true, Title: d.doc.Title, Path: d.folder.Path(), Unsaved: d.doc != d.saved,
		Doc: d.doc, Scene: d.shown, DropMM: d.dropMM, Answers: d.answers, Trial: d.trial, Opened: d.opened,
	}
	if n := len(d.past); n > 0 {
		s.Undo = d.past[n-1].name
	}
	if n := len(d.future); n > 0 {
		s.Redo = d.future[n-1].name
	}
	if d.doc.Drop != nil {
		s.Range = d.doc.Drop.RangeMM
	}
	s.Tiles = tiles(&s)
	s.Status = status(&s)
	return s
}
