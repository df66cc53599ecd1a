package route

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

const (
	// leastSides is the fewest corners that still make a tube.
	leastSides = 3
	// leastStepMM is the least distance of two rings: where two bends meet
	// without a straight, their rings differ only by rounding.
	leastStepMM = 1e-6
)

// Tube returns the closed mesh of a round tube along the points, rounded at
// each corner by bendRadiusMM (0: mitred), with the given number of sides, and
// its length data. Arcs are cut so finely that their chord error does not
// exceed that of the sides. It fails, naming the corner, where the legs are too
// short for the bends.
func Tube(points []geom.Vec, radiusMM, bendRadiusMM float64, sides int) (*mesh.Mesh, Length, error) {
	if !(radiusMM > 0) || math.IsInf(radiusMM, 0) {
		return nil, Length{}, say.Errorf("tube radius %g mm; give more than 0", radiusMM)
	}
	if sides < leastSides {
		return nil, Length{}, say.Errorf("%d sides; a tube needs at least %d", sides, leastSides)
	}
	l, err := newLine(points, radiusMM, bendRadiusMM)
	if err != nil {
		return nil, Length{}, err
	}
	s := &skin{mesh: &mesh.Mesh{}, sides: sides, radiusMM: radiusMM, sideErrorMM: radiusMM * (1 - math.Cos(math.Pi/float64(sides)))}
	s.across = anyAcross(l.dirs[0])
	s.ring(l.points[0], l.dirs[0], l.dirs[0])
	for i := 1; i < len(l.points)-1; i++ {
		if l.turnRad[i] > 0 {
			s.corner(l, i)
		}
	}
	last := len(l.points) - 1
	s.ring(l.points[last], l.dirs[last-1], l.dirs[last-1])
	s.caps(l.points[0], l.points[last])
	length := l.length()
	length.ChordMM = s.sideErrorMM + s.arcErrorMM
	return s.mesh, length, nil
}

// skin is the tube's mesh while it grows ring by ring.
type skin struct {
	mesh        *mesh.Mesh
	sides       int
	radiusMM    float64
	across      geom.Vec // unit, square to the running direction, untwisted
	sideErrorMM float64  // chord error around the section
	arcErrorMM  float64  // largest chord error along a bend so far
	rings       int
	last        geom.Vec // centre of the latest ring
}

// ring adds one ring around centre for the running direction dir, cut by the
// plane square to cut, and joins it to the ring before.
// A ring where the one before already stands is left out.
func (s *skin) ring(centre, dir, cut geom.Vec) {
	if s.rings > 0 && centre.Sub(s.last).Len() < leastStepMM {
		return
	}
	s.last = centre
	up := dir.Cross(s.across)
	for k := range s.sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(s.sides))
		spoke := s.across.Mul(s.radiusMM * cos).Add(up.Mul(s.radiusMM * sin))
		// Slide along the tube into the cutting plane; no slide when cut = dir.
		spoke = spoke.Sub(dir.Mul(spoke.Dot(cut) / dir.Dot(cut)))
		s.mesh.Verts = append(s.mesh.Verts, centre.Add(spoke))
	}
	s.rings++
	if s.rings == 1 {
		return
	}
	old, now := int32((s.rings-2)*s.sides), int32((s.rings-1)*s.sides)
	for k := range int32(s.sides) {
		next := (k + 1) % int32(s.sides)
		s.mesh.Tris = append(s.mesh.Tris,
			[3]int32{old + k, old + next, now + next},
			[3]int32{old + k, now + next, now + k})
	}
}

// corner adds the rings of the bend at point i and turns the section through it.
func (s *skin) corner(l *line, i int) {
	in, out := l.dirs[i-1], l.dirs[i]
	axis := in.Cross(out).Normalize()
	if l.radiusMM == 0 {
		s.ring(l.points[i], in, in.Add(out).Normalize())
		s.across = turned(s.across, axis, l.turnRad[i])
		return
	}
	// Centre of the arc: square to the incoming leg at the set-back point.
	begin := l.points[i].Sub(in.Mul(l.backMM[i]))
	middle := begin.Add(axis.Cross(in).Mul(l.radiusMM))
	steps := s.arcSteps(l.turnRad[i], l.radiusMM)
	first := s.across
	for k := range steps + 1 {
		a := l.turnRad[i] * float64(k) / float64(steps)
		dir := turned(in, axis, a)
		s.across = turned(first, axis, a)
		s.ring(middle.Add(turned(begin.Sub(middle), axis, a)), dir, dir)
	}
}

// arcSteps returns how many straight pieces keep the outer side of a bend
// within the chord error of the sides, and notes the error reached.
func (s *skin) arcSteps(turnRad, bendRadiusMM float64) int {
	outerMM := bendRadiusMM + s.radiusMM
	stepRad := 2 * math.Acos(1-s.sideErrorMM/outerMM)
	steps := max(1, int(math.Ceil(turnRad/stepRad)))
	half := turnRad / float64(steps) / 2
	s.arcErrorMM = math.Max(s.arcErrorMM, outerMM*(1-math.Cos(half)))
	return steps
}

// caps closes both ends with fans about their centres.
func (s *skin) caps(first, last geom.Vec) {
	a := int32(len(s.mesh.Verts))
	s.mesh.Verts = append(s.mesh.Verts, first, last)
	end := int32((s.rings - 1) * s.sides)
	for k := range int32(s.sides) {
		next := (k + 1) % int32(s.sides)
		s.mesh.Tris = append(s.mesh.Tris, [3]int32{a, next, k}, [3]int32{a + 1, end + k, end + next})
	}
}

// anyAcross returns a unit vector square to dir, from the axis least along it.
func anyAcross(dir geom.Vec) geom.Vec {
	k := 0
	for i := range dir {
		if math.Abs(dir[i]) < math.Abs(dir[k]) {
			k = i
		}
	}
	var e geom.Vec
	e[k] = 1
	return e.Sub(dir.Mul(e.Dot(dir))).Normalize()
}
