package lead

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/route"
)

// swings are how far out a lead is tried whose bends find no room on the taut
// way, in bend radii. Read-only.
var swings = []float64{0.5, 1, 1.5}

// bent returns the lead along a taut way with bends of a radius: on the way
// itself, else on the shortest of those that swing out further, else with the
// widest bends that there are.
func (f *Field) bent(s *Start, taut []geom.Vec, bendMM float64) Route {
	best := measured(f.widen(s, taut, bendMM), bendMM)
	if best.BendMM >= bendMM {
		return best
	}
	for _, few := range [][]geom.Vec{taut, fewer(taut, bendMM)} {
		for _, share := range swings {
			out := bulgedBy(few, func(float64) float64 { return share * bendMM })
			if !f.free(s, out) {
				continue
			}
			r := measured(f.widen(s, out, bendMM), bendMM)
			if r.BendMM > best.BendMM || r.BendMM >= bendMM && r.LengthMM < best.LengthMM {
				best = r
			}
		}
	}
	return best
}

// fewer returns a way with the corners that lie nearer together than a bend made
// one each, however they then lie: it is to be swung out.
func fewer(points []geom.Vec, bendMM float64) []geom.Vec {
	out := points[:1:1]
	for i := 1; i < len(points)-1; {
		k, sum := i, geom.Vec{}
		for ; k < len(points)-1 && points[k].Sub(points[i]).Len() < bendMM/2; k++ {
			sum = sum.Add(points[k])
		}
		out = append(out, sum.Mul(1/float64(k-i)))
		i = k
	}
	return append(out, points[len(points)-1])
}

// widen moves corners out so that bends of a radius pass where the corners
// were, and joins corners that stand too near each other for two bends.
func (f *Field) widen(s *Start, points []geom.Vec, bendMM float64) []geom.Vec {
	best := points
	for range len(points) {
		wide := bulged(points, bendMM)
		if !f.free(s, wide) {
			wide = points
		}
		if _, err := route.Measure(wide, bendMM); err == nil {
			return wide
		}
		next, ok := f.merged(s, points)
		if !ok {
			return best
		}
		points = next
	}
	return best
}

// bulged returns the corners moved out by what their arcs cut off; those that
// bend back by more than a square stay.
func bulged(points []geom.Vec, bendMM float64) []geom.Vec {
	return bulgedBy(points, func(rad float64) float64 {
		if rad > math.Pi/2 {
			return 0
		}
		return bendMM * (1/math.Cos(rad/2) - 1)
	})
}

// bulgedBy returns the corners moved out by a length that follows from the angle
// by which each bends.
func bulgedBy(points []geom.Vec, byMM func(rad float64) float64) []geom.Vec {
	out := slices.Clone(points)
	for i := 1; i < len(points)-1; i++ {
		in, on := points[i].Sub(points[i-1]).Normalize(), points[i+1].Sub(points[i]).Normalize()
		if outward := in.Sub(on); outward.Len() >= 1e-6 {
			out[i] = points[i].Add(outward.Normalize().Mul(byMM(turnRad(in, on))))
		}
	}
	return out
}

// free reports whether all legs are.
func (f *Field) free(s *Start, points []geom.Vec) bool {
	for i := 1; i < len(points); i++ {
		if !f.joins(s, points, i-1, i) {
			return false
		}
	}
	return true
}

// merged returns the way with the two corners of its shortest inner leg made
// one, where the legs beside them meet.
func (f *Field) merged(s *Start, points []geom.Vec) ([]geom.Vec, bool) {
	shortest := -1
	for i := 1; i+2 < len(points); i++ {
		if shortest < 0 || points[i+1].Sub(points[i]).Len() < points[shortest+1].Sub(points[shortest]).Len() {
			shortest = i
		}
	}
	if shortest < 0 {
		return nil, false
	}
	i := shortest
	at, ok := meeting(points[i-1], points[i], points[i+1], points[i+2])
	if !ok {
		at = points[i].Add(points[i+1]).Mul(0.5)
	}
	out := slices.Concat(points[:i], []geom.Vec{at}, points[i+2:])
	return out, f.free(s, out)
}

// meeting returns the middle of where the lines a-b and d-c come nearest beyond
// b and c.
func meeting(a, b, c, d geom.Vec) (geom.Vec, bool) {
	u, v, w := b.Sub(a).Normalize(), c.Sub(d).Normalize(), b.Sub(c)
	cos := u.Dot(v)
	det := 1 - cos*cos
	if det < 1e-4 {
		return geom.Vec{}, false
	}
	fromB, fromC := (cos*v.Dot(w)-u.Dot(w))/det, (v.Dot(w)-cos*u.Dot(w))/det
	if fromB < 0 || fromC < 0 {
		return geom.Vec{}, false
	}
	return b.Add(u.Mul(fromB)).Add(c.Add(v.Mul(fromC))).Mul(0.5), true
}

// halvings finds the largest bend to a thousandth.
const halvings = 10

// measured returns the length of a way with its bends as wide as they may be.
func measured(points []geom.Vec, bendMM float64) Route {
	r := Route{Points: points, BendMM: bendMM}
	l, err := route.Measure(points, bendMM)
	if err != nil {
		lowMM, highMM := 0.0, bendMM
		for range halvings {
			midMM := (lowMM + highMM) / 2
			if _, err := route.Measure(points, midMM); err == nil {
				lowMM = midMM
			} else {
				highMM = midMM
			}
		}
		r.BendMM = lowMM
		l, err = route.Measure(points, lowMM)
	}
	if err != nil { // two points that are the same: a lead of no length
		r.LengthMM, r.BendMM = longMM(points), bendMM
		return r
	}
	r.LengthMM = l.DevelopedMM
	for _, rad := range l.BendsRad {
		r.TurnRad += rad
	}
	return r
}
