package mesh_test

import (
	"bytes"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// ball returns a sphere of radius 100 mm in rings of latitude, each of
// 2·rings pairs of facets.
func ball(rings int) *mesh.Mesh {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, 100}, {0, 0, -100}}}
	around := 2 * rings
	at := func(r, k int) int32 { return int32(2 + r*around + k%around) }
	for r := range rings - 1 {
		st, ct := math.Sincos(math.Pi * float64(r+1) / float64(rings))
		for k := range around {
			sp, cp := math.Sincos(2 * math.Pi * float64(k) / float64(around))
			m.Verts = append(m.Verts, geom.Vec{100 * st * cp, 100 * st * sp, 100 * ct})
		}
	}
	for k := range around {
		m.Tris = append(m.Tris, [3]int32{0, at(0, k), at(0, k+1)}, [3]int32{1, at(rings-2, k+1), at(rings-2, k)})
		for r := range rings - 2 {
			m.Tris = append(m.Tris, [3]int32{at(r, k), at(r+1, k), at(r+1, k+1)}, [3]int32{at(r, k), at(r+1, k+1), at(r, k+1)})
		}
	}
	return m
}

func BenchmarkBall(b *testing.B) {
	m := ball(350)
	b.Logf("%d facets, health %+v", len(m.Tris), mesh.Inspect(m))
	var file bytes.Buffer
	if err := m.WriteSTL(&file, "ball"); err != nil {
		b.Fatal(err)
	}
	plane := mesh.Plane{Normal: geom.Vec{1, 2, 3}}
	for name, do := range map[string]func(){
		"read":     func() { _, _ = mesh.ReadSTL(file.Bytes()) },
		"inspect":  func() { mesh.Inspect(m) },
		"measure":  func() { mesh.Measure(m) },
		"features": func() { mesh.FeatureEdges(m, 0.5) },
		"section":  func() { mesh.Section(m, geom.Identity(), plane) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				do()
			}
		})
	}
}
