package route

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/say"
)

const (
	// straightRad is the corner angle below which a corner is no bend: at
	// this angle a 1000 mm leg ends 0.001 mm off the straight line.
	straightRad = 1e-6
	// hairpinRad is the corner angle above which the set-back runs away.
	hairpinRad = math.Pi - 1e-3
	// slackMM forgives rounding in legs that are exactly as long as needed.
	slackMM = 1e-9
)

// Length is what the tube bender wants to know.
type Length struct {
	DevelopedMM        float64   // along the centre line
	BendsRad           []float64 // BendsRad[i]: angle of the i-th corner that bends
	ShortestStraightMM float64   // least straight piece between set-backs, ends included
	ChordMM            float64   // bound on how far the mesh lies off the true tube
}

// Measure returns length, bends and shortest straight of the rounded polyline,
// without a mesh; ChordMM is 0. It fails where Tube would fail for a thin tube.
func Measure(pointsMM []geom.Vec, bendRadiusMM float64) (Length, error) {
	line, err := newLine(pointsMM, 0, bendRadiusMM)
	if err != nil {
		return Length{}, err
	}
	return line.length(), nil
}

// LeastBundleBend returns the least bend radius of a wire bundle of the given
// outside diameter, factor times that diameter, and the width and centre-line
// length of a U-turn at it.
func LeastBundleBend(diameterMM, factor float64) (radiusMM, turnWidthMM, turnLengthMM float64) {
	radiusMM = factor * diameterMM
	return radiusMM, 2*radiusMM + diameterMM, math.Pi * radiusMM
}

// line is the polyline with its corners worked out.
type line struct {
	points   []geom.Vec
	legsMM   []float64  // legsMM[i]: points[i] to points[i+1]
	dirs     []geom.Vec // dirs[i]: unit direction of leg i
	turnRad  []float64  // turnRad[i]: angle at points[i]; 0 at the ends
	backMM   []float64  // backMM[i]: set-back of the arc at points[i]
	radiusMM float64    // of the bends; 0 = mitred
}

func newLine(pointsMM []geom.Vec, tubeRadiusMM, bendRadiusMM float64) (*line, error) {
	if err := checkNumbers(pointsMM, tubeRadiusMM, bendRadiusMM); err != nil {
		return nil, err
	}
	n := len(pointsMM)
	l := &line{points: pointsMM, radiusMM: bendRadiusMM, turnRad: make([]float64, n), backMM: make([]float64, n)}
	for i := range n - 1 {
		leg := pointsMM[i+1].Sub(pointsMM[i])
		if leg.Len() == 0 {
			return nil, say.Errorf("points %d and %d are the same point; remove one", i+1, i+2)
		}
		l.legsMM = append(l.legsMM, leg.Len())
		l.dirs = append(l.dirs, leg.Normalize())
	}
	needMM := make([]float64, n) // needMM[i]: leg used up by the corner at point i
	for i := 1; i < n-1; i++ {
		a := angleRad(l.dirs[i-1], l.dirs[i])
		if a < straightRad {
			continue
		}
		if a > hairpinRad {
			return nil, say.Errorf("%s: the line turns straight back; put a point beside it", l.corner(i))
		}
		l.turnRad[i] = a
		l.backMM[i] = bendRadiusMM * math.Tan(a/2)
		needMM[i] = max(bendRadiusMM, tubeRadiusMM) * math.Tan(a/2)
	}
	return l, l.checkLegs(needMM)
}

// checkNumbers refuses what no line can be made of.
func checkNumbers(pointsMM []geom.Vec, tubeRadiusMM, bendRadiusMM float64) error {
	if len(pointsMM) < 2 {
		return say.Errorf("%d points; a route needs at least 2", len(pointsMM))
	}
	for i, p := range pointsMM {
		if !geom.IsFinite(p) {
			return say.Errorf("point %d is not a finite point; give three numbers in mm", i+1)
		}
	}
	if !(bendRadiusMM >= 0) || math.IsInf(bendRadiusMM, 0) {
		return say.Errorf("bend radius %g mm; give 0 (mitred) or more", bendRadiusMM)
	}
	if bendRadiusMM > 0 && bendRadiusMM < tubeRadiusMM {
		return say.Errorf("bend radius %g mm is less than the tube radius %g mm, so the inside would fold; give at least that, or 0 for mitred corners", bendRadiusMM, tubeRadiusMM)
	}
	return nil
}

// checkLegs refuses a leg that its two corners would use up, naming them.
func (l *line) checkLegs(needMM []float64) error {
	for i, leg := range l.legsMM {
		need := needMM[i] + needMM[i+1]
		if need <= leg+slackMM {
			continue
		}
		at := i
		if needMM[i+1] > needMM[i] {
			at = i + 1
		}
		return say.Errorf("%s: the leg from point %d to point %d is %.6g mm, its bends need %.6g mm; move the points apart or lessen the bend radius",
			l.corner(at), i+1, i+2, leg, need)
	}
	return nil
}

func (l *line) corner(i int) say.Text {
	p := l.points[i]
	return say.F("corner at point %d (%.6g, %.6g, %.6g)", i+1, p[0], p[1], p[2])
}

func (l *line) length() Length {
	out := Length{ShortestStraightMM: math.Inf(1)}
	for i, leg := range l.legsMM {
		straight := leg - l.backMM[i] - l.backMM[i+1]
		out.DevelopedMM += straight
		out.ShortestStraightMM = math.Min(out.ShortestStraightMM, math.Max(straight, 0))
	}
	for _, a := range l.turnRad {
		if a > 0 {
			out.DevelopedMM += l.radiusMM * a
			out.BendsRad = append(out.BendsRad, a)
		}
	}
	return out
}

// angleRad returns the angle between two unit vectors, exact near 0 and pi
// where the arc cosine is not.
func angleRad(a, b geom.Vec) float64 {
	return math.Atan2(a.Cross(b).Len(), a.Dot(b))
}

// turned returns v turned by angleRad about the unit axis.
func turned(v, axis geom.Vec, angleRad float64) geom.Vec {
	return mgl64.QuatRotate(angleRad, axis).Rotate(v)
}
