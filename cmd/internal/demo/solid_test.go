package demo

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Volumes by school formulas; a round thing of n sides holds the inscribed
// n-gon's share n/(2π)·sin(2π/n) of the circle's.
func TestSolidsHoldTheirVolume(t *testing.T) {
	round := func(n float64) float64 { return n / 2 * math.Sin(2*math.Pi/n) }
	ell := []point2{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 40}, {0, 40}} // 30·10 + 10·30
	backwards := []point2{{0, 40}, {10, 40}, {10, 10}, {30, 10}, {30, 0}, {0, 0}}
	square := func(xMM, halfMM float64) [4]geom.Vec {
		return [4]geom.Vec{{xMM, -halfMM, -halfMM}, {xMM, halfMM, -halfMM}, {xMM, halfMM, halfMM}, {xMM, -halfMM, halfMM}}
	}
	cases := []struct {
		name      string
		mesh      *mesh.Mesh
		volumeMM3 float64
	}{
		{"box", box(geom.Vec{1, 2, 3}, geom.Vec{11, 22, 33}), 6000},
		{"concave prism along X", prism(axisX, 0, 5, ell), 3000},
		{"concave prism along Y, other way round", prism(axisY, 0, 5, backwards), 3000},
		{"concave prism along Z, downwards", prism(axisZ, 5, 0, ell), 3000},
		{"rod aslant", rod(geom.Vec{1, 2, 3}, geom.Vec{31, 42, 3}, 10), 50 * 100 * round(roundSides)},
		{"cup", turned(geom.Vec{}, geom.Vec{0, 0, 1}, []point2{{0, 0}, {0, 10}, {20, 10}, {20, 8}, {5, 8}, {5, 0}}, 64), (20*100 - 15*64) * round(64)},
		{"pipe, off the axis", turned(geom.Vec{}, geom.Vec{0, 1, 0}, []point2{{0, 8}, {0, 10}, {20, 10}, {20, 8}}, 64), 20 * (100 - 64) * round(64)},
		{"frustum", wedge(square(0, 10), square(30, 5)), 30.0 / 3 * (400 + 200 + 100)},
		{"strip", prism(axisY, 0, 2, strip([]point2{{0, 5}, {10, 8}, {20, 5}}, 3)), 2 * 20 * 3},
	}
	for _, c := range cases {
		if h := mesh.Inspect(c.mesh); !h.Closed || h.Flipped+h.Degenerate+h.Duplicate > 0 {
			t.Errorf("%s: %+v", c.name, h)
		}
		// 1e-9 relative: sums of a few hundred rounded terms.
		if got := mesh.Measure(c.mesh).VolumeMM3; math.Abs(got-c.volumeMM3) > 1e-9*c.volumeMM3 {
			t.Errorf("%s: %.9g mm³, want %.9g", c.name, got, c.volumeMM3)
		}
	}
}

// What the driver sees: the sight line starts above the glass's lower edge,
// clears the later lid and is hidden by the earlier one.
func TestSightLineAgainstTheLid(t *testing.T) {
	const lidXMM = 1900
	if low := sightZ(rearGlass[2][0]); low < rearGlass[2][2] {
		t.Errorf("the glass ends at %.1f mm, above the line at %.1f", rearGlass[2][2], low)
	}
	if line := sightZ(lidXMM); line < deckCrestZMM || line > deckCrestZMM+10 {
		t.Errorf("the line passes the lid at %.1f mm; the later lid is %.1f high, the earlier 10 mm more", line, deckCrestZMM)
	}
}
