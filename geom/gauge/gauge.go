package gauge

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/say"
)

// Kind is what an end of a measurement is.
type Kind string

// The kinds.
const (
	Point Kind = "point" // at At
	Edge  Kind = "edge"  // from At to To
	Axis  Kind = "axis"  // through At and To, endless
	Face  Kind = "face"  // through At, To straight out of it, endless
	Part  Kind = "part"  // Body; At is where it was picked
)

// End is one end of a measurement.
type End struct {
	Kind     Kind
	At, To   geom.Vec
	PickedAt geom.Vec  // on the thing: what a face or an axis is measured from where it runs on
	Body     dist.Body // of a part
}

// Reading is what a measurement comes to.
type Reading struct {
	From, To   geom.Vec // the points between which the distance lies
	DistanceMM float64  // 0 where they touch, cross or overlap
	Overlap    bool     // two parts overlap: the points are those of package dist
	Angled     bool     // AngleRad has a meaning: both have a direction
	AngleRad   float64  // 0..π/2, between lines, planes, or a line and a plane
}

// parallelRad is the angle up to which a line or plane counts as parallel to a
// plane, so that they have a distance: float32 corners turn a facet by less.
const parallelRad = 0.05 * math.Pi / 180

// Between measures two ends. An end without a direction where it needs one, or
// with numbers that are not finite, is an error that says so.
func Between(ctx context.Context, a, b End) (Reading, error) {
	for k, e := range [2]*End{&a, &b} {
		if err := e.check(); err != nil {
			return Reading{}, say.Errorf("end %d: %w", k+1, err)
		}
	}
	if a.Kind == Part && b.Kind == Part {
		r, err := dist.Between(ctx, a.Body, b.Body, dist.Options{})
		if err != nil {
			return Reading{}, err
		}
		return Reading{From: r.PointA, To: r.PointB, DistanceMM: r.GapMM, Overlap: r.Overlap}, nil
	}
	r := Reading{}
	switch {
	case a.Kind == Part:
		r.From, r.To = nearestOn(a.Body, b.PickedAt), b.PickedAt
	case b.Kind == Part:
		r.From, r.To = a.PickedAt, nearestOn(b.Body, a.PickedAt)
	case a.Kind == Face || b.Kind == Face:
		r.From, r.To = toPlanes(a, b)
	default:
		r.From, r.To = nearestOfLines(a.line(), b.line())
	}
	r.DistanceMM = r.From.Sub(r.To).Len()
	if a.directed() && b.directed() {
		r.Angled = true
		r.AngleRad = angle(a.dir(), b.dir())
		if (a.Kind == Face) != (b.Kind == Face) { // a line against a plane's normal
			r.AngleRad = math.Pi/2 - r.AngleRad
		}
	}
	return r, nil
}

var errNoLength = say.New("its direction has no length")

func (e *End) check() error {
	switch e.Kind {
	case Point, Edge, Axis, Face, Part:
	default:
		return say.Errorf("nothing of kind %q can be measured", e.Kind)
	}
	if !geom.IsFinite(e.At) || !geom.IsFinite(e.To) || !geom.IsFinite(e.PickedAt) {
		return say.New("a number is not finite")
	}
	if e.directed() && !(e.To.Sub(e.At).Len() > 0) {
		return errNoLength
	}
	if e.Kind == Part && (e.Body.Tree == nil || e.Body.Tree.Len() == 0) {
		return dist.ErrEmpty
	}
	return nil
}

func (e *End) directed() bool { return e.Kind == Edge || e.Kind == Axis || e.Kind == Face }

func (e *End) dir() geom.Vec { return e.To.Sub(e.At).Normalize() }

// angle returns the angle between two lines, 0..π/2.
func angle(u, v geom.Vec) (rad float64) {
	rad = math.Atan2(u.Cross(v).Len(), u.Dot(v))
	return min(rad, math.Pi-rad)
}

// nearestOn returns the point of a body's surface nearest to p.
func nearestOn(b dist.Body, p geom.Vec) geom.Vec {
	near, ok := b.Tree.Nearest(b.Pose.Inverse().Point(p), math.Inf(1))
	if !ok {
		return p
	}
	return b.Pose.Point(near.Point)
}

// toPlanes returns the points of two ends of which one at least is a face: where
// they cross, or, where they do not, the point of the other end nearest to the
// plane, or picked, and its foot.
func toPlanes(a, b End) (from, to geom.Vec) {
	if b.Kind != Face {
		to, from = toPlanes(b, a)
		return from, to
	}
	n := b.dir()
	foot := func(p geom.Vec) geom.Vec { return p.Sub(n.Mul(p.Sub(b.At).Dot(n))) }
	from = a.PickedAt
	switch a.Kind {
	case Edge:
		p, q := a.At.Sub(b.At).Dot(n), a.To.Sub(b.At).Dot(n)
		switch {
		case p*q <= 0 && p != q:
			from = a.At.Add(a.To.Sub(a.At).Mul(p / (p - q)))
		case math.Abs(p) < math.Abs(q):
			from = a.At
		case math.Abs(q) < math.Abs(p):
			from = a.To
		}
	case Axis:
		if d := a.dir(); math.Abs(math.Pi/2-angle(d, n)) > parallelRad {
			from = a.At.Sub(d.Mul(a.At.Sub(b.At).Dot(n) / d.Dot(n)))
		}
	}
	return from, foot(from)
}

// line is a straight line from At on: endless, or a segment from share 0 to 1.
type line struct {
	at, run          geom.Vec
	loShare, hiShare float64 // of run
}

func (e *End) line() line {
	switch e.Kind {
	case Edge:
		return line{e.At, e.To.Sub(e.At), 0, 1}
	case Axis:
		return line{e.At, e.To.Sub(e.At), math.Inf(-1), math.Inf(1)}
	}
	return line{at: e.At}
}

func (l *line) point(share float64) geom.Vec {
	if l.hiShare == l.loShare {
		return l.at
	}
	return l.at.Add(l.run.Mul(share))
}

// share returns the share of the place nearest to p.
func (l *line) share(p geom.Vec) float64 {
	if square := l.run.LenSqr(); square > 0 && l.hiShare > l.loShare {
		return max(l.loShare, min(l.hiShare, p.Sub(l.at).Dot(l.run)/square))
	}
	return 0
}

// nearestOfLines returns the nearest points of two lines, segments or points. Of
// parallel ones the points lie beside the middle of the first, as far as the
// other goes.
func nearestOfLines(a, b line) (from, to geom.Vec) {
	aa, ab, bb := a.run.LenSqr(), a.run.Dot(b.run), b.run.LenSqr()
	const leastSquare = 1e-12 // a millionth of a radian: parallel
	s := 0.5
	if det := aa*bb - ab*ab; det > leastSquare*aa*bb {
		w := a.at.Sub(b.at)
		s = (ab*b.run.Dot(w) - bb*a.run.Dot(w)) / det
	}
	s = max(a.loShare, min(a.hiShare, s))
	t := b.share(a.point(s))
	s = a.share(b.point(t))
	// One of two clamped ends may still slide along the other: once more settles it.
	t = b.share(a.point(s))
	return a.point(s), b.point(t)
}
