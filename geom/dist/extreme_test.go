package dist

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// TestHugeCoordinates: a file drawn 1e9 mm from its origin is refused in plain
// words; a mesh made otherwise is measured all the same. Truth: the blocks' faces;
// what float32 would hide there, 64 mm, and the rounding of the answer are stated.
func TestHugeCoordinates(t *testing.T) {
	const far = 1 << 30 // mm
	facet := "solid x\nfacet normal 0 0 1\nouter loop\nvertex 1e9 0 0\nvertex 1e9 10 0\nvertex 1e9 0 10\nendloop\nendfacet\nendsolid x\n"
	if _, err := mesh.ReadSTL([]byte(facet)); err == nil || !strings.Contains(err.Error(), "check the export unit and origin") {
		t.Errorf("a file of such numbers: %v", err)
	}
	for _, c := range []struct {
		name   string
		lo, hi geom.Vec // of the first block
	}{
		{"far away", geom.Vec{far, 0, 0}, geom.Vec{far + 1024, 1024, 1024}},
		{"enormous", geom.Vec{-far, -far, -far}, geom.Vec{far, far, far}},
	} {
		a := Body{Tree: bvh.Build(block(c.lo, c.hi, 2)), Pose: geom.Identity(), Closed: true}
		b := Body{Tree: bvh.Build(block(geom.Vec{}, geom.Vec{1024, 1024, 1024}, 2)), Pose: geom.Shift(geom.Vec{c.hi[0] + 2048, 0, 0}), Closed: true}
		if err := bvh.Check(a.Tree); err != nil {
			t.Fatal(err)
		}
		r, err := Between(context.Background(), a, b, Options{})
		if err != nil || r.Overlap || math.Abs(r.GapMM-2048) > r.ErrorMM {
			t.Errorf("%s: %+v (%v), want 2048 mm", c.name, r, err)
		}
		if r.ErrorMM > 1e-3 || r.InputErrorMM < 32 {
			t.Errorf("%s: states %g mm of rounding, %g mm of the file", c.name, r.ErrorMM, r.InputErrorMM)
		}
		b.Pose = geom.Shift(geom.Vec{c.hi[0] - 512, 0, 0})
		if r, err = Between(context.Background(), a, b, Options{Overlap: true}); err != nil || !r.Overlap || math.Abs(r.DepthMM-512) > r.DepthErrorMM+r.ErrorMM {
			t.Errorf("%s: moved 512 mm in: %+v (%v)", c.name, r, err)
		}
	}
}

// Each refusal says which body and which kind, so that a caller can act on it.
func TestRefusalsAreTold(t *testing.T) {
	good := sheetOf(block(geom.Vec{}, geom.Vec{1, 1, 1}, 1))
	wild, endless := good, good
	wild.Pose.R[4] = math.NaN()
	endless.Pose.T[2] = math.Inf(-1)
	torn := block(geom.Vec{}, geom.Vec{1, 1, 1}, 1)
	torn.Verts[3][2] = math.NaN()
	for _, c := range []struct {
		bad  Body
		want error
	}{{sheetOf(&mesh.Mesh{}), ErrEmpty}, {wild, ErrPose}, {endless, ErrPose}, {sheetOf(torn), ErrCoordinates}} {
		_, err := Between(context.Background(), good, c.bad, Options{})
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), "second body") {
			t.Errorf("got %v, want %v", err, c.want)
		}
		if _, err = Between(context.Background(), c.bad, good, Options{Overlap: true, EnoughMM: 5}); !errors.Is(err, c.want) {
			t.Errorf("got %v, want %v", err, c.want)
		}
	}
}

// A triangle against itself and against one that shares a corner: touching, no
// overlap, nothing to fall over.
func TestOneTriangle(t *testing.T) {
	one := &mesh.Mesh{Verts: []geom.Vec{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}}, Tris: [][3]int32{{0, 1, 2}}}
	for _, shift := range []geom.Vec{{}, {10, 0, 0}, {0, -10, 0}} {
		a, b := sheetOf(one), sheetOf(one)
		b.Pose = geom.Shift(shift)
		r, err := Between(context.Background(), a, b, Options{Overlap: true})
		if err != nil || r.GapMM != 0 || r.Overlap || r.AtLeast {
			t.Errorf("moved by %v: %+v (%v)", shift, r, err)
		}
	}
}
