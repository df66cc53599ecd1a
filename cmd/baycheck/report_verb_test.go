package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"aftbay/geom"
	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/revision"
	"aftbay/geom/scene/fixture"
)

// shelf is a small layout: a block between a tray and a lid that is liftMM
// higher than drawn.
func shelf(t *testing.T, liftMM float64) string {
	t.Helper()
	doc := &layout.Document{
		Title: "Shelf",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain"},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "deck", Mesh: "lid.stl", MoveMM: geom.Vec{0, 0, liftMM}},
		},
		Groups: []layout.Group{{Name: "powertrain"}},
		Rules:  []layout.Rule{{A: "part:block", B: "part:tray", LeastMM: 10, Source: "test"}, {A: "part:block", B: "part:lid", LeastMM: 15, Source: "test"}},
		Drop:   &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}},
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{0, 0, 230}, geom.Vec{400, 400, 600}),
		"tray.stl":  plain.Brick(geom.Vec{-100, -100, 190}, geom.Vec{500, 500, 200}),
		"lid.stl":   plain.Brick(geom.Vec{-100, -100, 620}, geom.Vec{500, 500, 628}),
	})
}

// sheetOf reads a sheet of the workbook of a packet.
func sheetOf(t *testing.T, dir, name string) [][]string {
	t.Helper()
	f, err := excelize.OpenFile(filepath.Join(dir, "findings.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestReportAgainstTellsWhatChangesTells: the packet compared with another layout
// names the parts and findings, with the figures, that the verb changes gives;
// without a comparison it has no such chapter.
func TestReportAgainstTellsWhatChangesTells(t *testing.T) {
	old, now := shelf(t, 0), shelf(t, -8)
	code, out, errs := do(t, "changes", old, now, "--json", "-")
	if code != exitFails || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	v := decode(t, out)
	dir := t.TempDir()
	if code, _, errs := do(t, "report", now, "--against", old, "--out", dir, "--quiet"); code != exitFails || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	rows := sheetOf(t, dir, "Changes")
	has := func(cells ...string) {
		t.Helper()
		if !slices.ContainsFunc(rows, func(r []string) bool { return len(r) >= len(cells) && slices.Equal(r[:len(cells)], cells) }) {
			t.Errorf("no row %q in %q", cells, rows)
		}
	}
	fresh := v["findings"].(map[string]any)["new"].([]any)
	if len(fresh) == 0 {
		t.Fatal("nothing is new")
	}
	for _, f := range fresh {
		f := f.(map[string]any)
		has("new", fmt.Sprintf("%s to %s, %s: lid moved by up to 8.00 mm", f["a"], f["b"], f["state"]),
			fmt.Sprintf("%.2f mm, %s", f["before_mm"], f["was"]), fmt.Sprintf("%.2f mm, %s", f["now_mm"], f["verdict"]), fmt.Sprint(f["verdict"]))
	}
	has("moved", "lid", "", "up to 8.00 mm: x 0.00, y 0.00, z -8.00 mm")
	has("answer", v["drop"].(map[string]any)["sentence"].(string))
	page, err := os.ReadFile(filepath.Join(dir, "report.html"))
	if err != nil || !bytes.Contains(page, []byte("<h2>What changed?</h2>")) {
		t.Errorf("the page tells no changes: %v", err)
	}
	alone := t.TempDir()
	do(t, "report", now, "--out", alone, "--quiet")
	if page, err := os.ReadFile(filepath.Join(alone, "report.html")); err != nil || bytes.Contains(page, []byte("<h2>What changed?</h2>")) {
		t.Errorf("compared with nothing, the page tells changes: %v", err)
	}
}

// TestReportSinceIsAgainstTheRevision: by name or number it is the packet against
// the revision's folder, to the last byte; what is not there is refused.
func TestReportSinceIsAgainstTheRevision(t *testing.T) {
	dir := shelf(t, 0)
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	root, err := disk.At(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	r, err := revision.Keep(root, doc, folder, revision.Note{Name: "B", Reason: "before the lid came down"})
	if err != nil {
		t.Fatal(err)
	}
	doc.Parts[2].MoveMM[2] = -8
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	var packets []string
	for _, flags := range [][]string{{"--since", "B"}, {"--since", "1"}, {"--against", filepath.Join(dir, r.Folder)}} {
		out := t.TempDir()
		if code, _, errs := do(t, append([]string{"report", dir, "--out", out, "--date", "2027-01-15", "--quiet"}, flags...)...); code != exitFails || errs != "" {
			t.Fatalf("%v: exit %d, %s", flags, code, errs)
		}
		packets = append(packets, out)
	}
	for _, name := range []string{"report.pdf", "report.html", "findings.csv", "findings.xlsx", "scene.glb"} {
		first, err := os.ReadFile(filepath.Join(packets[0], name))
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range packets[1:] {
			if other, err := os.ReadFile(filepath.Join(p, name)); err != nil || !bytes.Equal(first, other) {
				t.Errorf("%s of packet %d differs: %v", name, i+1, err)
			}
		}
	}
	if rows := sheetOf(t, packets[0], "Changes"); !slices.ContainsFunc(rows, func(r []string) bool { return r[0] == "moved" && r[1] == "lid" }) {
		t.Errorf("changes since B: %q", rows)
	}
	for _, c := range []struct {
		flags []string
		want  string
	}{
		{[]string{"--since", "Z"}, `no revision "Z"`},
		{[]string{"--since", "B", "--against", dir}, "not both"},
		{[]string{"--against", filepath.Join(dir, "nowhere")}, "nowhere"},
	} {
		out := filepath.Join(t.TempDir(), "packet")
		code, _, errs := do(t, append([]string{"report", dir, "--out", out}, c.flags...)...)
		if code != exitRefused || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %s", c.flags, code, errs)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%v: something was written", c.flags)
		}
	}
}
