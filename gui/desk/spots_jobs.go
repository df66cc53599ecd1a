package desk

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/scene"
	"aftbay/thermal/spot"
)

// spotsTask looks for places; the first proposals are shown while it goes on.
// The lock is held.
func (d *Desk) spotsTask(s *scene.Scene) task {
	heat := d.answers.Heat.Value
	show := func(r *spot.Result) {
		says := saySpots(r)
		d.mu.Lock()
		if a := &d.answers.Spots; s == d.shown && a.pending() {
			a.Value, a.Rough, a.scene, a.says = r, true, s, says
		}
		d.mu.Unlock()
		d.listener()
	}
	return newTask(d, &d.answers.Spots, s, false, func(ctx context.Context, p geom.Progress) (*spot.Result, error) {
		return spot.Search(ctx, s, heat, spot.Options{Workers: d.workers, Show: func(r *spot.Result) {
			if ctx.Err() == nil {
				show(r)
			}
		}}, p)
	}, saySpots)
}
