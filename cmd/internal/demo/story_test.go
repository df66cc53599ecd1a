package demo

import (
	"context"
	"os"
	"testing"

	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

// stage writes a variant and loads it as anyone would.
func stage(t *testing.T, v Variant) *scene.Scene {
	t.Helper()
	dir := t.TempDir()
	if err := Write(dir, v); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if os.Getenv("STILL") != "" {
		doc.Groups[0].Motion = nil
	}
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestStory(t *testing.T) {
	for _, v := range Variants() {
		s := stage(t, v)
		r, err := clearance.Run(context.Background(), s, clearance.Options{}, func(d, n int) {
			if d%100 == 0 {
				println(d, n)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(v, r.Count(), len(r.Unchecked))
		for i := range r.Pairs {
			if p := &r.Pairs[i]; p.Verdict != clearance.OK && p.Verdict != clearance.NoRule {
				t.Logf("%-8s %-55s %7.2f of %g  %v %v  [%s]", p.Verdict, p.ID, p.ClearanceMM, *p.LeastMM, p.PointA, p.PointB, p.Rule)
			}
		}
	}
}

func TestDropStory(t *testing.T) {
	for _, v := range Variants() {
		d, err := drop.Run(context.Background(), stage(t, v), drop.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Log(v, d.WindowMM, d.ReachMM, d.Binding.Low, d.Binding.High, d.Notes, d.Angles)
		for i, l := range d.Limits {
			if l.Reached && (i < 14 || l.WindowsMM == nil || len(l.WindowsMM) == 0 || l.WindowsMM[0][0] > 0) {
				t.Log(l.Name, l.WindowsMM, l.Source)
			}
		}
	}
}
