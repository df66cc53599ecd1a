package drop

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// fineBay is the invented bay of testdata with every triangle split into nine:
// about 180,000 of them. The engine's side of it goes down.
func fineBay(b *testing.B) *scene.Scene {
	b.Helper()
	const bay = "../../testdata/meshes/bay_20k"
	text, err := os.ReadFile(filepath.Join(bay, "scene.json"))
	if err != nil {
		b.Fatal(err)
	}
	var list struct {
		Parts []struct {
			Name, Role, File string
			Pose             [12]float64 // Bare numbers: three rows, a turn and a shift in mm
		}
	}
	if err := json.Unmarshal(text, &list); err != nil {
		b.Fatal(err)
	}
	doc, _ := fullCar()
	doc.Parts, doc.Rules, doc.Joined = nil, nil, nil
	meshes := map[string]*mesh.Mesh{}
	for _, p := range list.Parts {
		part := layout.Part{Name: p.Name, Role: p.Role, Mesh: p.File, MoveMM: geom.Vec{p.Pose[3], p.Pose[7], p.Pose[11]}}
		if strings.Contains("engine exhaust intake coil transaxle harness sensor", p.Role) {
			part.Group = "powertrain"
		}
		doc.Parts = append(doc.Parts, part)
		if meshes[p.File] == nil {
			data, err := os.ReadFile(filepath.Join(bay, p.File))
			if err != nil {
				b.Fatal(err)
			}
			m, err := mesh.ReadSTL(data)
			if err != nil {
				b.Fatal(err)
			}
			meshes[p.File] = ninefold(m)
		}
	}
	return fixture.Scene(b, doc, meshes)
}

// ninefold splits every triangle into nine.
func ninefold(m *mesh.Mesh) *mesh.Mesh {
	var out mesh.Mesh
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		at := func(i, j int) int32 {
			u, v := float64(i)/3, float64(j)/3
			out.Verts = append(out.Verts, a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v)))
			return int32(len(out.Verts) - 1)
		}
		for i := range 3 {
			for j := range 3 - i {
				out.Tris = append(out.Tris, [3]int32{at(i, j), at(i+1, j), at(i, j+1)})
				if i+j < 2 {
					out.Tris = append(out.Tris, [3]int32{at(i+1, j), at(i+1, j+1), at(i, j+1)})
				}
			}
		}
	}
	return &out
}

// BenchmarkSlider is what one step of the slider costs on the fine bay: ground,
// half-shafts, centre of gravity and all else that needs no distance; which
// limits hold there, those of every pair in every state among them; and, beside
// the slider, every clearance of the moved group anew.
func BenchmarkSlider(b *testing.B) {
	s := fineBay(b)
	st, err := Prepare(b.Context(), s, Options{})
	if err != nil {
		b.Fatal(err)
	}
	triangles := 0
	for i := range s.Parts {
		triangles += len(s.Parts[i].Mesh.Tris)
	}
	b.Run("figures", func(b *testing.B) {
		b.ReportMetric(float64(triangles), "triangles")
		for i := 0; b.Loop(); i++ {
			st.At(float64(i % 40))
		}
	})
	b.Run("figures and limits", func(b *testing.B) {
		r, err := Run(b.Context(), s, Options{}, nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(r.Limits)), "limits")
		failing := 0
		for i := 0; b.Loop(); i++ {
			q := float64(i % 40)
			r.At(q)
			for k := range r.Limits {
				if len(clipAll(r.Limits[k].WindowsMM, Window{q, q})) == 0 {
					failing++
				}
			}
		}
		if failing == 0 {
			b.Error("nothing fails in a bay that no one laid out")
		}
	})
	b.Run("clearances anew", func(b *testing.B) {
		prev, err := clearance.Run(b.Context(), s, clearance.Options{}, nil)
		if err != nil {
			b.Fatal(err)
		}
		for i := 0; b.Loop(); i++ {
			q := float64(i%40) / 4
			moved := s.Moved("powertrain", geom.Shift(geom.Vec{0, 0, -q}))
			if prev, err = clearance.Run(b.Context(), moved, clearance.Options{Prev: prev}, nil); err != nil {
				b.Fatal(err)
			}
			st.At(q)
		}
	})
}

// BenchmarkStudyOfFineBay is the whole study of the fine bay.
func BenchmarkStudyOfFineBay(b *testing.B) {
	s := fineBay(b)
	for b.Loop() {
		if _, err := Run(b.Context(), s, Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
