package dist

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

// TestWholeSigns: signs in 128 bits are those in whole numbers of any size, for
// corners as files hold them: on grids, in planes, on lines, and nearly so. What
// does not fit says so.
func TestWholeSigns(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 0))
	point := func(kind int) (p geom.Vec) {
		for k := range p {
			switch kind {
			case 0:
				p[k] = float64(rng.IntN(5) - 2) // many ties
			case 1:
				p[k] = float64(float32(rng.NormFloat64() * 500))
			case 2:
				p[k] = float64(rng.IntN(9)-4) * 0x1p-20
			case 3:
				p[k] = rng.NormFloat64() // more bits than fit, mostly
			case 4:
				p[k] = math.Ldexp(float64(rng.IntN(3)-1), rng.IntN(60)-30)
			case 5:
				p[k] = float64(int64(rng.IntN(1<<39))-1<<38) * 2 // to the edge of what fits
			}
		}
		return p
	}
	decided := 0
	for range 200000 {
		kind := rng.IntN(6)
		a, b, c, d := point(kind), point(kind), point(kind), point(kind)
		if rng.IntN(2) == 0 { // in one plane, in float32
			u, v := float64(rng.IntN(9)-4)/4, float64(rng.IntN(9)-4)/4
			for k := range d {
				d[k] = float64(float32(a[k] + u*(b[k]-a[k]) + v*(c[k]-a[k])))
			}
		}
		if got, ok := orientWhole(a, b, c, d); ok {
			decided++
			if want := orientBig(a, b, c, d); got != want {
				t.Fatalf("orient(%v, %v, %v, %v) = %d, want %d", a, b, c, d, got, want)
			}
		}
		if got, ok := crossWhole(a, b, c, d, 1, 2); ok {
			if want := crossBig(a, b, c, d, 1, 2); got != want {
				t.Fatalf("cross(%v, %v, %v, %v) = %d, want %d", a, b, c, d, got, want)
			}
		}
	}
	if decided < 100000 {
		t.Errorf("%d of 200000 signs were found in 128 bits", decided)
	}
}
