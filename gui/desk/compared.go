package desk

import (
	"context"
	"errors"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// asOpened is what the first answer after opening is called.
const asOpened = "opening"

// against returns what the present state is compared with, nil before the first
// answer; the lock is held.
func (d *Desk) against() *compare.Side {
	if d.chosen != nil {
		return d.chosen
	}
	return d.opened
}

// noteOpened keeps the first answer after opening; the lock is held. Recovered
// edits count as changes: the layout as its file says is answered by asInFile.
func (d *Desk) noteOpened() {
	if d.inFile != nil {
		return
	}
	if fit := &d.answers.Fit; d.opened == nil && fit.Fresh && fit.Value != nil {
		d.opened = &compare.Side{Name: asOpened, Scene: fit.scene, Fit: fit.Value}
	}
}

// wantsChanges reports whether the present state is still to be compared; the
// lock is held.
func (d *Desk) wantsChanges() bool {
	a := &d.answers
	return a.Changes.pending() && a.Fit.Fresh && a.Fit.Value != nil
}

// changesTask compares the present state; the lock is held.
func (d *Desk) changesTask() task {
	d.noteOpened()
	old, inFile, fit := d.against(), d.inFile, &d.answers.Fit
	now := compare.Side{Name: "now", Scene: fit.scene, Fit: fit.Value}
	return newTask(d, &d.answers.Changes, d.shown, false, func(ctx context.Context, _ geom.Progress) (*compare.Result, error) {
		if old == nil {
			side, err := d.asInFile(ctx, inFile, now.Fit)
			if err != nil {
				return nil, err
			}
			return compare.Run(ctx, *side, now, compare.Options{})
		}
		return compare.Run(ctx, *old, now, compare.Options{})
	}, sayChanges)
}

// asInFile answers for the layout as its file said at opening, and keeps that
// as what to compare with. What the recovered edits left alone is taken from
// the present answer.
func (d *Desk) asInFile(ctx context.Context, inFile *scene.Scene, now *clearance.Result) (*compare.Side, error) {
	fit, err := clearance.Run(ctx, inFile, clearance.Options{Workers: d.workers, Prev: now}, nil)
	if err != nil {
		return nil, err
	}
	side := &compare.Side{Name: asOpened, Scene: inFile, Fit: fit}
	d.mu.Lock()
	if d.inFile == inFile { // no other layout was opened meanwhile
		d.opened, d.inFile = side, nil
	}
	d.mu.Unlock()
	return side, nil
}

// sayChanges says in a line what changed.
func sayChanges(r *compare.Result) []said {
	f, p := &r.Findings, &r.Parts
	verdict := clearance.OK
	if len(f.New) > 0 {
		verdict = clearance.Short
	} else if len(f.Worse) > 0 {
		verdict = clearance.Close
	}
	since := "since " + r.Old
	switch {
	case r.Nothing():
		return []said{{phrase.Of("nothing changed ") + since, verdict}}
	case len(f.New)+len(f.Cured)+len(f.Worse)+len(f.Better) == 0:
		return []said{{phrase.F("%s: no finding changed; parts %d added, %d removed, %d moved, %d reshaped",
			since, len(p.Added), len(p.Removed), len(p.Moved), len(p.Reshaped)), verdict}}
	}
	line := phrase.F("%s: %d new, %d cured, %d worse, %d better", since, len(f.New), len(f.Cured), len(f.Worse), len(f.Better))
	if len(f.New) > 0 {
		line += phrase.F("; first %s to %s", f.New[0].A, f.New[0].B)
	}
	return []said{{line, verdict}}
}

// CompareWith compares the layout from now on with another one, or with a
// revision where path is its folder. It may take seconds: do not call it where
// input is handled. progress, which may be nil, is told of its meshes and then of
// its clearances, each from the start. Cancelled, what it is compared with stays.
func (d *Desk) CompareWith(ctx context.Context, path string, progress geom.Progress) error {
	d.mu.Lock()
	prev, open := d.base, d.doc != nil
	d.mu.Unlock()
	if !open {
		return ErrNothingOpen
	}
	doc, folder, name, err := OpenState(path)
	if err != nil {
		return err
	}
	side := &compare.Side{Name: name}
	side.Scene, err = scene.Build(ctx, doc, folder, prev, scene.Options{Workers: d.workers, Progress: progress})
	if err = errors.Join(err, folder.Close()); err != nil {
		return say.Errorf("compare with %s: %w", name, err)
	}
	if side.Fit, err = clearance.Run(ctx, side.Scene, clearance.Options{Workers: d.workers}, progress); err != nil {
		return say.Errorf("compare with %s: %w", name, err)
	}
	d.compareWith(side)
	return nil
}

// CompareWithOpening compares with the layout as it was opened again.
func (d *Desk) CompareWithOpening() { d.compareWith(nil) }

func (d *Desk) compareWith(side *compare.Side) {
	d.mu.Lock()
	d.chosen = side
	if (d.answers.Changes.Job.Running || d.answers.Outcomes.Job.Running) && d.stopJob != nil {
		d.stopJob() // it compares with what was chosen before
	}
	d.answers.Changes.lapse()
	d.answers.Outcomes.lapse()
	d.wakeUp()
	d.mu.Unlock()
	d.listener()
}
