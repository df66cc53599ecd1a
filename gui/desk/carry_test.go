package desk

import (
	"math"
	"reflect"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// movementsOf are moves to try: a shift, a turn, both.
func movementsOf() []geom.Pose {
	turn := geom.Turn(geom.Vec{0.3, -0.7, 1.1})
	return []geom.Pose{geom.Shift(geom.Vec{1.5, -2, 0.25}), geom.About(geom.Vec{1700, 0, 400}, turn, geom.Vec{}), geom.About(geom.Vec{1, 2, 3}, turn, geom.Vec{4, 5, 6})}
}

// TestMovableSharesNothingThatMoves: moving a movable copy leaves the document as
// it was, and gives what moving a full copy gives.
func TestMovableSharesNothingThatMoves(t *testing.T) {
	s := maximalState(t)
	before, err := copyOf(s.Doc)
	must(t, err)
	for _, by := range movementsOf() {
		for _, l := range []Load{{Group: s.Doc.Groups[0].Name}, {Parts: []string{s.Doc.Parts[0].Name}}} {
			full, err := copyOf(s.Doc)
			must(t, err)
			must(t, l.put(full, by))
			quick := movable(s.Doc)
			must(t, l.put(quick, by))
			if !reflect.DeepEqual(full, quick) {
				t.Errorf("%v: the quick copy moves otherwise", l)
			}
			if !reflect.DeepEqual(before, s.Doc) {
				t.Fatalf("%v: the document itself was moved", l)
			}
		}
	}
}

// TestTurningIsRigid: a group that is turned has every point where the pose says,
// and the part's own pose agrees with it to a nanometre.
func TestTurningIsRigid(t *testing.T) {
	s := maximalState(t)
	for _, by := range movementsOf() {
		doc := movable(s.Doc)
		must(t, Load{Group: s.Doc.Groups[0].Name}.put(doc, by))
		for i := range doc.Parts {
			was, now := scene.PoseOf(&s.Doc.Parts[i]), scene.PoseOf(&doc.Parts[i])
			if s.Doc.Parts[i].Group != s.Doc.Groups[0].Name {
				continue
			}
			for _, p := range []geom.Vec{{}, {1000, 0, 0}, {0, -700, 300}} {
				if off := now.Point(p).Sub(by.Point(was.Point(p))).Len(); off > 2e-6 {
					t.Errorf("%s: %v mm off", doc.Parts[i].Name, off)
				}
			}
		}
		if got, want := doc.Groups[0].PivotMM, by.Point(s.Doc.Groups[0].PivotMM); got.Sub(want).Len() > 2e-6 {
			t.Errorf("pivot at %v, want %v", got, want)
		}
		if err := layout.Check(doc); err != nil {
			t.Error(err)
		}
	}
}

func TestAnglesGiveTheTurnBack(t *testing.T) {
	for _, turn := range []geom.Vec{{}, {0.1, 0.2, 0.3}, {3, -1.5, -3}, {0.4, math.Pi / 2, 0.9}, {0, -math.Pi / 2, 2}} {
		r := geom.Turn(turn)
		again := geom.Turn(geom.Angles(r))
		for k := range r {
			if math.Abs(r[k]-again[k]) > 1e-7 {
				t.Errorf("%v: %v, want %v", turn, again, r)
				break
			}
		}
	}
}

// TestCarryingIsNoEdit: while a part is carried the answers are of where it is
// shown, the layout and its journal stay; putting it down is one edit that gives
// the same answers.
func TestCarryingIsNoEdit(t *testing.T) {
	d := New(2, nil)
	t.Cleanup(func() { must(t, d.Close()) })
	must(t, d.OpenToWork(t.Context(), plainLayout(t), Ask))
	wait(t, d)
	before := d.State()
	lid := Load{Parts: []string{"lid"}}
	for _, mm := range []float64{-1, -2, -4} {
		must(t, d.Carry(lid, geom.Shift(geom.Vec{0, 0, mm})))
	}
	wait(t, d)
	carried := d.State()
	if carried.Undo != "" || carried.Unsaved || !reflect.DeepEqual(carried.Doc, before.Doc) {
		t.Error("carrying changed the layout")
	}
	gap := func(s State) float64 {
		for _, p := range s.Answers.Fit.Value.Pairs {
			if p.A == "block" && p.B == "lid" && p.State == layout.StateStatic {
				return p.ClearanceMM
			}
		}
		t.Fatal("no such pair")
		return 0
	}
	if gap(before) != 12 || gap(carried) != 8 {
		t.Errorf("%v, then %v; want 12, then 8", gap(before), gap(carried))
	}
	d.LetGo()
	wait(t, d)
	if s := d.State(); gap(s) != 12 {
		t.Errorf("let go: %v, want 12", gap(s))
	}
	must(t, d.Carry(lid, geom.Shift(geom.Vec{0, 0, -4})))
	must(t, d.PutDown())
	wait(t, d)
	if s := d.State(); gap(s) != 8 || s.Undo != "move lid" || s.Doc.Parts[2].MoveMM != (geom.Vec{0, 0, -4}) {
		t.Errorf("put down: %v, undo %q, %v", gap(s), s.Undo, s.Doc.Parts[2].MoveMM)
	}
	must(t, d.Carry(lid, geom.Shift(geom.Vec{0, 0, 99})))
	must(t, d.Undo())
	wait(t, d)
	if s := d.State(); gap(s) != 12 {
		t.Errorf("an undo while carrying: %v, want 12", gap(s))
	}
	if err := d.Carry(Load{Parts: []string{"nothing"}}, geom.Identity()); err == nil {
		t.Error("a part that there is not was carried")
	}
}
