package desk

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/thermal/spot"
)

func TestAttentionSelectsAndHides(t *testing.T) {
	var a Attention
	a.Select("block", false)
	a.Select("lid", true)
	a.Select("tray", true)
	a.Select("lid", true)
	if got := strings.Join(a.Selected, ","); got != "tray,block" {
		t.Errorf("selected %s", got)
	}
	before := a.Clone()
	a.Hide("lid", true)
	if before.Hidden["lid"] || !a.Hidden["lid"] {
		t.Error("hiding reaches the copy")
	}
	a.Hide("lid", false)
	s := opened(t).State()
	a.Isolate(&s)
	if len(a.Hidden) != 2 || !a.Hidden["lid"] || !a.Hidden["pipe"] {
		t.Errorf("isolated: hidden %v", a.Hidden)
	}
}

func TestPictureOfAFinding(t *testing.T) {
	d := opened(t)
	s := d.State()
	p := NewPainter()
	a := Attention{}
	plain := p.Picture(&s, &a)
	if len(plain.Items) != 4 || plain.Parts[3] != "pipe" || !plain.Items[2].Ghost || plain.Items[0].Ghost || len(plain.Items[0].Edges) != 12 {
		t.Fatalf("plain picture: %v", plain.Parts)
	}
	i := slices.IndexFunc(FitPage(s.Answers.Fit.Value, "all").Rows, func(r Row) bool { return r.Cells[1] == "lid" && r.Verdict == "short" })
	a.Finding = FitPage(s.Answers.Fit.Value, "all").Rows[i].Key
	shown := p.Picture(&s, &a)
	w := shown.Overlay.Witnesses
	if len(w) != 1 || w[0].Text != "12.00 mm" || w[0].From[2] != 600 || w[0].To[2] != 612 {
		t.Errorf("witness %+v", w)
	}
	if shown.Items[2].Ghost || shown.Items[2].Hidden || !shown.Items[3].Ghost {
		t.Error("the two parts do not stand out")
	}
	if KeyOf(&s, &a) == KeyOf(&s, &Attention{}) || KeyOf(&s, &a) != KeyOf(&s, &a) {
		t.Error("the key does not tell the pictures apart")
	}
	if text := strings.Join(FindingText(&s, a.Finding), "\n"); !strings.Contains(text, "asked 15.00 mm") || !strings.Contains(text, "Source: test") {
		t.Errorf("finding: %s", text)
	}
}

func TestHiddenPlaceIsCutOpen(t *testing.T) {
	d := opened(t)
	s := d.State()
	a := Attention{Finding: "block ~ lid @ static"}
	if shown := NewPainter().Picture(&s, &a); len(shown.Cuts) > 0 {
		t.Errorf("a place in plain sight is cut open: %+v", shown.Cuts)
	}
	if err := d.Place("lid", geom.Vec{0, 0, -20}, geom.Vec{}); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	s = d.State()
	shown := NewPainter().Picture(&s, &a)
	if len(shown.Cuts) == 0 || !strings.HasPrefix(shown.Note, "cut through") || !strings.HasPrefix(shown.Overlay.Witnesses[0].Text, "overlap ") {
		t.Errorf("an overlap inside two solids: cut %+v, note %q", shown.Cuts, shown.Note)
	}
	if from, to, heightMM, ok := FindingView(&s, a.Finding); !ok || heightMM < 10*from.Sub(to).Len() {
		t.Errorf("view of %v to %v, %v mm high", from, to, heightMM)
	}
}

func TestHeatPicture(t *testing.T) {
	d := opened(t)
	s := d.State()
	p := NewPainter()
	a := Attention{Page: Heats}
	hot := p.Picture(&s, &a)
	if hot.Field == nil || hot.Field.Unit != "°C" || hot.Field.High >= 600 || hot.Field.High <= hot.Field.Low {
		t.Fatalf("scale %+v: the held pipe should not stretch it", hot.Field)
	}
	if f := hot.Items[3].Field; len(f) != 12 || f[0] != 600 {
		t.Errorf("the pipe shows %v", f)
	}
	a.Heat = Irradiated
	irradiated := p.Picture(&s, &a)
	if irradiated.Field.Unit != "kW/m²" || irradiated.Items[0].Field == nil {
		t.Errorf("irradiation: %+v", irradiated.Field)
	}
	again := p.Picture(&s, &a)
	if &again.Items[0].Field[0] != &irradiated.Items[0].Field[0] {
		t.Error("the irradiation is computed twice")
	}
	rows := HeatPage(s.Answers.Heat.Value, 0).Rows
	if len(rows) != 4 || HeatPage(s.Answers.Heat.Value, 7).Rows != nil {
		t.Errorf("%d heat rows", len(rows))
	}
}

func TestPlaceAndNudge(t *testing.T) {
	d := opened(t)
	if err := d.Place("lid", geom.Vec{0, 0, 5}, geom.Vec{0, 0, 90}); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if err := d.Nudge([]string{"lid", "tray"}, geom.Vec{1, 0, 0}, true); err != nil {
			t.Fatal(err)
		}
	}
	s := d.State()
	if text, ok := PartTextOf(&s, "lid"); !ok || text.Pose != [6]string{"3.00", "0.00", "5.00", "0.00", "0.00", "90.00"} {
		t.Errorf("the lid: %v", text.Pose)
	}
	if s.Undo != "move lid and 1 more" {
		t.Errorf("undo says %q", s.Undo)
	}
	for _, want := range []geom.Vec{{0, 0, 5}, {}} {
		if err := d.Undo(); err != nil {
			t.Fatal(err)
		}
		if got := d.State().Doc.Parts[2].MoveMM; got != want {
			t.Errorf("undone to %v, want %v", got, want)
		}
	}
	if err := d.Place("nobody", geom.Vec{}, geom.Vec{}); err == nil {
		t.Error("a part that is not there was placed")
	}
	if _, ok := PartTextOf(&s, "nobody"); ok {
		t.Error("a part that is not there is described")
	}
}

// A group moved down by its own nudge stands as one lowered by the drop does.
func TestNudgeGroupAsDrop(t *testing.T) {
	d := opened(t)
	if err := d.PreviewDrop(4); err != nil {
		t.Fatal(err)
	}
	if err := d.KeepDrop(); err != nil {
		t.Fatal(err)
	}
	dropped := d.State().Doc
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if err := d.NudgeGroupOf([]string{"block"}, geom.Vec{0, 0, -4}, false); err != nil {
		t.Fatal(err)
	}
	a, err := layout.Encode(dropped)
	if err != nil {
		t.Fatal(err)
	}
	b, err := layout.Encode(d.State().Doc)
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(b) {
		t.Errorf("dropped:\n%s\nnudged:\n%s", a, b)
	}
	if err := d.NudgeGroup("nobody's", geom.Vec{1, 0, 0}, false); err == nil {
		t.Error("a group without parts was moved")
	}
}

func TestUseSpot(t *testing.T) {
	d := opened(t)
	err := d.Edit("ask for a coil", func(doc *layout.Document) error {
		doc.Spots = []layout.Spot{{Name: "coil", Mesh: "pipe.stl", Role: "coil", Hosts: []string{"part:block"}}}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	place := spot.Spot{Rank: 2, Host: "block", Group: "powertrain", PointMM: geom.Vec{1, 2, 3}, TurnDeg: geom.Vec{0, 0, 45}}
	for range 2 { // a second time it only moves
		if err := d.UseSpot(Use{"coil", place}); err != nil {
			t.Fatal(err)
		}
	}
	doc := d.State().Doc
	if n := len(doc.Parts); n != 5 {
		t.Fatalf("%d parts", n)
	}
	c := doc.Parts[4]
	if c.Name != "coil" || c.MoveMM != place.PointMM || c.TurnDeg != place.TurnDeg || c.Group != "powertrain" || c.Role != "coil" {
		t.Errorf("the coil: %+v", c)
	}
	if len(doc.Joined) != 1 || doc.Joined[0] != [2]string{"coil", "block"} {
		t.Errorf("joined: %v", doc.Joined)
	}
	if err := d.UseSpot(Use{"lamp", place}); err == nil {
		t.Error("a component that nobody asks for was mounted")
	}
}

func TestCancelAndResume(t *testing.T) {
	d := opened(t)
	if err := d.PreviewDrop(3); err != nil { // the longer jobs rest a moment first
		t.Fatal(err)
	}
	d.Cancel()
	s := d.State()
	if !s.Cancelled() || !errors.Is(s.Answers.Heat.Err, ErrCancelled) {
		t.Fatalf("not cancelled: %v", s.Answers.Heat.Err)
	}
	d.Resume()
	wait(t, d)
	s = d.State()
	if s.Cancelled() || !s.Answers.Heat.Fresh || !s.Answers.Fit.Fresh {
		t.Errorf("not resumed: %+v", s.Tiles)
	}
}

func TestSaveAs(t *testing.T) {
	d := opened(t)
	if err := d.Place("lid", geom.Vec{0, 0, 5}, geom.Vec{}); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{t.TempDir() + "/other", t.TempDir() + "/packed.aftbay"} {
		if err := d.SaveAs(target); err != nil {
			t.Fatal(err)
		}
		if s := d.State(); s.Unsaved || s.Path != target {
			t.Errorf("saved as %s: path %s, unsaved %v", target, s.Path, s.Unsaved)
		}
		if err := d.Nudge([]string{"lid"}, geom.Vec{1, 0, 0}, true); err != nil {
			t.Fatal(err)
		}
		if err := d.Save(); err != nil {
			t.Fatal(err)
		}
		again := New(1, nil)
		if err := again.Open(context.Background(), target); err != nil {
			t.Fatal(err)
		}
		if got, want := again.State().Doc.Parts[2].MoveMM, d.State().Doc.Parts[2].MoveMM; got != want {
			t.Errorf("%s holds the lid at %v, want %v", target, got, want)
		}
		if err := again.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestDropLine(t *testing.T) {
	d := opened(t)
	for _, c := range []struct {
		dropMM        float64
		line, verdict string
	}{
		{0, "must come down to 3.00 mm at least", "short"},
		{5, "15.00 mm left", "ok"},
		{21, "1.00 mm too low: stopped at 20.00 mm", "short"},
	} {
		if err := d.PreviewDrop(c.dropMM); err != nil {
			t.Fatal(err)
		}
		s := d.State()
		if line, verdict := DropLine(&s); !strings.HasPrefix(line, c.line) || verdict != c.verdict {
			t.Errorf("at %v mm: %q, %s; want %q, %s", c.dropMM, line, verdict, c.line, c.verdict)
		}
	}
}
