package patch

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh/plain"
)

// A plate with a small source above one end: patches below it have about half
// the edge of those far away, area is kept, and without the source all are alike.
func TestPatchesAreFinerNearSources(t *testing.T) {
	plate := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{1600 * u, 400 * v, 0} })
	hot := plain.Brick(geom.Vec{0, 100, 30}, geom.Vec{200, 300, 100})
	mean := func(source bool) (nearM2, farM2 float64, count int) {
		bodies := []Body{
			{Name: "plate", Mesh: plate, Pose: geom.Identity()},
			{Name: "hot", Mesh: hot, Pose: geom.Identity(), Closed: true, Source: source},
		}
		s, err := Build(bodies, Options{EdgeMM: 40, MostPatches: 20000})
		if err != nil {
			t.Fatal(err)
		}
		var sumM2 float64
		var near, far int
		for _, p := range s.Patches {
			if p.Part != 0 || p.Inner {
				continue
			}
			count++
			sumM2 += p.AreaM2
			switch {
			case p.CenterMM[0] < 200 && math.Abs(p.CenterMM[1]-200) < 100:
				nearM2, near = nearM2+p.AreaM2, near+1
			case p.CenterMM[0] > 800:
				farM2, far = farM2+p.AreaM2, far+1
			}
		}
		if math.Abs(sumM2-0.64) > 1e-12 {
			t.Errorf("area %g m², want 0.64", sumM2)
		}
		return nearM2 / float64(near), farM2 / float64(far), count
	}
	near, far, fine := mean(true)
	if share := near / far; share > 0.4 || share < 0.2 { // a quarter of the area, about
		t.Errorf("patches near the source have %.2f of the area of those far away", share)
	}
	near, far, usual := mean(false)
	if share := near / far; share < 0.8 || share > 1.25 || usual >= fine {
		t.Errorf("without a source %.2f; %d patches, %d with", share, usual, fine)
	}
}
