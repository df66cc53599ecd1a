package dist

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// TestSweptTurnsAgainstBetween: on random bodies that both turn, one about one
// axis, the other about two, while the first one shifts, no pose comes nearer
// than the bound. Truth: the plain distance in many poses; angles from a
// thousandth to a fifth of a radian. The bound must also be of use: near the
// least found when the angles are small.
func TestSweptTurnsAgainstBetween(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	in := func(r float64) float64 { return (2*rng.Float64() - 1) * r }
	for trial := range trials(40, 3000) {
		angle := math.Pow(10, -0.7-2.3*rng.Float64())
		a := bodyOf(soup(rng, 10), geom.Pose{R: geom.Turn(geom.Vec{in(3), in(3), in(3)}), T: geom.Vec{in(30), in(30), in(30)}})
		b := bodyOf(soup(rng, 10), geom.Pose{R: geom.Turn(geom.Vec{in(3), in(3), in(3)}), T: geom.Vec{in(150), in(150), in(150)}})
		a.Closed, b.Closed = false, false // surfaces are all that a sweep knows
		var m Sweep
		for k := range 3 {
			x, y := in(9), in(9)
			m.Shift.Min[k], m.Shift.Max[k] = min(x, y), max(x, y)
		}
		pivotA, pivotB := geom.Vec{in(200), in(200), in(200)}, geom.Vec{in(200), in(200), in(200)}
		axis := gauss(rng).Normalize()
		if trial%3 != 1 {
			m.TurnA = Turns{pivotA, [3]Turn{{axis, angle}}}
		}
		if trial%3 != 2 {
			m.TurnB = Turns{pivotB, [3]Turn{{geom.Vec{0, 1, 0}, angle / 2}, {geom.Vec{0, 0, 1}, angle}}}
		}
		r := Swept(a, b, m, math.Inf(1))
		least := math.Inf(1)
		for range 300 {
			at := func(half float64) float64 {
				if x := in(1.5); math.Abs(x) < 1 {
					return x * half
				}
				return math.Copysign(half, in(1))
			}
			var shift geom.Vec
			for k := range 3 {
				shift[k] = 0.5*(m.Shift.Min[k]+m.Shift.Max[k]) + at(0.5*(m.Shift.Max[k]-m.Shift.Min[k]))
			}
			a2, b2 := a, b
			if m.TurnA == (Turns{}) {
				a2.Pose.T = a2.Pose.T.Add(shift)
			} else {
				a2.Pose = geom.About(pivotA, mgl64.HomogRotate3D(at(angle), axis).Mat3(), shift).After(a.Pose)
			}
			if m.TurnB != (Turns{}) {
				turn := geom.Turn(geom.Vec{0, 0, at(angle)}).Mul3(geom.Turn(geom.Vec{0, at(angle / 2), 0}))
				b2.Pose = geom.About(pivotB, turn, geom.Vec{}).After(b.Pose)
			}
			got, err := Between(context.Background(), a2, b2, Options{})
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, got.GapMM)
			if got.GapMM < r.LowMM-1e-9 {
				t.Fatalf("trial %d, %.4f rad: a pose comes to %.9f mm, bound %.9f", trial, angle, got.GapMM, r.LowMM)
			}
		}
		if angle < 0.003 && least-r.LowMM > 9+600*angle { // the shift is sampled, an arm is 600 mm at most
			t.Errorf("trial %d: bound %.3f, least found %.3f", trial, r.LowMM, least)
		}
	}
}

// TestTurnedShift: a post that stands 100 mm aside of a wall; the wall turns
// while the post shifts along it by 50 mm. To first order, and but for the
// second one, the wall's face comes nearer by angle · (post's place + shift): a
// closed form that a bound without the turn of the shift would miss.
func TestTurnedShift(t *testing.T) {
	wall := bodyOf(block(geom.Vec{-400, -10, -400}, geom.Vec{400, 0, 400}, 1), geom.Identity())
	const angle = 1e-3
	for _, side := range []float64{-1, 1} {
		post := bodyOf(&mesh.Mesh{Verts: []geom.Vec{{side * 100, 20, 0}, {side * 100, 60, 1}, {side * 101, 60, 0}}, Tris: [][3]int32{{0, 1, 2}}}, geom.Identity())
		m := Sweep{
			Shift: geom.Box{Min: geom.Vec{-50, 0, 0}, Max: geom.Vec{50, 0, 0}},
			TurnB: Turns{About: [3]Turn{{geom.Vec{0, 0, 1}, angle}}},
		}
		r := Swept(post, wall, m, math.Inf(1))
		want := 20*math.Cos(angle) - 150*math.Sin(angle)
		if r.LowMM > want+1e-9 || r.LowMM < want-1e-6 || r.GapMM < want-1e-9 || r.GapMM > want+1e-9 {
			t.Errorf("bound %.9f, gap %.9f, least distance %.9f", r.LowMM, r.GapMM, want)
		}
	}
}
