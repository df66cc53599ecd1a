package lead

import (
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// crowd is some random boxes around the origin.
func crowd(random *rand.Rand, n int) []Body {
	var out []Body
	for range n {
		low := geom.Vec{random.Float64()*500 - 250, random.Float64()*500 - 250, random.Float64()*500 - 250}
		size := geom.Vec{5 + random.Float64()*90, 5 + random.Float64()*90, 5 + random.Float64()*40}
		if low.Add(size.Mul(0.5)).Len() > 110 {
			out = append(out, brick(low, low.Add(size), random.Float64()*20))
		}
	}
	return out
}

// What is listed block by block answers as all bodies do, for few and for more
// than fit one word, inside the blocks, on their rim and outside.
func TestListedBodiesAnswerAsAll(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 0))
	for _, n := range []int{0, 1, 40, 150, 900} {
		bodies := crowd(random, n)
		plain, listed := newBay(bodies), newBay(bodies)
		box := geom.Box{Min: geom.Vec{-200, -200, -200}, Max: geom.Vec{200, 210, 190}}
		listed.survey(box, 60, 50)
		point := func() geom.Vec {
			p := geom.Vec{random.Float64()*500 - 250, random.Float64()*500 - 250, random.Float64()*500 - 250}
			if random.IntN(5) == 0 {
				p[random.IntN(3)] = []float64{-200, 40, 160, 190}[random.IntN(4)] // on seams and rims
			}
			return p
		}
		for range 150 {
			p, q := point(), point()
			if random.IntN(2) == 0 {
				q = p.Add(q.Mul(0.1))
			}
			if got, want := listed.blocked(p, q), plain.blocked(p, q); got != want {
				t.Fatalf("%d bodies, %v to %v: blocked %v, not %v", n, p, q, got, want)
			}
			gotMM, gotBody := listed.room(p, 50)
			if wantMM, wantBody := plain.room(p, 50); gotMM != wantMM || gotBody != wantBody {
				t.Fatalf("%d bodies, %v: room %v to %d, not %v to %d", n, p, gotMM, gotBody, wantMM, wantBody)
			}
		}
	}
}

// Whether a way is short enough is told as pulling it all the way tells: none is
// refused that could be pulled to well under the length asked for, and none
// accepted that is longer.
func TestVerdictAgreesWithPulledWay(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 0))
	asked, near := 0, 0
	for range 3 {
		f := fieldOf(t, crowd(random, 45), geom.Vec{}, 450, Options{})
		for range 60 {
			s := Start{Point: geom.Vec{random.Float64()*500 - 250, random.Float64()*500 - 250, random.Float64()*500 - 250}}
			if m, _ := f.bay.room(s.Point, 5); m < 0 || f.bay.within(s.Point) >= 0 {
				continue
			}
			r, ok := f.Route(s, 0)
			if !ok {
				continue
			}
			asked++
			for _, share := range []float64{0.97, 0.995, 1.005, 1.01, 1.03} {
				enoughMM := share * r.LengthMM
				way, lengthMM, ok := f.Way(s, enoughMM)
				short := ok && lengthMM <= enoughMM
				if way != nil && short && longMM(way) > enoughMM+1e-9 {
					t.Errorf("%v: %.2f mm of way for %.2f", s.Point, longMM(way), enoughMM)
				}
				// A round of 1 mm steps finds a way within a percent of the best.
				if share > 1 && !short {
					if near++; share > 1.005 {
						t.Errorf("%v: refused at %.3f of its length", s.Point, share)
					}
				}
				if share < 0.98 && short {
					t.Errorf("%v: accepted at %.3f of its length", s.Point, share)
				}
			}
		}
	}
	if asked < 50 || near > asked/5 {
		t.Errorf("%d ways, %d refused at up to half a percent more", asked, near)
	}
}
