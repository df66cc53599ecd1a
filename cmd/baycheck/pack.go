package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"aftbay/geom/clearance"
	"aftbay/gui/desk"
)

// packed is the JSON of report: what was written and the verdicts in it.
type packed struct {
	Files []string  `json:"files"`
	Tiles []tileOut `json:"tiles"`
}

type tileOut struct {
	Question string `json:"question"`
	Answer   string `json:"answer"`
	Verdict  string `json:"verdict"`
}

// packGarbage is how much garbage may stand beside what is in use, in percent,
// before it is collected: a fifth of Go's habit. Pictures come and go by the dozen
// megabytes here; measured on the demo, less memory costs 4 % of the time.
const packGarbage = 20

func packs(ctx context.Context, c *call) (bool, error) {
	o := desk.PacketOptions{Revision: c.revision, Letter: c.paper == "letter"}
	var err error
	if c.date != "" {
		if o.Date, err = time.Parse(time.DateOnly, c.date); err != nil {
			return false, err
		}
	}
	defer debug.SetGCPercent(debug.SetGCPercent(packGarbage))
	d := desk.New(c.workers, nil)
	defer d.Close()
	start := time.Now()
	if err := d.Open(ctx, c.path); err != nil {
		return false, err
	}
	if c.drop.mapped {
		d.WantMap()
	}
	old := c.against
	if c.since != "" {
		if old, err = desk.RevisionPath(c.path, c.since); err != nil {
			return false, err
		}
	}
	if old != "" {
		if err := d.CompareWith(ctx, old, nil); err != nil {
			return false, err
		}
	}
	c.readTook = time.Since(start)
	start = time.Now()
	files, err := d.Packet(ctx, c.out, o)
	if err != nil {
		return false, err
	}
	c.solveTook = time.Since(start)
	s := d.State()
	if err := errors.Join(s.Answers.Fit.Err, s.Answers.Heat.Err); err != nil {
		return false, err
	}
	out, t := packed{Files: files}, desk.Table{Title: c.out}
	for _, tile := range s.Tiles {
		out.Tiles = append(out.Tiles, tileOut{tile.Question, tile.Answer, tile.Verdict})
		t.Foot = append(t.Foot, fmt.Sprintf("%-26s %-8s %s", tile.Question, tile.Verdict, tile.Answer))
	}
	fails := false
	for _, tile := range s.Tiles {
		fails = fails || clearance.Fails(tile.Verdict) || tile.Verdict == "over"
	}
	return fails, c.give(out, t)
}
