package desk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/units"
	"aftbay/thermal/shield"
)

func TestShieldOfReadsWhatIsTyped(t *testing.T) {
	s := heated(t).State()
	a := Attention{Page: Heats, Selected: []string{"block"}}
	if over := ShieldOver(&s, &a); len(over) == 0 || over[0] == "block" {
		t.Errorf("may cover %q", over)
	}
	sh, err := ShieldOf(&s, ShieldInput{Over: "pipe", For: "block", Form: shield.Plate, Offset: "1,2 cm", Emissivity: "0,1"})
	if err != nil || *sh.OffsetMM != 12 || *sh.Emissivity != 0.1 || sh.Name != "shield for block" {
		t.Errorf("%+v, %v", sh, err)
	}
	for _, bad := range []ShieldInput{{Offset: "far"}, {Offset: ""}, {Offset: "10", Emissivity: "shiny"}, {Offset: "10", Emissivity: "1.2"}, {Offset: "10", Emissivity: "0"}} {
		if _, err := ShieldOf(&s, bad); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func TestShieldIsTriedKeptAndUndone(t *testing.T) {
	d := heated(t)
	s := d.State()
	before := partHeat(&s, 0, "block").Irradiation.MeanWM2
	sh, err := ShieldOf(&s, ShieldInput{Over: "pipe", For: "block", Form: shield.Plate, Offset: "15"})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.TryShield(sh); err != nil {
		t.Fatal(err)
	}
	if err := d.KeepShield(); err == nil {
		t.Error("kept before its answer")
	}
	wait(t, d)
	s = d.State()
	a := Attention{Page: Heats, Selected: []string{"block"}}
	after := partHeat(WithShield(&s, &a), 0, "block")
	if s.Trial == nil || !s.Answers.Shield.Fresh || after.Irradiation.MeanWM2 >= before {
		t.Fatalf("trial %v, fresh %v, irradiation %v of %v", s.Trial, s.Answers.Shield.Fresh, after.Irradiation.MeanWM2, before)
	}
	says := strings.Join(ShieldSays(&s), "\n")
	for _, want := range []string{"shield for block, over pipe.", "The shield itself in drive: "} {
		if !strings.Contains(says, want) {
			t.Errorf("does not say %q:\n%s", want, says)
		}
	}
	rows := TrialTable(&s).Rows
	if len(rows) < 2 || rows[0].Key != "block/drive" || rows[1].Key != "block/off" || rows[0].Cells[2] != units.NumberDegC(after.Temperature.NominalDegC) {
		t.Errorf("compares %+v", rows)
	}
	p := NewPainter()
	pic := p.Picture(&s, &a)
	if len(pic.Items) != 5 || pic.Parts[4] != "" || len(pic.Items[4].Field) == 0 || !strings.Contains(pic.Note, "with the shield on trial") {
		t.Errorf("%d items, note %q", len(pic.Items), pic.Note)
	}
	if lines := Readout(&s, &a, &pic, 4, 0); len(lines) == 0 || !strings.HasPrefix(lines[0], "shield for block") {
		t.Errorf("the sheet reads %q", lines)
	}
	a.Without = true
	if bare := p.Picture(&s, &a); len(bare.Items) != 4 || bare.Field.Low != pic.Field.Low || bare.Field.High != pic.Field.High {
		t.Errorf("without it: %d items, scale %v to %v, with it %v to %v", len(bare.Items), bare.Field.Low, bare.Field.High, pic.Field.Low, pic.Field.High)
	}
	keepAndUndo(t, d)
}

// keepAndUndo keeps the shield on trial and takes that back.
func keepAndUndo(t *testing.T, d *Desk) {
	t.Helper()
	if err := d.KeepShield(); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	s := d.State()
	i, known := s.Scene.Index("shield for block")
	if !known || s.Trial != nil || s.Undo != "keep shield for block" || s.Scene.Parts[i].Role != "shield" {
		t.Fatalf("known %v, trial %v, undo %q", known, s.Trial, s.Undo)
	}
	file := s.Doc.Parts[len(s.Doc.Parts)-1].Mesh
	if _, err := os.Stat(filepath.Join(s.Path, filepath.FromSlash(file))); err != nil || file != "meshes/shield-for-block.stl" {
		t.Errorf("mesh %q: %v", file, err)
	}
	if next, err := ShieldOf(&s, ShieldInput{Over: "pipe", For: "block", Offset: "30"}); err != nil || next.Name != "shield 2 for block" {
		t.Errorf("the next one is called %q, %v", next.Name, err)
	}
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if s := d.State(); len(s.Doc.Parts) != 4 {
		t.Errorf("%d parts after undo", len(s.Doc.Parts))
	}
	if _, err := os.Stat(filepath.Join(s.Path, filepath.FromSlash(file))); err == nil {
		t.Errorf("undo leaves the mesh %q", file)
	}
}

func TestShieldFollowsChangesAndGoes(t *testing.T) {
	d := heated(t)
	s := d.State()
	sh, err := ShieldOf(&s, ShieldInput{Over: "pipe", For: "block", Form: shield.Plate, Offset: "15"})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.TryShield(sh); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	if err := d.Edit("hotter", func(doc *layout.Document) error {
		doc.Parts[3].Thermal.HeldDegC = ptr(700.0)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	stale := d.State()
	if stale.Answers.Shield.Fresh || stale.Trial == nil {
		t.Error("after a change the trial must not pass as fresh")
	}
	wait(t, d)
	s = d.State()
	if got := s.Answers.Shield.Value.Before; got != s.Answers.Heat.Value || !s.Answers.Shield.Fresh {
		t.Error("the trial is not of the present state")
	}
	if err := d.PreviewDrop(1); err != nil { // the longer jobs rest a moment first
		t.Fatal(err)
	}
	d.Cancel()
	if s := d.State(); !s.Cancelled() || !errors.Is(s.Answers.Shield.Err, ErrCancelled) {
		t.Errorf("not cancelled: %v", s.Answers.Shield.Err)
	}
	d.Resume()
	wait(t, d)
	if s := d.State(); s.Cancelled() || !s.Answers.Shield.Fresh {
		t.Error("the trial is not resumed")
	}
	d.DropShield()
	if s := d.State(); s.Trial != nil || s.Answers.Shield.Value != nil || ShieldSays(&s) != nil {
		t.Error("a dropped shield stays")
	}
	bad := sh
	bad.Over = "nobody"
	if err := d.TryShield(bad); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	s = d.State()
	if says := ShieldSays(&s); len(says) != 1 || !strings.Contains(says[0], "nobody") {
		t.Errorf("a shield over nothing says %q", says)
	}
}
