package desk

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// plainAtWork opens the plain layout with all answers.
func plainAtWork(t *testing.T) *Desk {
	t.Helper()
	d := New(2, nil)
	t.Cleanup(func() { must(t, d.Close()) })
	must(t, d.OpenToWork(t.Context(), plainLayout(t), Ask))
	return d
}

// TestMoveUntil: the lid lies 12 mm over the block, whose top is at z = 600.
func TestMoveUntil(t *testing.T) {
	d := plainAtWork(t)
	lid := Load{Parts: []string{"lid"}}
	z := func() float64 { return d.State().Doc.Parts[2].MoveMM[2] }
	says, err := d.MoveUntil(t.Context(), Until{Load: lid, Dir: DirectionOf("down"), KeepMM: 10}, nil)
	must(t, err)
	if math.Abs(z()+2) > 2e-6 || !strings.Contains(says, "10.00 mm from block") {
		t.Errorf("z %v, %q", z(), says)
	}
	_, err = d.MoveUntil(t.Context(), Until{Load: lid, Dir: DirectionOf("down")}, nil)
	must(t, err)
	if math.Abs(z()+12) > 2e-6 {
		t.Errorf("contact at z %v, want -12", z())
	}
	// Contact is kept, so with 5 mm asked for the way leads back up.
	must(t, d.Edit("rule", func(doc *layout.Document) error {
		doc.Rules = []layout.Rule{{A: "part:lid", B: "role:engine", LeastMM: 5}}
		return nil
	}))
	_, err = d.MoveUntil(t.Context(), Until{Load: lid, Dir: DirectionOf("up"), Rules: true}, nil)
	must(t, err)
	if math.Abs(z()+7) > 2e-6 {
		t.Errorf("what the rules ask: z %v, want -7", z())
	}
	must(t, d.Undo())
	if math.Abs(z()+12) > 2e-6 {
		t.Error("undo does not take the way back")
	}
	must(t, d.Place("lid", geom.Vec{0, 0, 300}, geom.Vec{}))
	if _, err = d.MoveUntil(t.Context(), Until{Load: lid, Dir: DirectionOf("left")}, nil); err == nil || !strings.Contains(err.Error(), "meets nothing") {
		t.Errorf("to the left there is nothing: %v", err)
	}
	if _, err = d.MoveUntil(t.Context(), Until{Dir: DirectionOf("up")}, nil); err == nil {
		t.Error("nothing is selected")
	}
	if mm, rules, err := ParseKeep("1 cm"); err != nil || rules || mm != 10 {
		t.Errorf("%v %v %v", mm, rules, err)
	}
	if _, _, err := ParseKeep("-3"); err == nil {
		t.Error("a negative gap was taken")
	}
}

// TestOntoPoints: three points of a known move give that move; the first fits
// exactly where the distances do not agree.
func TestOntoPoints(t *testing.T) {
	by := geom.About(geom.Vec{100, 20, -30}, geom.Turn(geom.Vec{0.4, -1.1, 2.2}), geom.Vec{5, 6, 7})
	from := [3]geom.Vec{{0, 0, 0}, {120, 4, 0}, {10, 90, 33}}
	var onto [3]geom.Vec
	for i, p := range from {
		onto[i] = by.Point(p)
	}
	got, err := OntoPoints(from, onto)
	must(t, err)
	for _, p := range []geom.Vec{{}, {1000, 0, 0}, {0, 1000, 1000}} {
		if off := got.Point(p).Sub(by.Point(p)).Len(); off > 1e-9 {
			t.Errorf("%v mm off", off)
		}
	}
	onto[1] = onto[1].Add(onto[1].Sub(onto[0])) // twice as far, the same way
	got, err = OntoPoints(from, onto)
	must(t, err)
	if off := got.Point(from[0]).Sub(onto[0]).Len(); off > 1e-9 {
		t.Errorf("the first point is %v mm off", off)
	}
	if _, err := OntoPoints([3]geom.Vec{{}, {1, 0, 0}, {2, 0, 0}}, onto); err == nil || !strings.Contains(err.Error(), "one line") {
		t.Errorf("three points on one line: %v", err)
	}
	d := plainAtWork(t)
	must(t, d.PlaceByPoints(Load{Parts: []string{"lid"}}, [3]geom.Vec{{1400, -300, 612}, {2000, -300, 612}, {1400, 300, 612}}, [3]geom.Vec{{1500, -200, 600}, {1900, -200, 600}, {1500, 200, 600}}))
	if p := d.State().Doc.Parts[2]; p.MoveMM != (geom.Vec{100, 100, -12}) || p.TurnDeg != (geom.Vec{}) {
		t.Errorf("%v %v, want a shift by (100, 100, -12)", p.MoveMM, p.TurnDeg)
	}
}

// TestMirroring: every corner of the mirrored part is that of the part with y
// reversed, the volume stays positive, and undo takes it away.
func TestMirroring(t *testing.T) {
	d := plainAtWork(t)
	must(t, d.Place("lid", geom.Vec{10, 250, 3}, geom.Vec{5, 20, -30}))
	names, err := d.MirrorParts([]string{"lid", "tray"})
	must(t, err)
	s := d.State()
	if len(names) != 2 || names[0] != "lid copy" || s.Undo != "mirror lid and 1 more" {
		t.Fatalf("%v, undo %q", names, s.Undo)
	}
	i, _ := s.Scene.Index("lid")
	j, _ := s.Scene.Index("lid copy")
	a, b := &s.Scene.Parts[i], &s.Scene.Parts[j]
	if !b.Closed || math.Abs(a.Measures.VolumeMM3-b.Measures.VolumeMM3) > 1e-3*a.Measures.VolumeMM3 || b.Measures.VolumeMM3 < 0 {
		t.Errorf("closed %v, volume %v of %v", b.Closed, b.Measures.VolumeMM3, a.Measures.VolumeMM3)
	}
	for _, v := range a.Mesh.Verts {
		p := a.Pose.Point(v)
		q := b.Pose.Point(geom.Vec{v[0], -v[1], v[2]})
		if q.Sub(geom.Vec{p[0], -p[1], p[2]}).Len() > 1e-9 {
			t.Errorf("%v is mirrored to %v", p, q)
		}
	}
	must(t, d.Undo())
	if len(d.State().Doc.Parts) != 3 {
		t.Error("undo leaves the mirror images")
	}
}

func TestCopyAndGroup(t *testing.T) {
	d := plainAtWork(t)
	names, err := d.CopyParts([]string{"lid"})
	must(t, err)
	again, err := d.CopyParts([]string{"lid"})
	must(t, err)
	if names[0] != "lid copy" || again[0] != "lid copy 2" {
		t.Errorf("%v %v", names, again)
	}
	must(t, d.GroupParts([]string{"lid", "lid copy"}, "cover"))
	doc := d.State().Doc
	if doc.Parts[2].Group != "cover" || doc.Parts[3].Group != "cover" || len(doc.Groups) != 2 || doc.Groups[1].PivotMM != (geom.Vec{1700, 0, 616}) {
		t.Errorf("%+v", doc.Groups)
	}
	must(t, d.GroupParts([]string{"lid"}, ""))
	if d.State().Doc.Parts[2].Group != "" {
		t.Error("still in the group")
	}
	if _, err := d.CopyParts(nil); err == nil {
		t.Error("nothing was copied")
	}
}
