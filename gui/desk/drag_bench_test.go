package desk

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
)

// BenchmarkDrag carries one part through the invented bay, its facets divided in
// nine (180,000 in all), and reports the median and the worst time from a step of
// the hand to fresh verdicts of every pair.
func BenchmarkDrag(b *testing.B) {
	dir := dividedBay(b)
	var mu sync.Mutex
	fresh := sync.NewCond(&mu)
	d := New(0, func() { mu.Lock(); fresh.Broadcast(); mu.Unlock() })
	must(b, d.OpenToWork(b.Context(), dir, PutAside))
	wait := func() {
		mu.Lock()
		defer mu.Unlock()
		for !d.State().Answers.Fit.Fresh {
			fresh.Wait()
		}
	}
	wait()
	for _, part := range []string{"oil_tank", "coil_left_2", "header_left_2"} {
		b.Run(part, func(b *testing.B) {
			load := Load{Parts: []string{part}}
			must(b, d.Carry(load, geom.Shift(geom.Vec{0, 0, 0.01})))
			wait()
			var took []time.Duration
			for k := 0; b.Loop(); k++ {
				began := time.Now()
				must(b, d.Carry(load, geom.Shift(geom.Vec{0, 0, 0.1 * float64(1+k%100)})))
				wait()
				took = append(took, time.Since(began))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
			b.ReportMetric(float64(took[len(took)-1].Microseconds())/1000, "worst-ms")
		})
	}
	must(b, d.Close())
}

// dividedBay writes a layout of the bay in testdata, each facet divided in nine.
func dividedBay(b *testing.B) string {
	const bay = "../../testdata/meshes/bay_20k"
	text, err := os.ReadFile(filepath.Join(bay, "scene.json"))
	must(b, err)
	var list struct {
		Parts []struct {
			Name, Role, File string
			Pose             [12]float64 // three rows: a turn and a shift
		}
	}
	must(b, json.Unmarshal(text, &list))
	dir := b.TempDir()
	doc := &layout.Document{Title: "bay"}
	for _, p := range list.Parts {
		doc.Parts = append(doc.Parts, layout.Part{Name: p.Name, Role: p.Role, Mesh: p.File, MoveMM: geom.Vec{p.Pose[3], p.Pose[7], p.Pose[11]}})
	}
	triangles := 0
	for _, rel := range doc.Files() {
		data, err := os.ReadFile(filepath.Join(bay, rel))
		must(b, err)
		m, err := mesh.ReadSTL(data)
		must(b, err)
		m = inNine(m)
		triangles += len(m.Tris)
		var buf bytes.Buffer
		must(b, m.WriteSTL(&buf, rel))
		must(b, os.WriteFile(filepath.Join(dir, rel), buf.Bytes(), 0o644))
	}
	must(b, layout.Save(dir, doc))
	b.Logf("%d parts, %d triangles in files", len(doc.Parts), triangles)
	return dir
}

// inNine divides each facet in nine, its edges in three.
func inNine(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, tri := range m.Tris {
		a, b, c := m.Verts[tri[0]], m.Verts[tri[1]], m.Verts[tri[2]]
		at := func(i, j int) int32 { // i thirds towards b, j towards c
			p := a.Add(b.Sub(a).Mul(float64(i) / 3)).Add(c.Sub(a).Mul(float64(j) / 3))
			out.Verts = append(out.Verts, p)
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
	return out
}
