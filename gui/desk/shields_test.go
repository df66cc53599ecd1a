package desk

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/units"
	"aftbay/gui/report"
	"aftbay/thermal/balance"
	"aftbay/thermal/shield"
)

// The shields of the layout are tried without being asked for: page, packet and
// a trial by itself give the same figures, and one that can't be tried is told.
func TestShieldsOfTheLayout(t *testing.T) {
	d := heated(t)
	must(t, d.Edit("shields", func(doc *layout.Document) error {
		doc.Heat.Shields = []layout.Shield{
			{Name: "plate", Over: "pipe", For: "block", Form: shield.Plate, OffsetMM: ptr(15.0)},
			{Name: "unknown", Over: "pipe", For: "block", Form: shield.Plate, Material: "unobtainium"},
		}
		return nil
	}))
	wait(t, d)
	s := d.State()
	got := LayoutShields(&s)
	one, err := shield.Try(context.Background(), s.Scene, nil, &s.Doc.Heat.Shields[0], balance.Options{}, nil)
	must(t, err)
	if len(got.Rows) != 2 || one.Changes[0].Part != "block" || got.Rows[0].Cells[2] != units.NumberDegC(one.Changes[0].Before.Temperature.NominalDegC) ||
		got.Rows[0].Cells[3] != units.NumberDegC(one.Changes[0].After.Temperature.NominalDegC) {
		t.Errorf("the page lists %+v, by itself it gives %+v", got.Rows, one.Changes)
	}
	if says := LayoutShieldsSay(&s); len(says) != 2 || says[0] != one.Sentence.String() || !strings.Contains(says[1], "unobtainium") {
		t.Errorf("says %q", says)
	}
	if sh, ok := LayoutShield(&s, &got.Rows[1]); !ok || sh.Name != "plate" {
		t.Errorf("a row leads to %+v", sh)
	}
	list := shieldRows(&s)
	if len(list) != 1 || list[0].Sentence != one.Sentence.String() || list[0].Rows[0].AfterDegC != one.Changes[0].After.Temperature.NominalDegC ||
		list[0].Rows[0].Verdict != report.Verdict(one.Changes[0].After.Verdict) {
		t.Errorf("the packet lists %+v", list)
	}
	must(t, d.Edit("none", func(doc *layout.Document) error {
		doc.Heat.Shields = nil
		return nil
	}))
	wait(t, d)
	if s := d.State(); LayoutShieldsSay(&s) != nil || len(LayoutShields(&s).Rows) > 0 || shieldRows(&s) != nil {
		t.Error("shields that are gone are told of")
	}
}

// A shield is kept in one packed file too: undone, redone, saved and opened
// again, with no word that another program had changed the file.
func TestShieldIsKeptInAPackedLayout(t *testing.T) {
	packed := filepath.Join(t.TempDir(), "bay.aftbay")
	must(t, heated(t).SaveCopy(packed))
	d := bareDesk(t)
	must(t, d.OpenToWork(context.Background(), packed, Ask))
	wait(t, d)
	s := d.State()
	sh, err := ShieldOf(&s, ShieldInput{Over: "pipe", For: "block", Form: shield.Plate, Offset: "15"})
	must(t, err)
	must(t, d.TryShield(sh))
	wait(t, d)
	must(t, d.KeepShield())
	d.LookAtDisk()
	if s := d.State(); s.Notice.Text != "" {
		t.Errorf("told %+v", s.Notice)
	}
	must(t, d.Undo())
	must(t, d.Save())
	must(t, d.Redo())
	wait(t, d)
	if s := d.State(); len(s.Doc.Parts) != 5 || s.Answers.Heat.Err != nil {
		t.Errorf("%d parts, %v", len(s.Doc.Parts), s.Answers.Heat.Err)
	}
	must(t, d.Save())
	must(t, d.Close())
	again := New(2, nil)
	must(t, again.Open(context.Background(), packed))
	defer again.Close()
	scene := again.State().Scene
	if i, known := scene.Index("shield for block"); !known || len(scene.Parts[i].Mesh.Tris) == 0 {
		t.Error("the shield is not in the saved file")
	}
}
