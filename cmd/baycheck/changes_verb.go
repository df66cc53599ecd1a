package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
	"aftbay/thermal/outcome"
)

// changed compares two layouts, or a layout with one of its revisions. Both are
// answered from nothing, so that equal figures prove that nothing crept in.
func changed(ctx context.Context, c *call) (bool, error) {
	paths := c.paths
	switch {
	case c.since == "" && len(paths) != 2:
		return false, fmt.Errorf("changes takes two layouts, or one with --since REVISION, not %d: baycheck changes OLD NEW", len(paths))
	case c.since != "" && len(paths) != 1:
		return false, fmt.Errorf("changes --since %s takes one layout, not %d: the other is its revision", c.since, len(paths))
	case c.since != "":
		path, err := desk.RevisionPath(paths[0], c.since)
		if err != nil {
			return false, err
		}
		paths = []string{path, paths[0]}
	}
	var sides [2]compare.Side
	asked, err := c.askedQuestions()
	if err != nil {
		return false, err
	}
	var others [2]outcome.Side
	for i, path := range paths {
		if sides[i], others[i], err = c.side(ctx, path, asked); err != nil {
			return false, err
		}
	}
	if sides[0].Name == sides[1].Name { // two folders of one name
		sides[0].Name, sides[1].Name = paths[0], paths[1]
	}
	start := time.Now()
	r, err := compare.Run(ctx, sides[0], sides[1], compare.Options{ThresholdMM: c.worseMM})
	c.solveTook += time.Since(start)
	if err != nil {
		return false, err
	}
	o := outcome.Compare(others[0], others[1], c.worseK)
	out := changedAll{Result: r, Drop: o.Drop, Sight: o.Sight, Heat: o.Heat, Questions: compared(o, slices.Contains(c.questions, questionFit))}
	tables := append(desk.ChangesTables(r), desk.OutcomeTables(o)...)
	last := &tables[len(tables)-1]
	last.Foot = append(last.Foot, say.English(o.Sentences())...)
	last.Foot = append(last.Foot, out.gate())
	return out.fails(), c.give(out, tables...)
}

// The questions that changes compares, named as their verbs.
const questionFit, questionDrop, questionSight, questionHeat = "clearance", "drop", "rear-view", "heat"

// changedAll is the JSON of changes.
type changedAll struct {
	*compare.Result
	Drop  *outcome.Drop  `json:"drop"`
	Sight *outcome.Sight `json:"rear_view"`
	Heat  *outcome.Heat  `json:"heat"`
	// Questions are those that were compared, and that the exit counts.
	Questions []string `json:"questions"`
}

func (a *changedAll) fails() bool { return len(a.failing()) > 0 }

// failing names the questions that are new or worse.
func (a *changedAll) failing() []string {
	var out []string
	if slices.Contains(a.Questions, questionFit) && a.Result.Fails() {
		out = append(out, questionFit)
	}
	return append(out, (&outcome.Result{Drop: a.Drop, Sight: a.Sight, Heat: a.Heat}).Failing()...)
}

// gate says what the exit rests on.
func (a *changedAll) gate() string {
	words := "Compared: " + strings.Join(a.Questions, ", ") + "; "
	if list := a.failing(); len(list) > 0 {
		return words + "new or worse: " + strings.Join(list, ", ") + "."
	}
	return words + "none is new or worse."
}

// compared names the questions that both states answer.
func compared(o *outcome.Result, fit bool) []string {
	out := []string{}
	for _, q := range []struct {
		name string
		is   bool
	}{{questionFit, fit}, {questionDrop, o.Drop != nil}, {questionSight, o.Sight != nil}, {questionHeat, o.Heat != nil}} {
		if q.is {
			out = append(out, q.name)
		}
	}
	return out
}

// askedQuestions reads --questions; without it all are asked.
func (c *call) askedQuestions() (desk.Asked, error) {
	all := []string{questionFit, questionDrop, questionSight, questionHeat}
	c.questions = all
	if c.ask != "" {
		c.questions = strings.Split(c.ask, ",")
	}
	for _, q := range c.questions {
		if !slices.Contains(all, q) {
			return desk.Asked{}, fmt.Errorf("--questions %q: give some of %s, with commas between", c.ask, strings.Join(all, ","))
		}
	}
	has := func(q string) bool { return slices.Contains(c.questions, q) }
	return desk.Asked{Drop: has(questionDrop), Sight: has(questionSight), Heat: has(questionHeat)}, nil
}

// side reads one state and answers what is asked.
func (c *call) side(ctx context.Context, path string, asked desk.Asked) (compare.Side, outcome.Side, error) {
	start := time.Now()
	doc, folder, name, err := desk.OpenState(path)
	if err != nil {
		return compare.Side{}, outcome.Side{}, err
	}
	c.readTook += time.Since(start)
	side, err := c.answered(ctx, doc, folder)
	side.Name = name
	var other outcome.Side
	if err == nil {
		start = time.Now()
		other, err = desk.AnswersOf(ctx, side.Scene, asked, c.workers, c.progress("drop, rear view, heat"))
		c.solveTook += time.Since(start)
	}
	if err = errors.Join(err, folder.Close()); err != nil {
		return side, other, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return side, other, nil
}

func (c *call) answered(ctx context.Context, doc *layout.Document, folder *layout.Folder) (side compare.Side, err error) {
	start := time.Now()
	if side.Scene, err = scene.Build(ctx, doc, folder, nil, scene.Options{Workers: c.workers}); err != nil {
		return side, err
	}
	c.buildTook += time.Since(start)
	start = time.Now()
	side.Fit, err = clearance.Run(ctx, side.Scene, clearance.Options{Workers: c.workers}, c.progress("clearance"))
	c.solveTook += time.Since(start)
	return side, err
}
