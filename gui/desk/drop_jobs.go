package desk

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/drop"
)

// Swaps are the drop studies of the layout as it is and with each of its
// alternatives.
type Swaps struct{ Rows []drop.Swap }

// wantsSwaps reports whether alternatives are still to be studied; the lock is
// held.
func (d *Desk) wantsSwaps() bool {
	a := &d.answers
	return a.Swaps.pending() && a.Drop.Fresh && len(drop.Alternatives(d.doc)) > 0
}

// swapsTask studies the alternatives; the lock is held.
func (d *Desk) swapsTask() task {
	base, folder, present := d.base, d.folder, d.answers.Drop.Value
	return newTask(d, &d.answers.Swaps, base, false, func(ctx context.Context, p geom.Progress) (*Swaps, error) {
		rows, err := drop.Swaps(ctx, present, base, folder, drop.Alternatives(base.Doc), DropOptions(d.workers), p)
		return &Swaps{rows}, err
	}, func(*Swaps) []said { return nil })
}

// WantMap asks for the map of drop against fore-aft shift, before all that is
// not asked for by hand. An edit ends the wish.
func (d *Desk) WantMap() {
	d.mu.Lock()
	d.mapped = d.doc != nil && d.doc.Drop != nil
	d.wakeUp()
	d.mu.Unlock()
	d.listener()
}

// StopMap gives a map in the making up; what there is of it stays in sight.
func (d *Desk) StopMap() {
	d.mu.Lock()
	d.mapped = false
	if d.answers.Map.Job.Running && d.stopJob != nil {
		d.stopJob()
	}
	d.mu.Unlock()
	d.listener()
}

func (d *Desk) wantsMap() bool { return d.mapped && d.doc.Drop != nil && d.answers.Map.pending() }

// mapTask computes the map; coarse pictures of it come first. The lock is held.
func (d *Desk) mapTask() task {
	base := d.base
	coarse := func(m *drop.Map) {
		d.mu.Lock()
		if a := &d.answers.Map; base == d.base && len(m.Columns) == 0 {
			a.Value, a.Rough, a.scene = m.Clone(), true, base
		}
		d.mu.Unlock()
		d.listener()
	}
	return newTask(d, &d.answers.Map, base, false, func(ctx context.Context, p geom.Progress) (*drop.Map, error) {
		return drop.RunMap(ctx, base, drop.MapOptions{Options: DropOptions(d.workers)}, coarse, p)
	}, func(*drop.Map) []said { return nil })
}
