package sweep

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"aftbay/geom"
)

// TestRolledPoint: rotation about an axis, closed form of case VO-30 in
// testdata/reference/vehicle_open.json.
func TestRolledPoint(t *testing.T) {
	want := expected(t, "VO-30")["p_new"].([]any)
	m := Motion{Pivot: geom.Vec{0, 0, 430}}
	got := m.Pose(Setting{Roll: 2.5 * math.Pi / 180}).Point(geom.Vec{2200, 60, 820})
	for k := range 3 {
		if math.Abs(got[k]-want[k].(float64)) > 1e-6 {
			t.Errorf("axis %d: got %.9f, want %.9f", k, got[k], want[k])
		}
	}
}

func TestToleranceStacks(t *testing.T) {
	want := expected(t, "VO-27")
	s := StackOf(0.5, 1.0, 0.3, 0.8, 1.5, 0.2)
	if math.Abs(s.WorstMM-want["worst_case"].(float64)) > 1e-9 || math.Abs(s.RSSMM-want["rss"].(float64)) > 1e-9 {
		t.Errorf("got %+v, want %v", s, want)
	}
}

// TestGrowth: 316 primary of 600 mm from 20 to 500 °C, case VO-29.
func TestGrowth(t *testing.T) {
	want := expected(t, "VO-29")["dL"].(float64)
	scale := 1 + 18.2e-6*480
	g := Growth{Anchor: geom.Vec{100, 20, 5}, Scale: scale}
	cold := geom.Pose{R: geom.Turn(geom.Vec{0.3, -0.7, 1.1}), T: geom.Vec{40, -30, 12}}
	// The part point that stands 600 mm from the anchor.
	far := g.Anchor.Add(geom.Vec{0, 360, 480})
	partPoint := cold.Inverse().Point(far)
	hot := g.Pose(cold).Point(partPoint.Mul(scale))
	if got := hot.Sub(g.Anchor).Len() - 600; math.Abs(got-want) > 1e-9 {
		t.Errorf("grew by %.9f, want %.9f", got, want)
	}
	if at := g.Pose(cold).Point(cold.Inverse().Point(g.Anchor).Mul(scale)); at.Sub(g.Anchor).Len() > 1e-9 {
		t.Errorf("the anchor moved to %v", at)
	}
}

// TestStrayIsABound: no point of the box strays further between two turns of
// a cell than the bound says. Oracle: random points and turns.
func TestStrayIsABound(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	for range 300 {
		var m Motion
		for k := Roll; k <= Yaw; k++ {
			m.Lo[k], m.Hi[k] = -between(0, 0.2), between(0, 0.2)
		}
		m.Pivot = geom.Vec{between(-500, 500), between(-500, 500), between(-500, 500)}
		box := geom.EmptyBox()
		for range 2 {
			box = box.Grow(geom.Vec{between(-900, 900), between(-900, 900), between(-900, 900)})
		}
		var mid, half Setting
		for k := Roll; k <= Yaw; k++ {
			a, b := between(m.Lo[k], m.Hi[k]), between(m.Lo[k], m.Hi[k])
			mid[k], half[k] = (a+b)/2, math.Abs(a-b)/2
		}
		bound := NewArms(m, box).StrayMM(half)
		for range 50 {
			at := mid
			for k := Roll; k <= Yaw; k++ {
				at[k] += between(-half[k], half[k])
			}
			var p geom.Vec
			for k := range p {
				p[k] = between(box.Min[k], box.Max[k])
			}
			moved := m.Turned(at).Point(p).Sub(m.Turned(mid).Point(p)).Len()
			if moved > bound+1e-9 {
				t.Fatalf("a point strays %.6f mm, bound %.6f", moved, bound)
			}
			if reach := m.ReachMM(box); m.Pose(at).Point(p).Sub(p).Len() > reach+1e-9 {
				t.Fatalf("a point moves further than the reach %.6f", reach)
			}
		}
	}
}

func expected(t *testing.T, id string) map[string]any {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID       string         `json:"id"`
			Expected map[string]any `json:"expected"`
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == id {
			return c.Expected
		}
	}
	t.Fatalf("no case %s", id)
	return nil
}
