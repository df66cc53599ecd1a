package dist

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// FuzzSwept: two sheets of a few triangles on a grid, as in FuzzBetween, both
// turning about all axes while one shifts: no pose is nearer than the bound, the
// pose named is at least as near as stated, also when only
// some distance is asked for.
func FuzzSwept(f *testing.F) {
	f.Add([]byte{0, 0}, 0.01, 2.0, 30.0)
	f.Add([]byte{1, 1, 0, 0, 0, 40, 0, 0, 0, 40, 0, 0, 0, 0, 40, 0, 0, 0, 40, 0}, 0.1, 0.0, 12.5)
	f.Add([]byte{1, 1, 0, 0, 0, 40, 0, 0, 0, 40, 0, 10, 10, 250, 10, 10, 8, 20, 20, 1}, 0.3, 8.0, 60.0)
	f.Add([]byte{3, 2, 9, 8, 7, 60, 50, 40, 3, 2, 1, 77, 88, 99, 11, 22, 33, 200, 100, 50, 5, 5, 5, 6, 6, 6, 7, 7, 8}, 1.5, 3.0, 70.0)
	f.Fuzz(func(t *testing.T, data []byte, halfRad, shiftMM, apartMM float64) {
		if len(data) < 2 || !(halfRad >= 0 && halfRad < 2) || !(shiftMM >= 0 && shiftMM < 100) || !(math.Abs(apartMM) < 200) {
			return
		}
		counts, data := [2]int{int(data[0]%4) + 1, int(data[1]%4) + 1}, data[2:]
		one, data := gridSheet(data, counts[0])
		two, data := gridSheet(data, counts[1])
		a, b := sheetOf(one), sheetOf(two)
		b.Pose = geom.Shift(geom.Vec{0, 0, apartMM})
		seed := uint64(len(data))
		for _, x := range data {
			seed = seed*257 + uint64(x)
		}
		rng := rand.New(rand.NewPCG(41, seed))
		in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
		turns := func() (t Turns) {
			t.Pivot = geom.Vec{in(100), in(100), in(100)}
			for k := range t.About {
				if rng.IntN(4) > 0 {
					t.About[k] = Turn{gauss(rng).Normalize(), halfRad * rng.Float64()}
				}
			}
			return t
		}
		m := Sweep{TurnA: turns(), TurnB: turns()}
		for k := range 3 {
			m.Shift.Min[k], m.Shift.Max[k] = -shiftMM*rng.Float64(), shiftMM*rng.Float64()
		}
		r := Swept(a, b, m, math.Inf(1))
		if !(r.LowMM <= r.GapMM && r.LowMM >= 0) {
			t.Fatalf("%+v", r)
		}
		if got := inSweep(t, a, b, m, r.Shift, r.TurnA, r.TurnB); got > r.GapMM+1e-6 || got < r.LowMM-1e-9 {
			t.Errorf("%.9f mm in the pose named, stated %.9f to %.9f", got, r.LowMM, r.GapMM)
		}
		lowMM := r.LowMM
		if enoughMM := r.GapMM * rng.Float64(); enoughMM > 0 {
			asked := Swept(a, b, m, enoughMM)
			if asked.LowMM > enoughMM || asked.AtLeast && asked.GapMM != enoughMM {
				t.Errorf("asked for %g mm: %+v", enoughMM, asked)
			}
			lowMM = max(lowMM, asked.LowMM) // both must hold
		}
		for range 30 {
			var shift geom.Vec
			var angles [2][3]float64
			for k := range 3 {
				shift[k] = m.Shift.Min[k] + rng.Float64()*(m.Shift.Max[k]-m.Shift.Min[k])
				angles[0][k], angles[1][k] = in(m.TurnA.About[k].HalfRad), in(m.TurnB.About[k].HalfRad)
			}
			if got := inSweep(t, a, b, m, shift, angles[0], angles[1]); got < lowMM-1e-9 {
				t.Errorf("%.9f mm in a pose, bound %.9f", got, lowMM)
			}
		}
	})
}

// inSweep is the plain distance in one pose of a sweep.
func inSweep(t *testing.T, a, b Body, m Sweep, shift geom.Vec, angleA, angleB [3]float64) float64 {
	turned := func(x Body, turns Turns, angles [3]float64) Body {
		for k, turn := range turns.About {
			if turn.HalfRad != 0 {
				x.Pose = geom.About(turns.Pivot, rotation(angles[k], turn.Axis), geom.Vec{}).After(x.Pose)
			}
		}
		return x
	}
	a, b = turned(a, m.TurnA, angleA), turned(b, m.TurnB, angleB)
	a.Pose.T = a.Pose.T.Add(shift)
	r, err := Between(t.Context(), a, b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.GapMM
}

// rotation is the turn about a unit axis, by Rodrigues' formula.
func rotation(angleRad float64, axis geom.Vec) (r [9]float64) {
	c, s := math.Cos(angleRad), math.Sin(angleRad)
	for k := range 3 {
		e := geom.Vec{}
		e[k] = 1
		col := e.Mul(c).Add(axis.Cross(e).Mul(s)).Add(axis.Mul(axis.Dot(e) * (1 - c)))
		copy(r[3*k:], col[:])
	}
	return r
}
