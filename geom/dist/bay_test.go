package dist

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// bay returns the posed parts of the demo bay.
func bay(t testing.TB, dir string) []Body {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, "scene.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Parts []struct {
			File   string
			Pose   [12]float64
			Closed bool
		}
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	var out []Body
	for _, p := range f.Parts {
		m := readMesh(t, filepath.Join(dir, p.File))
		out = append(out, Body{Tree: bvh.Build(m), Pose: poseOf(p.Pose), Closed: p.Closed})
	}
	return out
}

// All pairs of the bay: the exact gap, the least gap asked for, and every gap
// against the one found from the other side.
func TestBayPairsAgree(t *testing.T) {
	parts := bay(t, filepath.Join(meshDir, "bay_20k"))
	for i := 0; i < len(parts); i += 3 {
		for j := i + 1; j < len(parts); j += 2 {
			r, err := Between(context.Background(), parts[i], parts[j], Options{})
			if err != nil {
				t.Fatal(err)
			}
			back, err := Between(context.Background(), parts[j], parts[i], Options{EnoughMM: 25})
			if err != nil {
				t.Fatal(err)
			}
			if back.Overlap != r.Overlap || back.AtLeast && r.GapMM < back.GapMM ||
				!back.AtLeast && math.Abs(back.GapMM-r.GapMM) > r.ErrorMM {
				t.Errorf("parts %d, %d: %+v, from the other side %+v", i, j, r, back)
			}
			if !r.Overlap {
				checkResult(t, parts[i], parts[j], r)
			}
		}
	}
}

func BenchmarkAllPairs(b *testing.B) {
	parts := bay(b, benchBay())
	for _, bench := range []struct {
		name     string
		enoughMM float64
		plain    bool
	}{{"exact", 0, false}, {"enough 50 mm", 50, false}, {"exact, no vectors", 0, true}} {
		b.Run(bench.name, func(b *testing.B) {
			parts := slices.Clone(parts)
			for i := range parts {
				if bench.plain {
					parts[i].Tree = parts[i].Tree.Plainly()
				}
			}
			b.ReportAllocs()
			var count bvh.PairCount
			for b.Loop() {
				count = bvh.PairCount{}
				for i := range parts {
					for j := i + 1; j < len(parts); j++ {
						reachMM := math.Inf(1)
						if bench.enoughMM > 0 {
							reachMM = bench.enoughMM
						}
						to := bvh.Between(parts[i].Tree, parts[j].Tree, parts[i].Pose, parts[j].Pose)
						s := search{a: parts[i].Tree, b: parts[j].Tree, toA: to, reachMM: reachMM}
						c := s.run()
						count.Octets += c.Octets
						count.Leaves += c.Leaves
					}
				}
			}
			pairs := len(parts) * (len(parts) - 1) / 2
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*pairs), "us/pair")
			b.ReportMetric(float64(count.Octets), "octets/op")
			b.ReportMetric(float64(count.Leaves), "leaves/op")
		})
	}
}

// benchBay is the bay of the test data, or the folder of a larger one of the
// same make named by AFTBAY_BAY200K.
func benchBay() string {
	if dir := os.Getenv("AFTBAY_BAY200K"); dir != "" {
		return dir
	}
	return filepath.Join(meshDir, "bay_20k")
}

// BenchmarkMillions: a bay of some two million triangles, each of the given ones
// cut into many: all trees built, then all pairs checked exactly, on all
// processors.
func BenchmarkMillions(b *testing.B) {
	ways := 10 // the triangles of an edge: 100 of each one
	if os.Getenv("AFTBAY_BAY200K") != "" {
		ways = 3
	}
	parts := bay(b, benchBay())
	meshes := make([]*mesh.Mesh, len(parts))
	triangles := 0
	for i := range parts {
		meshes[i] = cutUp(parts[i].Tree.Mesh(), ways)
		triangles += len(meshes[i].Tris)
	}
	each := func(n int, job func(i int) error) {
		if err := geom.Each(b.Context(), 0, n, nil, job); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		each(len(parts), func(i int) error {
			parts[i].Tree = bvh.Build(meshes[i])
			return nil
		})
		each(len(parts)*len(parts), func(k int) error {
			i, j := k/len(parts), k%len(parts)
			if i >= j {
				return nil
			}
			_, err := Between(b.Context(), parts[i], parts[j], Options{})
			return err
		})
	}
	b.ReportMetric(float64(triangles), "triangles")
}

// cutUp returns the mesh with each edge cut into n and each triangle into n².
func cutUp(m *mesh.Mesh, n int) *mesh.Mesh {
	type place struct{ from, to, steps int32 } // along an edge, or a corner with no steps
	out := &mesh.Mesh{}
	at := map[place]int32{}
	add := func(p geom.Vec) int32 {
		out.Verts = append(out.Verts, p)
		return int32(len(out.Verts)) - 1
	}
	onEdge := func(from, to int32, steps int) int32 {
		if from > to {
			from, to, steps = to, from, n-steps
		}
		key := place{from, to, int32(steps)}
		switch steps {
		case 0:
			key = place{from, from, 0}
		case n:
			key = place{to, to, 0}
		}
		if _, ok := at[key]; !ok {
			share := float64(steps) / float64(n)
			at[key] = add(m.Verts[from].Mul(1 - share).Add(m.Verts[to].Mul(share)))
		}
		return at[key]
	}
	for _, t := range m.Tris {
		point := func(i, j int) int32 { // i steps to corner 1, j to corner 2
			switch {
			case j == 0:
				return onEdge(t[0], t[1], i)
			case i == 0:
				return onEdge(t[0], t[2], j)
			case i+j == n:
				return onEdge(t[1], t[2], j)
			}
			p, q, r := m.Verts[t[0]], m.Verts[t[1]], m.Verts[t[2]]
			return add(p.Add(q.Sub(p).Mul(float64(i) / float64(n))).Add(r.Sub(p).Mul(float64(j) / float64(n))))
		}
		inner := map[[2]int]int32{}
		for i := range n + 1 {
			for j := range n + 1 - i {
				inner[[2]int{i, j}] = point(i, j)
			}
		}
		for i := range n {
			for j := range n - i {
				a, b, c := inner[[2]int{i, j}], inner[[2]int{i + 1, j}], inner[[2]int{i, j + 1}]
				out.Tris = append(out.Tris, [3]int32{a, b, c})
				if i+j+1 < n {
					out.Tris = append(out.Tris, [3]int32{b, inner[[2]int{i + 1, j + 1}], c})
				}
			}
		}
	}
	return out
}

// A finer mesh of the same surfaces gives the same answers, and stays closed.
func TestFinerMeshSameGap(t *testing.T) {
	parts := bay(t, filepath.Join(meshDir, "bay_20k"))[:6]
	fine := slices.Clone(parts)
	for i := range fine {
		m := cutUp(parts[i].Tree.Mesh(), 3)
		fine[i].Tree = bvh.Build(m)
		if mesh.Inspect(m).Closed != mesh.Inspect(parts[i].Tree.Mesh()).Closed {
			t.Errorf("part %d: another verdict on closed", i)
		}
		for j := range i {
			want, err := Between(t.Context(), parts[i], parts[j], Options{})
			if err != nil {
				t.Fatal(err)
			}
			got, err := Between(t.Context(), fine[i], fine[j], Options{})
			// The cut corners are rounded: some 1e-13 of a 1 m part.
			if err != nil || got.Overlap != want.Overlap || math.Abs(got.GapMM-want.GapMM) > 1e-9 {
				t.Errorf("parts %d, %d: %+v (%v), coarse %+v", i, j, got, err, want)
			}
		}
	}
}

// The same bits for any number of workers, on shared trees.
func TestAnyNumberOfWorkers(t *testing.T) {
	parts := bay(t, filepath.Join(meshDir, "bay_20k"))[10:40]
	run := func(workers int) []Result {
		out := make([]Result, len(parts)*len(parts))
		err := geom.Each(context.Background(), workers, len(out), nil, func(i int) (err error) {
			out[i], err = Between(context.Background(), parts[i/len(parts)], parts[i%len(parts)], Options{EnoughMM: 40})
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	one := run(1)
	for _, workers := range []int{2, 7} {
		if got := run(workers); !slices.Equal(got, one) {
			t.Errorf("%d workers give another answer than one", workers)
		}
	}
}
