package desk

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
)

func TestCutsAreMadeMovedAndFlipped(t *testing.T) {
	d := opened(t)
	s := d.State()
	a := Attention{Selected: []string{"block"}}
	before := a.Clone()
	if err := a.CutAcross(&s, 0); err != nil {
		t.Fatal(err)
	}
	if err := a.CutAcross(&s, 2); err != nil {
		t.Fatal(err)
	}
	// The block runs from 1500 to 1900 and from 230 to 600: its middle.
	rows := CutRows(&a)
	if len(rows) != 2 || rows[0].Name != "A" || rows[0].At != "1700.00" || rows[0].Text != "across X, rear taken away, through block" || rows[1].At != "415.00" {
		t.Fatalf("rows %+v", rows)
	}
	copied := a.Clone()
	a.FlipCut("A")
	if err := a.PutCut("A", "1.65 m"); err != nil {
		t.Fatal(err)
	}
	if err := a.PutCut("A", "near the back"); err == nil {
		t.Error("no length, no error")
	}
	if rows := CutRows(&a); rows[0].At != "1650.00" || !strings.HasPrefix(rows[0].Text, "across X, front taken away") || a.Sections[0].Normal[0] != -1 {
		t.Errorf("flipped and put: %+v", rows[0])
	}
	if CutRows(&copied)[0].At != "1700.00" || len(before.Sections) != 0 {
		t.Error("the change reaches a copy")
	}
	// Dragged: the sight passes the line along X at x = 1802.3.
	grip := a.GripCut(Handle{Name: "A", At: geom.Vec{1650, 300, 620}}, geom.Vec{1650, -5000, 615}, geom.Vec{0, 1, 0})
	if grip.FromMM != 1650 || grip.At != (geom.Vec{1650, 300, 615}) {
		t.Errorf("gripped %+v", grip)
	}
	a.DragCut(grip, geom.Vec{1802.3, -5000, 415}, geom.Vec{0, 1, 0})
	if at := CutRows(&a)[0].At; at != "1802.50" {
		t.Errorf("dragged to %s, want 1802.50", at)
	}
	a.DragCut(grip, geom.Vec{9000, 0, 0}, geom.Vec{-1, 0, 0})
	if at := CutRows(&a)[0].At; at != "1802.50" {
		t.Errorf("a sight along the normal moves it to %s", at)
	}
	a.RestCut("A")
	shown := NewPainter().Picture(&s, &a)
	if len(shown.Cuts) != 1 || len(shown.Handles) != 2 || shown.Cuts[0].Normal != (geom.Vec{0, 0, 1}) || shown.Cuts[0].Grid || !a.Sections[0].Grid {
		t.Errorf("cuts %+v, handles %+v", shown.Cuts, shown.Handles)
	}
	// The handle of a level cut is at the rear right of what is shown.
	if at := shown.Handles[1].At; at.Sub(geom.Vec{2000, 300, 415}).Len() > 1e-6 {
		t.Errorf("handle at %v", at)
	}
	if KeyOf(&s, &a) == KeyOf(&s, &copied) {
		t.Error("the key does not tell the pictures apart")
	}
	a.RemoveCut("A")
	if name, err := a.AddCut(geom.Vec{}, geom.Vec{1, 1, 0}, ""); err != nil || name != "A" || CutRows(&a)[0].Text != "oblique" || CutRows(&a)[0].At != "0.00" {
		t.Errorf("%q, %v, %+v", name, err, CutRows(&a))
	}
	a.RemoveCut("")
	for range mostCuts {
		if _, err := a.AddCut(geom.Vec{}, geom.Vec{0, 0, 1}, ""); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := a.AddCut(geom.Vec{}, geom.Vec{0, 0, 1}, ""); err == nil || a.Sections[mostCuts-1].Name != "W" {
		t.Errorf("one too many: %v", err)
	}
	if _, err := (&Attention{}).AddCut(geom.Vec{}, geom.Vec{}, ""); err == nil {
		t.Error("a cut without a direction")
	}
}

func TestCutThroughAFinding(t *testing.T) {
	d := opened(t)
	s := d.State()
	a := Attention{}
	if err := a.CutFinding(&s); err == nil || !strings.Contains(err.Error(), "no finding") {
		t.Errorf("nothing selected: %v", err)
	}
	a.Finding = "block ~ lid @ static"
	if err := a.CutFinding(&s); err != nil {
		t.Fatal(err)
	}
	f := findingOf(&s, a.Finding)
	for _, p := range []geom.Vec{f.PointA, f.PointB} {
		if off := p.Sub(a.Sections[0].Point).Dot(a.Sections[0].Normal); math.Abs(off) > 1e-9 {
			t.Errorf("%v is %v mm off the cut", p, off)
		}
	}
	if text := CutRows(&a)[0].Text; !strings.HasSuffix(text, "through block ~ lid") {
		t.Error(text)
	}
	if err := a.CutFinding(&s); err != nil || len(a.Sections) != 0 {
		t.Errorf("a second time: %v, %v", err, a.Sections)
	}
	a.Selected = nil
	if err := a.CutAcross(&s, 0); err != nil || CutRows(&a)[0].At != "1700.00" {
		t.Errorf("with nothing selected the powertrain is cut: %v, %+v", err, CutRows(&a))
	}
	empty := State{}
	if a.CutAcross(&empty, 1) == nil {
		t.Error("nothing is open")
	}
}
