package desk

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// smallLayout writes a block under a lid over a tray, with a hot pipe beside,
// and returns its folder. The block may go down 20 mm until it is 10 mm over the
// tray; the lid is 12 mm above it.
func smallLayout(t *testing.T) string {
	t.Helper()
	held, mass, limit := 600.0, 150.0, 120.0
	doc := &layout.Document{
		Title: "Small",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain", MassKg: &mass, LimitDegC: &layout.Limit{ContinuousDegC: &limit}},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "deck", Mesh: "lid.stl"},
			{Name: "pipe", Role: "exhaust", Mesh: "pipe.stl", Thermal: &layout.Thermal{HeldDegC: &held}},
		},
		Groups: []layout.Group{{Name: "powertrain", PivotMM: geom.Vec{1700, 0, 400}}},
		Rules: []layout.Rule{
			{A: "part:block", B: "part:tray", LeastMM: 10, Source: "test"},
			{A: "part:block", B: "part:lid", LeastMM: 15, Source: "test"},
		},
		Drop: &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}},
		Heat: &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: ptr(60.0), SurroundingsDegC: ptr(50.0), AirSpeedMS: ptr(2.0)}}, Rays: ptr(128), PatchMM: ptr(100.0)},
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 230}, geom.Vec{1900, 200, 600}),
		"tray.stl":  plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
		"pipe.stl":  plain.Brick(geom.Vec{1500, 260, 400}, geom.Vec{1900, 300, 440}),
	})
}

// opened returns a desk with the small layout and all its answers.
func opened(t *testing.T) *Desk {
	t.Helper()
	d := New(2, nil)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := d.Open(context.Background(), smallLayout(t)); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	return d
}

func wait(t *testing.T, d *Desk) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	if err := d.Wait(ctx); err != nil {
		t.Fatal(err)
	}
}

func TestAnswersAndTiles(t *testing.T) {
	d := opened(t)
	s := d.State()
	if !s.Answers.Fit.Fresh || !s.Answers.Drop.Fresh || !s.Answers.Heat.Fresh || !s.Answers.Spots.Fresh {
		t.Fatalf("not all fresh: %+v", s.Tiles)
	}
	for i, want := range map[int]string{0: "1 fail; worst block to lid 12.00 mm", 1: "3.00 to 20.00 mm; then block comes within 10.00 mm of tray"} {
		if !strings.HasPrefix(s.Tiles[i].Answer, want) {
			t.Errorf("tile %d: %q, want it to begin with %q", i, s.Tiles[i].Answer, want)
		}
	}
	if s.Tiles[0].Verdict != "short" || s.Tiles[1].Verdict != "short" || s.Tiles[3].Verdict == "" {
		t.Errorf("verdicts %q %q %q", s.Tiles[0].Verdict, s.Tiles[1].Verdict, s.Tiles[3].Verdict)
	}
	if !strings.Contains(s.Status, "block to lid") {
		t.Errorf("status %q", s.Status)
	}
}

// TestPreviewAndKeepAgree: what the slider shows is what the edit gives.
func TestPreviewAndKeepAgree(t *testing.T) {
	d := opened(t)
	if err := d.PreviewDrop(5); err != nil {
		t.Fatal(err)
	}
	if d.State().Answers.Fit.Fresh {
		t.Error("after a move no answer may pass as fresh")
	}
	wait(t, d)
	preview := d.State()
	if err := d.KeepDrop(); err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	kept := d.State()
	if kept.DropMM != 0 || kept.Undo != "lower by 5.00 mm" || !kept.Unsaved {
		t.Errorf("after keeping: drop %g, undo %q, unsaved %v", kept.DropMM, kept.Undo, kept.Unsaved)
	}
	for i := range preview.Answers.Fit.Value.Pairs {
		a, b := preview.Answers.Fit.Value.Pairs[i], kept.Answers.Fit.Value.Pairs[i]
		if a.ClearanceMM != b.ClearanceMM || a.PointA != b.PointA {
			t.Errorf("%s: preview %v, kept %v", a.ID, a.ClearanceMM, b.ClearanceMM)
		}
	}
	if got := kept.Tiles[Changed].Answer; !strings.Contains(got, "1 cured") {
		t.Errorf("what changed: %q", got)
	}
}

func TestUndoAndRedo(t *testing.T) {
	d := opened(t)
	first, err := layout.Encode(d.State().Doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, title := range []string{"one", "two"} {
		if err := d.Edit("title "+title, func(doc *layout.Document) error { doc.Title = title; return nil }); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		if err := d.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if back, err := layout.Encode(d.State().Doc); err != nil || !bytes.Equal(back, first) {
		t.Errorf("two edits undone give another file, %v", err)
	}
	if s := d.State(); s.Redo != "title one" || s.Undo != "" {
		t.Errorf("undo %q, redo %q", s.Undo, s.Redo)
	}
	if err := d.Redo(); err != nil || d.State().Title != "one" {
		t.Errorf("redo: %v, title %q", err, d.State().Title)
	}
}

// TestARefusedEditChangesNothing: faults of the file format and of the edit.
func TestARefusedEditChangesNothing(t *testing.T) {
	d := opened(t)
	before := d.State().Doc
	for name, change := range map[string]func(doc *layout.Document) error{
		"two parts of one name": func(doc *layout.Document) error { doc.Parts[1].Name = "block"; return nil },
		"a mesh outside":        func(doc *layout.Document) error { doc.Parts[0].Mesh = "../block.stl"; return nil },
		"a mesh that is not there": func(doc *layout.Document) error {
			doc.Parts[0].Mesh = "none.stl"
			return nil
		},
		"the edit itself": func(doc *layout.Document) error { doc.Title = "changed"; return errors.New("no") },
	} {
		if err := d.Edit(name, change); err == nil {
			t.Errorf("%s: accepted", name)
		}
		if s := d.State(); s.Doc != before || s.Undo != "" || s.Title != "Small" {
			t.Errorf("%s: the desk changed", name)
		}
	}
}

func TestABadFolderLeavesTheDeskAsItWas(t *testing.T) {
	d := opened(t)
	before := d.State()
	bad := t.TempDir()
	if err := os.WriteFile(filepath.Join(bad, "layout.json"), []byte(`{"format":"aftbay-layout","version":1,"title":"x","parts":[{"name":"a","role":"b","mesh":"m.stl","massKg":1}]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	err := d.Open(context.Background(), bad)
	if err == nil || !strings.Contains(err.Error(), "mass_kg") {
		t.Errorf("error %v, want the near miss mass_kg", err)
	}
	if s := d.State(); s.Doc != before.Doc || !s.Answers.Fit.Fresh {
		t.Error("the desk changed")
	}
}

func TestPacket(t *testing.T) {
	d := opened(t)
	var first map[string][]byte
	for round := range 2 {
		dir := t.TempDir()
		paths, err := d.Packet(context.Background(), dir, PacketOptions{Revision: "3"})
		if err != nil {
			t.Fatal(err)
		}
		files := map[string][]byte{}
		for _, p := range paths {
			data, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			rel, err := filepath.Rel(dir, p)
			if err != nil {
				t.Fatal(err)
			}
			files[rel] = data
		}
		if round == 0 {
			first = files
			continue
		}
		for name, data := range files {
			if !bytes.Equal(data, first[name]) {
				t.Errorf("%s differs between two packets of the same layout", name)
			}
		}
	}
	if table := string(first["findings.csv"]); !strings.Contains(table, "block,,lid") || !strings.Contains(table, "12.00") {
		t.Errorf("findings.csv lacks the failing pair:\n%s", table)
	}
}

func TestCSVNeutralisesFormulas(t *testing.T) {
	tab := Table{Columns: []Column{text("part"), number("gap_mm")}, Rows: []Row{{Cells: []string{"=1+1", "-3.20"}}}}
	var buf bytes.Buffer
	if err := tab.WriteCSV(&buf); err != nil {
		t.Fatal(err)
	}
	if got := buf.String(); got != "part,gap_mm\r\n'=1+1,-3.20\r\n" {
		t.Errorf("%q", got)
	}
}

func TestClosedDeskStopsItsJobs(t *testing.T) {
	d := New(1, nil)
	if err := d.Open(context.Background(), smallLayout(t)); err != nil {
		t.Fatal(err)
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	if err := d.PreviewDrop(3); err != nil {
		t.Errorf("a preview on an empty desk does nothing: %v", err)
	}
	if err := d.Edit("late", func(*layout.Document) error { return nil }); !errors.Is(err, ErrNothingOpen) {
		t.Errorf("an edit on an empty desk: %v", err)
	}
	wait(t, d)
}

// TestMountsGoDownWithTheGroup: a lowered group rocks under its loads as before.
func TestMountsGoDownWithTheGroup(t *testing.T) {
	d := opened(t)
	err := d.Edit("mounts", func(doc *layout.Document) error {
		g := &doc.Groups[0]
		g.MassKg, g.CgMM, g.DrawnG = ptr(150.0), &geom.Vec{1700, 0, 420}, &geom.Vec{0, 0, -1}
		for _, at := range []geom.Vec{{1520, -250, 380}, {1520, 250, 380}, {1880, 0, 300}} {
			g.Mounts = append(g.Mounts, layout.Spring{AtMM: at, KNMM: geom.Vec{150, 150, 220}})
		}
		g.Loads = []layout.Load{{Name: "drive", G: geom.Vec{0, 0, -1}, TorqueNm: geom.Vec{600, 0, 0}}}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	before := d.State().Scene.Positions("powertrain")
	if err := d.PreviewDrop(7); err != nil {
		t.Fatal(err)
	}
	after := d.State().Scene.Positions("powertrain")
	if len(before) != 1 || len(after) != 1 || before[0].ShiftMM.Sub(after[0].ShiftMM).Len() > 1e-9 || before[0].TurnDeg.Sub(after[0].TurnDeg).Len() > 1e-9 {
		t.Errorf("before %+v, lowered %+v", before, after)
	}
}
