package dist

import (
	"context"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// TestNothingIsCountedTwice: a mesh of several bodies and a probe of 2 mm edges,
// which shares all or half of itself. Where bodies of the mesh cross or lie in each
// other there is no shared volume, elsewhere it is that of the probe; closed form.
func TestNothingIsCountedTwice(t *testing.T) {
	cube := func(at geom.Vec, halfMM float64) *mesh.Mesh {
		h := geom.Vec{halfMM, halfMM, halfMM}
		return block(at.Sub(h), at.Add(h), 1)
	}
	crossed := joined(block(geom.Vec{-50, -10, -10}, geom.Vec{10, 10, 10}, 1), block(geom.Vec{-9, -9, -9}, geom.Vec{50, 9, 9}, 2))
	for _, c := range []struct {
		name string
		mesh *mesh.Mesh
		at   geom.Vec
		want float64 // mm3; below 0: none
	}{
		{"crossed, where they cross", crossed, geom.Vec{0, 0, 0}, -1},
		{"crossed, one side", crossed, geom.Vec{-30, 0, 0}, 8},
		{"crossed, other side, half in", crossed, geom.Vec{50, 0, 0}, 4},
		{"nested, in the inner", joined(cube(geom.Vec{}, 40), cube(geom.Vec{}, 10)), geom.Vec{}, -1},
		{"nested, in the outer", joined(cube(geom.Vec{}, 40), cube(geom.Vec{}, 10)), geom.Vec{25, 0, 0}, 8},
		{"hollow, in the wall", joined(cube(geom.Vec{}, 40), insideOut(cube(geom.Vec{}, 10))), geom.Vec{25, 0, 0}, 8},
		{"hollow, at the inner wall", joined(cube(geom.Vec{}, 40), insideOut(cube(geom.Vec{}, 10))), geom.Vec{10, 0, 0}, 4},
		{"a core in the hollow", joined(cube(geom.Vec{}, 40), joined(insideOut(cube(geom.Vec{}, 20)), cube(geom.Vec{}, 10))), geom.Vec{}, 8},
		{"all inside out", insideOut(joined(cube(geom.Vec{}, 40), insideOut(cube(geom.Vec{}, 10)))), geom.Vec{25, 0, 0}, 8},
		{"one of two inside out", joined(cube(geom.Vec{}, 40), insideOut(cube(geom.Vec{100, 0, 0}, 10))), geom.Vec{100, 0, 0}, -1},
		{"the other of them", joined(cube(geom.Vec{}, 40), insideOut(cube(geom.Vec{100, 0, 0}, 10))), geom.Vec{}, 8},
	} {
		pose := geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.2, 0.1}), T: geom.Vec{300, 200, 100}}
		solid := bodyOf(c.mesh, pose)
		probe := bodyOf(cube(geom.Vec{}, 1), geom.Pose{R: pose.R, T: pose.Point(c.at)})
		for _, pair := range [2][2]Body{{solid, probe}, {probe, solid}} {
			r, err := Between(context.Background(), pair[0], pair[1], Options{Overlap: true})
			if err != nil || !r.Overlap || (r.VolumeMM3 != nil) != (c.want >= 0) {
				t.Errorf("%s: %+v (%v), want a volume: %v", c.name, r, err, c.want >= 0)
			} else if r.VolumeMM3 != nil && math.Abs(*r.VolumeMM3-c.want) > 1e-9 {
				t.Errorf("%s: %.12g mm3, want %g", c.name, *r.VolumeMM3, c.want)
			}
		}
	}
}

// A search for what is held twice that was cancelled is not taken for an answer.
func TestDoubledCancelled(t *testing.T) {
	tree := bodyOf(readMesh(t, meshDir+"/shapes_open/bad_self_cross.stl"), geom.Identity()).Tree
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := doubled(ctx, tree); err == nil {
		t.Error("an answer although cancelled")
	}
	if boxes, err := doubled(context.Background(), tree); err != nil || len(boxes) == 0 {
		t.Errorf("afterwards: %v, %v", boxes, err)
	}
}
