package render

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

const bayDir = "../../testdata/meshes/bay_20k"

// bay reads the demonstration bay: about 100 parts, 20,326 triangles.
func bay(t testing.TB) Scene {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(bayDir, "scene.json"))
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Parts []struct {
			Name, Role, File string
			Pose             []float64
			Closed           bool
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	roles := map[string]int{}
	var s Scene
	for _, p := range doc.Parts {
		stl, err := os.ReadFile(filepath.Join(bayDir, p.File))
		if err != nil {
			t.Fatal(err)
		}
		m, err := mesh.ReadSTL(stl)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := roles[p.Role]; !ok {
			roles[p.Role] = len(roles)
		}
		it := Item{Mesh: m, Edges: mesh.FeatureEdges(m, 30*math.Pi/180), Pose: poseOf(p.Pose), Color: Swatch(roles[p.Role]), Closed: p.Closed}
		s.Items = append(s.Items, it)
	}
	return s
}

// poseOf reads a row-major 3×4 matrix.
func poseOf(m []float64) geom.Pose {
	p := geom.Identity()
	for r := range 3 {
		for c := range 3 {
			p.R.Set(r, c, m[4*r+c])
		}
		p.T[r] = m[4*r+3]
	}
	return p
}

// block returns a closed box around the origin with its twelve edges.
func block(halfX, halfY, halfZ float64) (*mesh.Mesh, [][2]int32) {
	m := &mesh.Mesh{}
	for _, c := range (geom.Box{Min: geom.Vec{-halfX, -halfY, -halfZ}, Max: geom.Vec{halfX, halfY, halfZ}}).Corners() {
		m.Verts = append(m.Verts, c)
	}
	for _, q := range [][4]int32{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}} {
		m.Tris = append(m.Tris, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	var edges [][2]int32
	for i := int32(0); i < 8; i++ {
		for k := range 3 {
			if j := i | 1<<k; j != i {
				edges = append(edges, [2]int32{i, j})
			}
		}
	}
	return m, edges
}

// ball returns a closed sphere around the origin of 2·n·n triangles or so.
func ball(radius float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, radius}, {0, 0, -radius}}}
	at := func(i, j int) int32 { return int32(2 + (i-1)*2*n + j%(2*n)) }
	for i := 1; i < n; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / float64(n))
		for j := range 2 * n {
			sj, cj := math.Sincos(math.Pi * float64(j) / float64(n))
			m.Verts = append(m.Verts, geom.Vec{radius * s * cj, radius * s * sj, radius * c})
		}
	}
	for j := range 2 * n {
		m.Tris = append(m.Tris, [3]int32{0, at(1, j), at(1, j+1)}, [3]int32{1, at(n-1, j+1), at(n-1, j)})
		for i := 1; i < n-1; i++ {
			m.Tris = append(m.Tris, [3]int32{at(i, j), at(i+1, j), at(i+1, j+1)}, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	return m
}
