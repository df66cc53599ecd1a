package clearance

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene/fixture"
)

// TestLoadsMove: the loads of a group on mounts are positions of the moving
// state, and the worst one is named. Four springs of 90 N/mm sideways carry
// 300 kg: at 1 g it goes 300·9.80665/360 mm to the side (statics, by hand), out
// of the 40 mm that there are at rest; a hanging load changes nothing, because
// the parts are drawn under it.
func TestLoadsMove(t *testing.T) {
	doc, meshes := twoBlocks()
	g := &doc.Groups[0]
	g.MassKg, g.CgMM, g.DrawnG = new(300.0), &geom.Vec{}, &geom.Vec{0, 0, -1}
	for _, x := range []float64{-200, 200} {
		for _, y := range []float64{-150, 150} {
			g.Mounts = append(g.Mounts, layout.Spring{AtMM: geom.Vec{x, y, 0}, KNMM: geom.Vec{120, 90, 250}})
		}
	}
	g.Loads = []layout.Load{
		{Name: "at rest", G: geom.Vec{0, 0, -1}}, {Name: "left", G: geom.Vec{0, 1, -1}}, {Name: "right", G: geom.Vec{0, -1, -1}},
	}
	doc.Rules = []layout.Rule{{A: "part:block", B: "part:wall", State: "moving", LeastMM: 35}}
	p := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), "block ~ wall @ moving")
	wantMM := 40 - 300*9.80665/360
	if math.Abs(p.ClearanceMM-wantMM) > 1e-6 || p.ErrorMM > searchMM+1e-9 || p.Verdict != Short {
		t.Errorf("got %.6f ± %.2g %s, want %.6f, short", p.ClearanceMM, p.ErrorMM, p.Verdict, wantMM)
	}
	if w := p.WorstPose["powertrain"]; w.Name != "left" || math.Abs(w.YMM-(40-wantMM)) > 1e-9 {
		t.Errorf("worst pose %+v, want left", w)
	}
}
