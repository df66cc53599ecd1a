package desk

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
	"aftbay/geom/sweep"
	"aftbay/geom/units"
)

// gapCase is a case of kind dynamic_gap.
type gapCase struct {
	Inputs struct {
		Static, Thermal float64
		Moves, Tol      []float64
	}
	Expected struct {
		Worst float64 `json:"gap_worst"`
		RSS   float64 `json:"gap_rss"`
	}
}

func referenceGap(t *testing.T, id string) (c gapCase) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []json.RawMessage }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, raw := range file.Cases {
		var named struct{ ID string }
		if err := json.Unmarshal(raw, &named); err != nil {
			t.Fatal(err)
		}
		if named.ID == id {
			if err := json.Unmarshal(raw, &c); err != nil {
				t.Fatal(err)
			}
			return c
		}
	}
	t.Fatalf("no case %s", id)
	return c
}

// TestBudgetOfReference: from what reference case VO-33 leaves, in the worst
// case and with the root sum square, the budget finds back what was taken off
// its static gap. Source: the formula and the sources that the case names; the
// file gives ten digits.
func TestBudgetOfReference(t *testing.T) {
	const givenMM = 1e-8
	c := referenceGap(t, "VO-33")
	stack := sweep.StackOf(c.Inputs.Tol...)
	leastMM := 50.0 // of the case's title
	b := BudgetOf(&clearance.Pair{
		State: layout.StateAll, StaticMM: c.Inputs.Static, GrowthMM: c.Inputs.Thermal, ToleranceMM: stack.WorstMM,
		ClearanceMM: c.Expected.Worst, ClearanceRSSMM: &c.Expected.RSS, LeastMM: &leastMM, MarginMM: ptr(c.Expected.Worst - leastMM),
	})
	for _, v := range []struct {
		name          string
		gotMM, wantMM float64
	}{
		{"motion", *b.MotionMM, c.Inputs.Moves[0]},
		{"growth", *b.GrowthMM, c.Inputs.Thermal},
		{"tolerance", *b.ToleranceMM, 1.0 + 0.8 + 1.5},
		{"tolerance, root sum square", *b.ToleranceRSSMM, math.Sqrt(1.0*1.0 + 0.8*0.8 + 1.5*1.5)},
		{"left", b.StaticMM - *b.MotionMM - *b.GrowthMM - *b.ToleranceMM, c.Expected.Worst},
		{"left, root sum square", b.StaticMM - *b.MotionMM - *b.GrowthMM - *b.ToleranceRSSMM, c.Expected.RSS},
		{"margin", *b.MarginMM, 2.1},
		{"margin, root sum square", *b.MarginRSSMM, 3.427691708},
	} {
		if math.Abs(v.gotMM-v.wantMM) > givenMM {
			t.Errorf("%s: %.9f, want %.9f", v.name, v.gotMM, v.wantMM)
		}
	}
}

// gapLayout is an exhaust box 62 mm beside a line, as in VO-33: it moves 4.5 mm
// towards it, grows 2.1 mm (300 mm · 0.007) and both have tolerances of 3.3 mm
// together.
func gapLayout(t *testing.T) string {
	t.Helper()
	doc := &layout.Document{
		Title: "Gap",
		Parts: []layout.Part{
			{
				Name: "pipe", Role: "exhaust", Mesh: "pipe.stl", Group: "powertrain", ToleranceMM: 1.8,
				Growth: &layout.Growth{PerK: 1e-5, FromDegC: 0, ToDegC: 700},
			},
			{Name: "line", Role: "fuel", Mesh: "line.stl", ToleranceMM: 1.5},
		},
		Groups: []layout.Group{{Name: "powertrain", Motion: &layout.Motion{YMM: layout.Range{-2, 4.5}}}},
	}
	for _, state := range []string{layout.StateStatic, layout.StateHot, layout.StateMoving, layout.StateAll} {
		doc.Rules = append(doc.Rules, layout.Rule{A: "part:pipe", B: "part:line", State: state, LeastMM: 50, Source: "test"})
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"pipe.stl": plain.Brick(geom.Vec{-100, 0, -50}, geom.Vec{100, 300, 50}),
		"line.stl": plain.Brick(geom.Vec{-200, 362, -80}, geom.Vec{200, 370, 80}),
	})
}

// TestBudgetOnPageAndInPacket: both print the same figures, and they are those
// of the gap's own arithmetic: 62 - 4.5 - 2.1 - 3.3 = 52.1 in the worst case,
// 62 - 4.5 - 2.1 - √(1.8² + 1.5²) with the root sum square.
func TestBudgetOnPageAndInPacket(t *testing.T) {
	d := New(2, nil)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := d.Open(context.Background(), gapLayout(t)); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	s := d.State()
	for state, want := range map[string]string{
		"static":       "static 62.00 = left 62.00 required 50.00 margin 12.00",
		"hot":          "static 62.00 − growth 2.10 = left 59.90 required 50.00 margin 9.90",
		"moving":       "static 62.00 − motion 4.50 = left 57.50 required 50.00 margin 7.50",
		"all together": "static 62.00 − motion 4.50 − growth 2.10 − tolerance 3.30 = left 52.10 required 50.00 margin 2.10",
	} {
		id := "pipe ~ line @ " + state
		table := BudgetTable(&s, id)
		var words []string
		for k, c := range table.Columns {
			words = append(words, c.Head, table.Rows[0].Cells[k])
		}
		if got := strings.Join(words, " "); got != want {
			t.Errorf("%s: %s, want %s", state, got, want)
		}
		f := (&packer{ctx: t.Context(), s: &s}).finding(findingOf(&s, id))
		var cells []string
		for _, mm := range []*float64{f.StaticMM, f.MotionMM, f.HeatMM, f.ToleranceMM, f.LiveMM, f.RequiredMM, f.MarginMM} {
			if mm != nil {
				cells = append(cells, units.NumberMM(*mm))
			}
		}
		if !slices.Equal(cells, table.Rows[0].Cells) {
			t.Errorf("%s: the packet says %v, the page %v", state, cells, table.Rows[0].Cells)
		}
		text := strings.Join(FindingText(&s, id), "\n")
		if rss := "With root-sum-square tolerance: 53.06 mm, margin 3.06 mm."; strings.Contains(text, rss) != (state == layout.StateAll) {
			t.Errorf("%s: %s", state, text)
		}
		if (f.LiveRSSMM != nil) != (state == layout.StateAll) || f.LiveRSSMM != nil && units.NumberMM(*f.LiveRSSMM) != "53.06" {
			t.Errorf("%s: the packet's root-sum-square gap is %v", state, f.LiveRSSMM)
		}
		if f.ChordErrorMM == nil || *f.ChordErrorMM != 0 || strings.Contains(text, "facet") {
			t.Errorf("%s: flat parts have a chord error: %s", state, text)
		}
	}
	if table := BudgetTable(&s, "no such finding"); len(table.Rows) != 0 {
		t.Errorf("no finding: %v", table)
	}
}

// TestChordErrorIsSaid only where the figures shown could differ by it.
func TestChordErrorIsSaid(t *testing.T) {
	for mm, want := range map[float64]string{0: "", 0.01: "", 0.1234: "faceted surfaces: off by up to 0.12 mm here (estimate)"} {
		if got := chordText(&clearance.Pair{ChordErrorMM: &mm}); got != want {
			t.Errorf("%g mm: %q, want %q", mm, got, want)
		}
	}
	if got := chordText(&clearance.Pair{}); got != "" {
		t.Errorf("not known: %q", got)
	}
}
