package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/revision"
)

// TestChangesIsAGate: exit 1 only for new or worse findings.
func TestChangesIsAGate(t *testing.T) {
	a, b := bramble(t, demo.BrambleA), bramble(t, demo.BrambleB)
	for _, c := range []struct {
		name, old, now string
		code           int
	}{
		{"the same twice", b, b, exitFine},
		{"a to b: some are new", a, b, exitFails},
	} {
		code, out, errs := do(t, "changes", c.old, c.now, "--json", "-")
		if code != c.code || errs != "" {
			t.Fatalf("%s: exit %d, want %d; %s", c.name, code, c.code, errs)
		}
		v := decode(t, out)
		f, parts := v["findings"].(map[string]any), v["parts"].(map[string]any)
		for _, key := range []string{"added", "removed", "moved", "reshaped"} {
			if _, ok := parts[key].([]any); !ok {
				t.Errorf("%s: parts.%s is no list: %v", c.name, key, parts[key])
			}
		}
		bad := len(f["new"].([]any)) + len(f["worse"].([]any))
		if (bad > 0) != (code == exitFails) {
			t.Errorf("%s: %d new or worse, but exit %d", c.name, bad, code)
		}
		if f["unchanged"] != f["identical"] || f["unchanged"].(float64) < 100 {
			t.Errorf("%s: %v pairs untouched, %v identical", c.name, f["unchanged"], f["identical"])
		}
		if code == exitFails { // the other way round they are cured
			_, out, _ := do(t, "changes", c.now, c.old, "--json", "-")
			if back := decode(t, out)["findings"].(map[string]any); len(back["cured"].([]any)) != len(f["new"].([]any)) {
				t.Errorf("back: %d cured, want %d", len(back["cured"].([]any)), len(f["new"].([]any)))
			}
		}
	}
}

// TestChangesSinceARevision keeps a revision, moves a part and compares.
func TestChangesSinceARevision(t *testing.T) {
	dir := bramble(t, demo.BrambleB)
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
	r, err := revision.Keep(root, doc, folder, revision.Note{Name: "B", Reason: "before the tank moved"})
	if err != nil {
		t.Fatal(err)
	}
	for i := range doc.Parts {
		if doc.Parts[i].Name == "oil tank" {
			doc.Parts[i].MoveMM[2] += 3
		}
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	_, bySince, errs := do(t, "changes", dir, "--since", "B", "--csv", "-")
	if errs != "" {
		t.Fatal(errs)
	}
	rows, err := csv.NewReader(strings.NewReader(bySince)).ReadAll()
	if err != nil || rows[0][0] != "change" {
		t.Errorf("%v %v", rows, err)
	}
	_, text, _ := do(t, "changes", filepath.Join(dir, r.Folder), dir)
	for _, want := range []string{"From revision B (no. 1) to " + filepath.Base(dir), "moved   oil tank      3.00  x 0.00, y 0.00, z 3.00 mm", "1 moved, 0 reshaped", "identical to the last digit"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestChangesRefusesInWords(t *testing.T) {
	dir := bramble(t, demo.BrambleB)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"changes"}, "changes takes two layouts, or one with --since REVISION"},
		{[]string{"changes", dir}, "changes takes two layouts"},
		{[]string{"changes", dir, "--since", "Z"}, `no revision "Z": none is kept yet`},
		{[]string{"changes", dir, dir, "--since", "Z"}, "takes one layout, not 2"},
		{[]string{"changes", dir, dir, "--worse-mm", "-1"}, "--worse-mm -1"},
		{[]string{"changes", dir, filepath.Join(dir, "revisions", "001-b")}, "001-b"},
	} {
		out := filepath.Join(t.TempDir(), "out.json")
		code, _, errs := do(t, append(c.args, "--json", out)...)
		if code != exitRefused || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %s", c.args, code, errs)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%v: a result file was written", c.args)
		}
	}
}
