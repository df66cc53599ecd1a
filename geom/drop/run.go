package drop

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// ErrNoStudy means that the layout does not say which group drops.
var ErrNoStudy = errors.New(`the layout has no "drop": add {"group": ..., "range_mm": [0, 80]} to say what goes down and how far`)

// Options steer Run.
type Options struct {
	Workers int // 0: one per processor
}

// Run studies the drop of the layout's drop group over its range.
//
// Errors: ErrNoStudy, a group without parts, a cancelled ctx.
func Run(ctx context.Context, s *scene.Scene, o Options, progress geom.Progress) (*Result, error) {
	d := s.Doc.Drop
	if d == nil {
		return nil, ErrNoStudy
	}
	members, err := s.Select("group:" + d.Group)
	if err != nil || len(members) == 0 {
		return nil, fmt.Errorf("drop: group %q has no parts: give parts that group or name another one", d.Group)
	}
	probe, err := clearance.NewProbe(ctx, s, d.Group, o.Workers)
	if err != nil {
		return nil, err
	}
	st := &study{scene: s, v: s.Doc.Vehicle, group: d.Group, within: Window(d.RangeMM), probe: probe}
	st.collect()
	pairs, err := st.pairLimits(ctx, o.Workers, progress)
	if err != nil {
		return nil, fmt.Errorf("drop: %w", err)
	}
	r := &Result{Group: d.Group, RangeMM: st.within, Mass: st.mass()}
	r.Limits = append(append(append(st.shaftLimits(), st.groundLimits()...), st.angleLimits()...), pairs...)
	r.conclude()
	st.anglesNow(r)
	st.fixedNotes(r)
	r.Curve, err = st.curve(ctx, r, o.Workers)
	return r, err
}

// conclude sorts the limits, meets their windows and names what binds.
func (r *Result) conclude() {
	sort.SliceStable(r.Limits, func(i, j int) bool { return mostOf(r.Limits[i]) < mostOf(r.Limits[j]) })
	all, met := []Window{r.RangeMM}, []Window{r.RangeMM}
	for _, l := range r.Limits {
		all = meet(all, l.WindowsMM)
		if len(l.WindowsMM) > 0 {
			met = meet(met, l.WindowsMM)
		} else {
			r.Notes = append(r.Notes, "no drop in the range helps here: "+l.event)
		}
	}
	r.WindowsMM = all
	if all == nil {
		r.WindowsMM = []Window{}
	}
	switch {
	case len(all) > 0:
		w := chosen(all)
		r.WindowMM = &w
		r.bind(w)
	case len(met) > 0:
		w := chosen(met)
		r.ReachMM = &w
		r.bind(w)
	}
	r.Verdict = r.judge()
}

// chosen is the window that holds no drop at all, else the first one below it.
func chosen(windows []Window) Window {
	for _, w := range windows {
		if w[1] >= 0 {
			return w
		}
	}
	return windows[len(windows)-1]
}

func (r *Result) judge() string {
	if r.WindowMM == nil || r.WindowMM[0] > 0 || r.WindowMM[1] < 0 {
		return Short
	}
	if r.WindowMM[1] < 2 && r.Binding.High != nil {
		return Close
	}
	return OK
}

// bind names the limits whose windows end where the chosen one does.
func (r *Result) bind(w Window) {
	for _, l := range r.Limits {
		for _, own := range l.WindowsMM {
			if r.Binding.High == nil && own[1] == w[1] && w[1] < r.RangeMM[1] {
				r.Binding.High = &Stop{l.Name, w[1], fmt.Sprintf("Stops at %s: %s", units.FormatMM(w[1]), l.event)}
			}
			if r.Binding.Low == nil && own[0] == w[0] && w[0] > r.RangeMM[0] {
				r.Binding.Low = &Stop{l.Name, w[0], fmt.Sprintf("Must go down at least %s: above that %s", units.FormatMM(w[0]), l.event)}
			}
		}
	}
}

func mostOf(l Limit) float64 {
	if l.MostMM == nil {
		return math.Inf(-1)
	}
	return *l.MostMM
}

func (st *study) anglesNow(r *Result) {
	if a, ok := st.angleAt(departureOf, 0, everything); ok {
		r.Angles.Departure = a.text()
	}
	if a, ok := st.angleAt(rampOf, 0, everything); ok {
		r.Angles.Ramp = a.text()
	}
}

// fixedNotes says where the body itself is lower than asked: no drop of the
// group changes that, so it is no limit of the study.
func (st *study) fixedNotes(r *Result) {
	if st.v == nil {
		r.Notes = append(r.Notes, "no vehicle in the layout: ground, departure and ramp are not checked")
		return
	}
	for _, att := range st.v.Attitudes {
		if att.LeastGroundMM == nil {
			continue
		}
		mm, part := st.groundAt(NewRoad(st.v, att), 0, fixed)
		if part != "" && mm < *att.LeastGroundMM {
			r.Notes = append(r.Notes, fmt.Sprintf("%s, not part of the group, is %s over the road, attitude %s: asked %s",
				part, units.FormatMM(mm), att.Name, units.FormatMM(*att.LeastGroundMM)))
		}
	}
}
