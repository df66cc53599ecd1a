package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
	"aftbay/gui/desk"
)

// lowLayout writes an engine over a tray and under a lid, with a sump that has
// an alternative 25.4 mm shallower: it may go down 30 mm, 55.4 with the other.
func lowLayout(t *testing.T) string {
	t.Helper()
	least, mass := 80.0, 90.0
	doc := &layout.Document{
		Title: "Low",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain", MassKg: &mass},
			{Name: "sump", Role: "engine", Mesh: "deep.stl", Group: "powertrain", MassKg: &mass, Alternatives: []layout.Alternative{{Name: "shallow", Mesh: "shallow.stl"}}},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "deck", Mesh: "lid.stl"},
		},
		Joined: [][2]string{{"block", "sump"}},
		Groups: []layout.Group{{Name: "powertrain"}},
		Rules:  []layout.Rule{{A: "group:powertrain", B: "role:tray", LeastMM: 10, Source: "test"}, {A: "group:powertrain", B: "role:deck", LeastMM: 12, Source: "test"}},
		Vehicle: &layout.Vehicle{
			RearAxleMM: geom.Vec{2600, 0, 320}, FrontAxleMM: geom.Vec{0, 0, 320}, TyreRadiusMM: 320, TrackMM: 1500, MassKg: 1300, CgMM: &geom.Vec{1400, 0, 450},
			Attitudes: []layout.Attitude{{Name: "design", LeastGroundMM: &least}, {Name: "braking", FrontDownMM: 30, RearDownMM: -20}},
		},
		Drop: &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}, ShiftMM: &layout.Range{-20, 20}},
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"block.stl":   plain.Brick(geom.Vec{1500, -200, 200}, geom.Vec{1900, 200, 600}),
		"deep.stl":    plain.Brick(geom.Vec{1550, -150, 130}, geom.Vec{1850, 150, 200}),
		"shallow.stl": plain.Brick(geom.Vec{1550, -150, 155.4}, geom.Vec{1850, 150, 200}),
		"tray.stl":    plain.Brick(geom.Vec{1400, -300, 85}, geom.Vec{2000, 300, 90}),
		"lid.stl":     plain.Brick(geom.Vec{1400, -300, 613}, geom.Vec{2000, 300, 620}),
	})
}

// TestDropSaysTheSameEverywhere: the command's JSON is what the window holds, to
// the last digit, and its sentences are those of the window's pages and of the
// report.
func TestDropSaysTheSameEverywhere(t *testing.T) {
	dir := lowLayout(t)
	code, out, errs := do(t, "drop", dir, "--json", "-", "--map")
	if code != exitFine || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	d := desk.New(2, nil)
	t.Cleanup(func() { _ = d.Close() })
	if err := d.Open(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	d.WantMap()
	if err := d.Wait(context.Background()); err != nil {
		t.Fatal(err)
	}
	s := d.State()
	whole := *s.Answers.Drop.Value
	whole.Swaps, whole.Map = s.Answers.Swaps.Value.Rows, s.Answers.Map.Value
	window, err := json.MarshalIndent(whole, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if strings.TrimSpace(out) != string(window) {
		t.Error("the command and the window hold different results")
	}
	_, table, _ := do(t, "drop", dir, "--map")
	buys, swaps := desk.BuysPage(&s)
	for _, said := range []string{
		desk.DropSentence(&whole), whole.Binding.High.Sentence.String(), whole.Map.Sentence().String(), swaps.Rows[0].Cells[2], buys.Rows[0].Cells[2], s.Tiles[desk.Lowers].Answer[:5],
	} {
		if !strings.Contains(table, said) {
			t.Errorf("the command's table does not say %q", said)
		}
	}
	pages := t.TempDir()
	d.WantMap()
	if _, err := d.Packet(context.Background(), pages, desk.PacketOptions{}); err != nil {
		t.Fatal(err)
	}
	if files, err := filepath.Glob(filepath.Join(pages, "pictures", "drop-map.*")); err != nil || len(files) != 1 {
		t.Errorf("map of the report: %v, %v", files, err)
	}
}

// TestDropFigures: closed forms of stacked boxes through the command.
func TestDropFigures(t *testing.T) {
	dir := lowLayout(t)
	_, out, _ := do(t, "drop", dir, "--json", "-")
	v := decode(t, out)
	near := func(what string, got any, want float64) {
		t.Helper()
		if g, ok := got.(float64); !ok || math.Abs(g-want) > 0.01 {
			t.Errorf("%s: %v, want %g", what, got, want)
		}
	}
	near("most", v["window_mm"].([]any)[1], 30)
	swaps := v["swaps"].([]any)
	near("with the shallow sump", swaps[1].(map[string]any)["window_mm"].([]any)[1], 55.4)
	curve := v["curve"].([]any)[0].(map[string]any)
	near("deck", curve["deck_mm"], 13)
	near("ground", curve["ground_mm"].(map[string]any)["design"], 85)
	_, table, _ := do(t, "drop", dir, "--csv", "-")
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(rows) < 62 {
		t.Fatalf("%d rows of the curve, %v", len(rows), err)
	}
	cg := slices.Index(rows[0], "cg_z_mm")
	for _, r := range rows[1:] {
		q, errQ := strconv.ParseFloat(r[0], 64)
		z, errZ := strconv.ParseFloat(r[cg], 64)
		if errQ != nil || errZ != nil || math.Abs(z-(450-180.0/1300*q)) > 1e-9 {
			t.Fatalf("row %v: centre of gravity %g at %g mm", r[:2], z, q)
		}
	}
	_, places, _ := do(t, "drop", dir, "--csv", "-", "--map", "--size", "5", "--shift-mm", "-10,10")
	if lines := strings.Count(places, "\r\n"); lines != 26 || !strings.Contains(places, "shift_mm,drop_mm,margin_mm,holds,limit") {
		t.Errorf("%d lines of the map:\n%s", lines, places)
	}
	_, masses, _ := do(t, "drop", dir, "--csv", "-", "--mass")
	if !strings.Contains(masses, "block,powertrain,90.0,given") {
		t.Errorf("masses:\n%s", masses)
	}
	_, named, _ := do(t, "drop", dir, "--csv", "-", "--swap", "sump=shallow.stl")
	if !strings.Contains(named, "sump: shallow.stl") || !strings.Contains(named, "+25.40 mm") {
		t.Errorf("exchanges:\n%s", named)
	}
	var at bytes.Buffer
	run(context.Background(), []string{"drop", dir, "--at-mm", "12"}, &at, &at)
	if !strings.Contains(at.String(), "at 12.00 mm") {
		t.Errorf("no figures at 12 mm:\n%s", at.String())
	}
}

// TestDropRefuses: bad calls say what is wrong and how to mend it.
func TestDropRefuses(t *testing.T) {
	dir := lowLayout(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"drop", dir, "--swap", "sump"}, "write PART=MESH"},
		{[]string{"drop", dir, "--swap", "sumpf=shallow.stl"}, `no part is called "sumpf"`},
		{[]string{"drop", dir, "--swap", "sump=none.stl"}, "none.stl"},
		{[]string{"drop", dir, "--size", "9"}, "add --map"},
		{[]string{"drop", dir, "--map", "--size", "1"}, "2 places or more"},
		{[]string{"drop", dir, "--map", "--tilt-deg", "80"}, "give one from -30 to 30"},
		{[]string{"drop", dir, "--map", "--shift-mm", "9,2"}, "LEAST,MOST"},
		{[]string{"drop", dir, "--at-mm", "deep"}, "no length in mm"},
	} {
		code, out, errs := do(t, c.args...)
		if code != exitRefused || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %q, %q; want %q", c.args[2:], code, out, errs, c.want)
		}
	}
}
