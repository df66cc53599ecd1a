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
	}{{"exact", 0}, {"enough 50 mm", 50}} {
		b.Run(bench.name, func(b *testing.B) {
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
						_, c := nearest(parts[i].Tree, parts[j].Tree, to, reachMM, nil)
						count.Nodes += c.Nodes
						count.Leaves += c.Leaves
					}
				}
			}
			pairs := len(parts) * (len(parts) - 1) / 2
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*pairs), "us/pair")
			b.ReportMetric(float64(count.Nodes), "nodes/op")
			b.ReportMetric(float64(count.Leaves), "leaves/op")
		})
	}
}

// benchBay is the bay of the test data, or the folder named by BENCH_BAY.
func benchBay() string {
	if dir := os.Getenv("BENCH_BAY"); dir != "" {
		return dir
	}
	return filepath.Join(meshDir, "bay_20k")
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
