package mounts

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
)

// vector holds a shift (mm) and a turn times the spread (mm), or a force (N)
// and a moment over the spread (N).
type vector [6]float64

// matrix is the stiffness between such vectors, N/mm, symmetric.
type matrix [6]vector

// spring is all mounts as one.
type spring struct {
	stiffness matrix
	centre    geom.Vec // mean place of the mounts: turns of it name free freedoms cleanly
	spreadMM  float64  // root mean square distance of the mounts from it, 1 where they are one point
}

// spring adds up the mounts: K = Σ Jᵀ·k·J with the travel J·q = u + θ×r.
func (b Body) spring() spring {
	s := spring{spreadMM: 1}
	for _, m := range b.Mounts {
		s.centre = s.centre.Add(m.At.Mul(1 / float64(len(b.Mounts))))
	}
	var squares float64
	for _, m := range b.Mounts {
		squares += m.At.Sub(s.centre).LenSqr()
	}
	if squares > 0 {
		s.spreadMM = math.Sqrt(squares / float64(len(b.Mounts)))
	}
	for _, m := range b.Mounts {
		r := m.At.Sub(s.centre).Mul(1 / s.spreadMM)
		for axis, along := range [3]vector{
			{1, 0, 0, 0, r[2], -r[1]},
			{0, 1, 0, -r[2], 0, r[0]},
			{0, 0, 1, r[1], -r[0], 0},
		} {
			for i := range 6 {
				for j := range 6 {
					s.stiffness[i][j] += m.Stiffness[axis] * along[i] * along[j]
				}
			}
		}
	}
	return s
}

// softShare is the share of the stiffest direction below which a direction
// counts as free: far above the rounding of the sums (1e-15), far below any
// pair of mounts on one group.
const softShare = 1e-10

// modes are the springs' own directions with their stiffness.
type modes struct {
	along     matrix // one direction a column
	stiffness vector // N/mm
}

// modes returns the directions of the spring, or ErrFree with the freedoms that
// nothing holds.
func (s spring) modes() (modes, error) {
	var m modes
	m.stiffness, m.along = eigen(s.stiffness)
	var stiffest float64
	for _, k := range m.stiffness {
		stiffest = math.Max(stiffest, k)
	}
	var free []vector
	for j, k := range m.stiffness {
		if k <= softShare*stiffest {
			var column vector
			for i := range 6 {
				column[i] = m.along[i][j]
			}
			free = append(free, column)
		}
	}
	if len(free) > 0 {
		return m, say.Errorf("%w: nothing holds %s", ErrFree, inWords(free))
	}
	return m, nil
}

// solve returns the q with K·q = b.
func (m modes) solve(b vector) vector {
	var q vector
	for j, k := range m.stiffness {
		var push float64
		for i := range 6 {
			push += m.along[i][j] * b[i]
		}
		for i := range 6 {
			q[i] += m.along[i][j] * push / k
		}
	}
	return q
}

// inWords names free directions: by the axes if they are axes, else a single
// one by its parts, else by the axes that have the largest share in them.
func inWords(free []vector) say.Text {
	names := [6]say.Text{say.Of("the shift along X"), say.Of("the shift along Y"), say.Of("the shift along Z"), say.Of("roll (about X)"), say.Of("pitch (about Y)"), say.Of("yaw (about Z)")}
	// pureShare of a freedom in an axis calls it by that axis's name alone.
	const pureShare = 0.99
	var share vector
	for _, f := range free {
		for i, v := range f {
			share[i] += v * v
		}
	}
	var named []say.Text
	for i, v := range share {
		if v > pureShare {
			named = append(named, names[i])
		}
	}
	if len(named) == len(free) {
		return say.Join(named, ", ")
	}
	if f := free[0]; len(free) == 1 {
		shift, turn := geom.Vec{f[0], f[1], f[2]}, geom.Vec{f[3], f[4], f[5]}
		switch {
		case turn.LenSqr() > pureShare:
			return say.F("the turn about the axis %s", direction(turn))
		case shift.LenSqr() > pureShare:
			return say.F("the shift along %s", direction(shift))
		}
		return say.F("the shift along %s with the turn about %s", direction(shift), direction(turn))
	}
	// Several that are mixed: the axes in which they mostly lie.
	named = nil
	for i, v := range share {
		if v > 0.25 {
			named = append(named, names[i])
		}
	}
	return say.F("%d freedoms made of %s", len(free), say.Join(named, ", "))
}

// direction writes a vector as a unit one, its largest part positive.
func direction(v geom.Vec) string {
	v = v.Normalize()
	largest := 0
	for k := range v {
		if math.Abs(v[k]) > math.Abs(v[largest])+1e-9 { // a tie keeps the first
			largest = k
		}
	}
	if v[largest] < 0 {
		v = v.Mul(-1)
	}
	for k := range v {
		v[k] = math.Round(v[k]*1000) / 1000
		if v[k] == 0 {
			v[k] = 0 // no minus sign
		}
	}
	return fmt.Sprintf("[%g, %g, %g]", v[0], v[1], v[2])
}
