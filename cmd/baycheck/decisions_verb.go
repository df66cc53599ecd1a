package main

import (
	"context"
	"errors"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// decided is the JSON of decisions.
type decided struct {
	Open  []openOut         `json:"open"`
	All   []layout.Decision `json:"decisions"`
	Taken int               `json:"taken"`
}

// openOut is an open item with what became of its finding.
type openOut struct {
	layout.Decision
	ClearanceMM *float64 `json:"clearance_mm"`
	Verdict     string   `json:"verdict"` // empty: it has none here, see today
	Today       string   `json:"today"`   // what its own question says, or why it says nothing
}

// decides lists the decisions, the open ones with their figures of today; with
// --take it first puts those of a filled-in table into the layout file.
func decides(ctx context.Context, c *call) (bool, error) {
	doc, folder, err := layout.Open(c.path)
	if err != nil {
		return false, err
	}
	defer folder.Close()
	out := decided{Open: []openOut{}}
	if c.take != "" {
		list, err := desk.ReadDecisions(c.take)
		if err != nil {
			return false, err
		}
		desk.SettleAll(doc, list, c.date)
		out.Taken = len(list)
	}
	out.All = doc.Decisions
	s, err := scene.Build(ctx, doc, folder, nil, scene.Options{Workers: c.workers})
	if err != nil {
		return false, err
	}
	r, err := clearance.Run(ctx, s, clearance.Options{Workers: c.workers}, c.progress("clearance"))
	if err != nil {
		return false, err
	}
	state := &desk.State{Doc: doc, Scene: s}
	state.Answers.Fit.Value = r
	for _, item := range desk.OpenItems(state) {
		o := openOut{Decision: item.Decision, Verdict: item.Verdict, Today: item.Now}
		if item.Pair != nil {
			o.ClearanceMM = &item.Pair.ClearanceMM
		}
		out.Open = append(out.Open, o)
	}
	if c.take != "" {
		if err := errors.Join(layout.Check(doc), saved(doc, folder)); err != nil {
			return false, err
		}
	}
	return false, c.give(out, desk.OpenTable(state))
}

// saved puts a document in the place of the one that was read.
func saved(doc *layout.Document, folder *layout.Folder) error {
	if folder.Packed() {
		return layout.SaveAs(folder.Path(), doc, folder)
	}
	return layout.Save(folder.Path(), doc)
}
