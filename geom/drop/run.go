package drop

import (
	"context"
	"math"
	"sort"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// ErrNoStudy means that the layout does not say which group drops.
var ErrNoStudy = say.New(`the layout has no "drop": add {"group": ..., "range_mm": [0, 80]} to say what goes down and how far`)

// Options steer Run.
type Options struct {
	Workers int     // 0: one per processor
	Density Density // of materials; nil: only densities that the layout gives

	noSight bool // leave out what the driver sees
}

// Run studies the drop of the layout's drop group over its range.
//
// Errors: ErrNoStudy, a group without parts, a cancelled ctx.
func Run(ctx context.Context, s *scene.Scene, o Options, progress geom.Progress) (*Result, error) {
	st, err := Prepare(ctx, s, o)
	if err != nil {
		return nil, err
	}
	pairs, err := st.pairLimits(ctx, o.Workers, progress)
	if err != nil {
		return nil, say.Errorf("drop: %w", err)
	}
	r := &Result{Group: st.group, RangeMM: st.within, Mass: st.mass, study: st}
	r.Limits = append(st.fixed(st.within), pairs...)
	r.conclude()
	st.anglesNow(r)
	st.notes(r)
	if r.Curve, err = st.curve(ctx, r, o.Workers); err != nil {
		return nil, err
	}
	if !o.noSight {
		if err := st.sight(ctx, r, o.Workers); err != nil {
			return nil, err
		}
	}
	if err := st.values(ctx, r, o.Workers); err != nil {
		return nil, err
	}
	st.buys(r)
	return r, nil
}

// conclude sorts the limits, meets their windows and names what binds.
func (r *Result) conclude() {
	sort.SliceStable(r.Limits, func(i, j int) bool { return mostOf(r.Limits[i]) < mostOf(r.Limits[j]) })
	all, met := []Window{r.RangeMM}, []Window{r.RangeMM}
	for _, l := range r.Limits {
		all = Meet(all, l.WindowsMM)
		if len(l.WindowsMM) > 0 {
			met = Meet(met, l.WindowsMM)
		} else {
			r.Notes = append(r.Notes, say.F("no drop in the range helps here: %s", l.event))
		}
	}
	r.WindowsMM = all
	if all == nil {
		r.WindowsMM = []Window{}
	}
	for _, w := range all {
		r.Ends = append(r.Ends, r.endsOf(w))
	}
	switch {
	case len(all) > 0:
		w := Chosen(all)
		r.WindowMM, r.Binding = &w, r.bind(w)
	case len(met) > 0:
		w := Chosen(met)
		r.ReachMM, r.Binding = &w, r.bind(w)
	}
	r.Verdict = r.judge()
}

func (r *Result) endsOf(w Window) Ends {
	b := r.bind(w)
	return Ends{w, b.Low, b.High}
}

// Chosen is the window that holds no drop at all, else the first one below it.
func Chosen(windows []Window) Window {
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

// bind names the limits whose windows end where a window does.
func (r *Result) bind(w Window) Binding {
	var b Binding
	for _, l := range r.Limits {
		for _, own := range l.WindowsMM {
			if b.High == nil && own[1] == w[1] && w[1] < r.RangeMM[1] {
				b.High = &Stop{l.Name, w[1], say.F("Stops at %s: %s", units.FormatMM(w[1]), l.event), l.event}
			}
			if b.Low == nil && own[0] == w[0] && w[0] > r.RangeMM[0] {
				b.Low = &Stop{l.Name, w[0], say.F("Must go down at least %s: above that %s", units.FormatMM(w[0]), l.event), l.event}
			}
		}
	}
	return b
}

func mostOf(l Limit) float64 {
	if l.MostMM == nil {
		return math.Inf(-1)
	}
	return *l.MostMM
}

func (st *Study) anglesNow(r *Result) {
	if st.v == nil || st.v.TyreRadiusMM <= 0 || !st.noAxles().IsZero() {
		return
	}
	if a, ok := st.angleAt(departureOf(st.v), 0, follows, stands); ok {
		r.Angles.Departure = a.text()
	}
	if a, ok := st.angleAt(rampOf(st.v), 0, follows, stands); ok {
		r.Angles.Ramp = a.text()
	}
}
