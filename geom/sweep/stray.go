package sweep

import (
	"math"

	"aftbay/geom"
)

// Arms holds how far a part reaches from each axis of its group's turn, so that
// the stray of its points over a cell of turns can be bounded.
type Arms struct {
	armMM [3]float64 // largest distance of a point from the X, Y, Z axis through the pivot, over all turns of the motion
}

// NewArms measures the part's box at rest. The turns are applied roll first,
// so that the pitch and yaw arms are of the already rolled part; they are
// widened by what the earlier turns can do.
func NewArms(m Motion, b geom.Box) Arms {
	var a Arms
	if b.IsEmpty() {
		return a
	}
	for _, c := range b.Corners() {
		p := c.Sub(m.Pivot)
		for k := range 3 {
			i, j := (k+1)%3, (k+2)%3
			a.armMM[k] = math.Max(a.armMM[k], math.Hypot(p[i], p[j]))
		}
	}
	most := func(k int) float64 { return math.Max(math.Abs(m.Lo[k]), math.Abs(m.Hi[k])) }
	rolled := chordMM(a.armMM[0], most(Roll))
	a.armMM[1] += rolled
	a.armMM[2] += rolled + chordMM(a.armMM[1], most(Pitch))
	return a
}

// StrayMM returns a bound on the distance of any point of the part between two
// turns that differ by at most halfRad in roll, pitch and yaw (the entries of
// the setting beyond the shifts; the shifts are ignored).
//
// The distance of two turns is at most the sum of the chords of the single
// changes, since each later turn keeps lengths.
func (a Arms) StrayMM(halfRad Setting) float64 {
	var sumMM float64
	for k := range 3 {
		sumMM += chordMM(a.armMM[k], halfRad[Roll+k])
	}
	return sumMM
}

// MostAxis returns the turn axis (Roll, Pitch or Yaw) that contributes most to
// the stray and its share in mm.
func (a Arms) MostAxis(halfRad Setting) (axis int, mm float64) {
	axis = Roll
	for k := range 3 {
		if s := chordMM(a.armMM[k], halfRad[Roll+k]); s > mm {
			axis, mm = Roll+k, s
		}
	}
	return axis, mm
}

// chordMM is the chord of an arc, the whole diameter beyond half a turn.
func chordMM(armMM, angleRad float64) float64 {
	if angleRad >= math.Pi {
		return 2 * armMM
	}
	return 2 * armMM * math.Sin(angleRad/2)
}
