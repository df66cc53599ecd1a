package drop

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/clearance"
)

// What the margin of a limit does on the way down.
const (
	Falls  = "falls"
	Rises  = "rises"
	Steady = "steady"
	Turns  = "turns"
)

const (
	// shownMM is how far above its least value a clearance is followed.
	shownMM = 30.0
	// steadyShare is by how much of its allowed value a margin may change in one
	// step and still count as steady: rounding, far below what is shown.
	steadyShare = 1e-9
)

// values fills in the curve of every limit that ends some window of its own,
// and of all that need no mesh, and finds out how each one runs.
func (st *Study) values(ctx context.Context, r *Result, workers int) error {
	pairs := map[string]clearance.Ruled{}
	for _, p := range st.probe.Ruled() {
		pairs[st.pairLimit(p).Name.String()] = p
	}
	return geom.Each(ctx, workers, len(r.Limits), nil, func(i int) error {
		l := &r.Limits[i]
		var err error
		switch {
		case l.value != nil:
			for k := range r.Curve {
				v := l.value(r.Curve[k].DropMM)
				l.Values = append(l.Values, finite(v))
			}
		case len(l.WindowsMM) != 1 || l.WindowsMM[0] != r.RangeMM:
			l.Values, err = st.pairValues(ctx, pairs[l.key], r.Curve)
		}
		l.Trend = l.trend()
		return err
	})
}

func finite(v float64) *float64 { // Bare numbers: in the unit of the limit
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// pairValues follows a clearance over the curve; what is far above its least
// value, or an overlap, is nil.
func (st *Study) pairValues(ctx context.Context, p clearance.Ruled, curve []Point) ([]*float64, error) {
	margin := st.pairMargin(p)
	out := make([]*float64, len(curve))
	farToMM := math.Inf(-1) // up to this drop the margin stays above shownMM
	for k := range curve {
		dropMM := curve[k].DropMM
		if dropMM <= farToMM {
			continue
		}
		m, err := margin(ctx, dropMM, shownMM)
		if err != nil {
			return nil, err
		}
		if m >= shownMM {
			farToMM = dropMM + m - shownMM
			continue
		}
		out[k] = finite(m + p.Rule.LeastMM)
	}
	return out, nil
}

// trend tells from the values how the margin runs; "" where too few are known.
func (l *Limit) trend() string {
	var up, down, known bool
	var last *float64
	for _, v := range l.Values {
		if v != nil && last != nil {
			change := *v - *last
			if l.Most() {
				change = -change
			}
			slack := steadyShare * (1 + math.Abs(l.Allowed))
			known, up, down = true, up || change > slack, down || change < -slack
		}
		last = v
	}
	switch {
	case !known:
		return ""
	case up && down:
		return Turns
	case up:
		return Rises
	case down:
		return Falls
	}
	return Steady
}
