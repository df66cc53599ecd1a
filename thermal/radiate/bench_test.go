package radiate

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/thermal/patch"
)

// finer cuts every triangle into nine.
func finer(m *mesh.Mesh) *mesh.Mesh {
	const n = 3
	out := &mesh.Mesh{}
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		base := int32(len(out.Verts))
		at := func(i, j int) int32 { return base + int32(i*(i+1)/2+j) }
		for i := range n + 1 {
			for j := range i + 1 {
				p := a.Mul(float64(n-i) / n).Add(b.Mul(float64(i-j) / n)).Add(c.Mul(float64(j) / n))
				out.Verts = append(out.Verts, p)
			}
		}
		for i := range n {
			for j := range i + 1 {
				out.Tris = append(out.Tris, [3]int32{at(i, j), at(i+1, j), at(i+1, j+1)})
				if j < i {
					out.Tris = append(out.Tris, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
				}
			}
		}
	}
	return out
}

// bay reads the bodies of the invented bay, every triangle cut into nine:
// 183,000 triangles.
func bay(t testing.TB) []patch.Body {
	t.Helper()
	dir := filepath.Join("..", "..", "testdata", "meshes", "bay_20k")
	data, err := os.ReadFile(filepath.Join(dir, "scene.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Parts []struct {
			File string
			Pose [12]float64
		}
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	var out []patch.Body
	for _, p := range f.Parts {
		stl, err := os.ReadFile(filepath.Join(dir, p.File))
		if err != nil {
			t.Fatal(err)
		}
		m, err := mesh.ReadSTL(stl)
		if err != nil {
			t.Fatal(err)
		}
		x := p.Pose
		rot := mgl64.Mat3FromRows(mgl64.Vec3{x[0], x[1], x[2]}, mgl64.Vec3{x[4], x[5], x[6]}, mgl64.Vec3{x[8], x[9], x[10]})
		out = append(out, patch.Body{Name: p.File, Mesh: finer(m), Pose: geom.Pose{R: rot, T: geom.Vec{x[3], x[7], x[11]}}, Closed: true})
	}
	return out
}

// BenchmarkViewFactors is the work of a large bay: 2,000 patches, 1,024 rays
// each, some 200,000 triangles. The tree is built beforehand, as for the tuned
// prototype that took about 0.7 s on two cores.
func BenchmarkViewFactors(b *testing.B) {
	set, err := patch.Build(bay(b), patch.Options{EdgeMM: 20, MostPatches: 2000})
	if err != nil {
		b.Fatal(err)
	}
	tree := bvh.BuildRays(set.Mesh)
	rays := 0
	for b.Loop() {
		f, err := Trace(context.Background(), set, tree, Options{Rays: 1024, Seed: 1}, nil)
		if err != nil {
			b.Fatal(err)
		}
		rays = 0
		for _, n := range f.Rays {
			rays += n
		}
	}
	b.ReportMetric(float64(rays), "rays/op")
	b.ReportMetric(float64(len(set.Patches)), "patches")
	b.ReportMetric(float64(len(set.Mesh.Tris)), "triangles")
}
