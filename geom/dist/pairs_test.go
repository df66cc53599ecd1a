package dist

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

const meshDir = "../../testdata/meshes"

// pairCase is one entry of testdata/meshes/pairs.json.
type pairCase struct {
	ID   string
	A, B struct {
		File string
		Pose [12]float64
	}
	Truth struct {
		Distance           float64
		SurfacesIntersect  bool     `json:"surfaces_intersect"`
		AClosed            bool     `json:"a_closed"`
		BClosed            bool     `json:"b_closed"`
		AInsideB           *bool    `json:"a_inside_b"`
		BInsideA           *bool    `json:"b_inside_a"`
		IntersectionVolume *float64 `json:"intersection_volume"`
	}
}

func readPairs(t testing.TB) []pairCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(meshDir, "pairs.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f struct{ Cases []pairCase }
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	return f.Cases
}

// trees reads each mesh once.
type trees map[string]*bvh.Tree

func (c trees) get(t testing.TB, file string) *bvh.Tree {
	t.Helper()
	if c[file] == nil {
		c[file] = bvh.Build(readMesh(t, filepath.Join(meshDir, file)))
	}
	return c[file]
}

func readMesh(t testing.TB, path string) *mesh.Mesh {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// poseOf reads the row-major 3×4 matrices of the test data.
func poseOf(p [12]float64) geom.Pose {
	return geom.Pose{
		R: mgl64.Mat3FromRows(mgl64.Vec3{p[0], p[1], p[2]}, mgl64.Vec3{p[4], p[5], p[6]}, mgl64.Vec3{p[8], p[9], p[10]}),
		T: geom.Vec{p[3], p[7], p[11]},
	}
}

func (c pairCase) bodies(t testing.TB, cache trees) (a, b Body) {
	a = Body{Tree: cache.get(t, c.A.File), Pose: poseOf(c.A.Pose), Closed: c.Truth.AClosed}
	b = Body{Tree: cache.get(t, c.B.File), Pose: poseOf(c.B.Pose), Closed: c.Truth.BClosed}
	return a, b
}

// Truth: testdata/meshes/pairs.json, which states 1e-9 mm near the origin and
// 1e-7 mm at 1e5 mm.
func TestPairs(t *testing.T) {
	cache := trees{}
	for _, c := range readPairs(t) {
		t.Run(c.ID, func(t *testing.T) {
			a, b := c.bodies(t, cache)
			r, err := Between(context.Background(), a, b, Options{})
			if err != nil {
				t.Fatal(err)
			}
			tol := 1e-9
			if a.Pose.T.Len()+a.Tree.Origin().Len() > 5e4 {
				tol = 1e-7
			}
			inside := c.Truth.AInsideB != nil && *c.Truth.AInsideB || c.Truth.BInsideA != nil && *c.Truth.BInsideA ||
				c.ID == "two_bodies_one_inside"
			overlap := inside || c.Truth.IntersectionVolume != nil && *c.Truth.IntersectionVolume > 0
			if r.Overlap != overlap {
				t.Errorf("overlap %v, want %v", r.Overlap, overlap)
			}
			apart := r.PointA.Sub(r.PointB).Len()
			if math.Abs(apart-c.Truth.Distance) > tol {
				t.Errorf("points stand %.12g apart, want %.12g", apart, c.Truth.Distance)
			}
			if !overlap && math.Abs(r.GapMM-c.Truth.Distance) > tol {
				t.Errorf("gap %.12g, want %.12g", r.GapMM, c.Truth.Distance)
			}
			if r.ErrorMM > tol {
				t.Errorf("stated error %g, want at most %g", r.ErrorMM, tol)
			}
			checkOn(t, a, r.PointA, r.TriA, tol)
			checkOn(t, b, r.PointB, r.TriB, tol)
		})
	}
}

// checkOn checks that a vehicle point lies on triangle tri of b.
func checkOn(t *testing.T, b Body, p geom.Vec, tri int, tolMM float64) {
	t.Helper()
	x, y, z := b.Tree.Mesh().Corners(tri)
	corner := bvh.Triangle{b.Pose.Point(x), b.Pose.Point(y), b.Pose.Point(z)}
	if d := bvh.OnTriangle(p, &corner).Sub(p).Len(); d > tolMM {
		t.Errorf("point %v lies %g off its triangle %d", p, d, tri)
	}
}
