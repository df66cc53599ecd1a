package desk

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
)

// TestHandlesFollowThePointer: along an axis, square to one and about one, what
// was gripped stays under the line of sight, by geometry that can be done by hand.
func TestHandlesFollowThePointer(t *testing.T) {
	g := Grips{At: geom.Vec{1000, 100, 300}, ArmMM: 100}
	down := geom.Vec{0, 0, -1}
	from := func(x, y float64) geom.Vec { return geom.Vec{x, y, 5000} }
	h, ok := g.Take(Grip{AlongGrip, 0}, from(1050, 100), down)
	if !ok {
		t.Fatal("not taken")
	}
	by, says, ok := h.Pose(from(1062.34, 180), down, false)
	if !ok || by.T.Sub(geom.Vec{12.3, 0, 0}).Len() > 1e-9 || says != "x +12.30 mm" {
		t.Errorf("along x: %v %q", by.T, says)
	}
	if by, _, _ = h.Pose(from(1062.34, 180), down, true); by.T != (geom.Vec{10, 0, 0}) {
		t.Errorf("coarsely: %v", by.T)
	}
	h, _ = g.Take(Grip{AcrossGrip, 2}, from(1040, 140), down)
	if by, says, _ = h.Pose(from(1030, 145.5), down, false); by.T.Sub(geom.Vec{-10, 5.5, 0}).Len() > 1e-9 || !strings.Contains(says, "y +5.50 mm") {
		t.Errorf("square to z: %v %q", by.T, says)
	}
	h, _ = g.Take(Grip{AboutGrip, 2}, from(1080, 100), down)
	by, says, _ = h.Pose(from(1000, 180), down, false)
	if got := by.Point(geom.Vec{1080, 100, 7}); got.Sub(geom.Vec{1000, 180, 7}).Len() > 1e-9 || says != "about z +90.0°" {
		t.Errorf("a quarter about z: %v %q", got, says)
	}
	if _, ok = g.Take(Grip{AlongGrip, 2}, from(1000, 100), down); ok {
		t.Error("along the line of sight no way can be told")
	}
	if _, ok = g.Take(Grip{AboutGrip, 0}, from(1000, 100), down); ok {
		t.Error("in the plane of sight no turn can be told")
	}
}

func TestHandlesStandAroundWhatIsSelected(t *testing.T) {
	d := New(1, nil)
	t.Cleanup(func() { must(t, d.Close()) })
	must(t, d.Open(t.Context(), plainLayout(t)))
	s := d.State()
	a := Attention{Selected: []string{"lid"}}
	g, ok := GripsOf(&s, &a, true)
	if !ok || g.At != (geom.Vec{1700, 0, 616}) || g.Load.Group != "" {
		t.Errorf("%+v", g)
	}
	a.Selected = []string{"block"}
	if g, ok = GripsOf(&s, &a, true); !ok || g.Load.Group != "powertrain" || g.At != (geom.Vec{1700, 0, 400}) {
		t.Errorf("a group turns about its pivot: %+v", g)
	}
	g.ArmMM = 50
	for _, h := range g.All() {
		for _, line := range g.Lines(h) {
			for _, p := range line {
				if off := p.Sub(g.At).Len(); off > 50*1.001 || math.IsNaN(off) {
					t.Errorf("%v: %v off the middle", h, off)
				}
			}
		}
		if len(GripHint(g, h)) == 0 {
			t.Errorf("%v says nothing", h)
		}
	}
	if _, ok = GripsOf(&s, &Attention{}, false); ok {
		t.Error("nothing is selected")
	}
}
