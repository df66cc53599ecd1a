package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
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
		code, out, errs := do(t, "changes", c.old, c.now, "--questions", "clearance", "--json", "-")
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
		if got := fmt.Sprint(v["questions"]); got != "[clearance]" || v["heat"] != nil {
			t.Errorf("%s: compared %s", c.name, got)
		}
		if f["unchanged"] != f["identical"] || f["unchanged"].(float64) < 100 {
			t.Errorf("%s: %v pairs untouched, %v identical", c.name, f["unchanged"], f["identical"])
		}
		if code == exitFails { // the other way round they are cured
			_, out, _ := do(t, "changes", c.now, c.old, "--questions", "clearance", "--json", "-")
			if back := decode(t, out)["findings"].(map[string]any); len(back["cured"].([]any)) != len(f["new"].([]any)) {
				t.Errorf("back: %d cured, want %d", len(back["cured"].([]any)), len(f["new"].([]any)))
			}
		}
	}
}

// TestChangesOfEachQuestion: what the command says of the drop, the view and the
// heat is what each state's own answer says; the exit rests on what is asked.
func TestChangesOfEachQuestion(t *testing.T) {
	a, b := bramble(t, demo.BrambleA), bramble(t, demo.BrambleB)
	coarse(t, a)
	coarse(t, b)
	_, out, _ := do(t, "changes", a, b, "--json", "-")
	v := decode(t, out)
	if got := fmt.Sprint(v["questions"]); got != "[clearance drop rear-view heat]" {
		t.Errorf("compared %s", got)
	}
	at := func(v any, keys ...any) any {
		for _, k := range keys {
			switch k := k.(type) {
			case string:
				v = v.(map[string]any)[k]
			case int:
				v = v.([]any)[k]
			}
		}
		return v
	}
	answer := func(verb, dir string) map[string]any {
		_, out, _ := do(t, verb, dir, "--json", "-")
		return decode(t, out)
	}
	for dir, key := range map[string]string{a: "before", b: "now"} {
		if got, want := at(v, "drop", key+"_mm"), answer("drop", dir)["window_mm"]; !reflect.DeepEqual(got, want) {
			t.Errorf("drop %s: %v, want %v", key, got, want)
		}
		if got, want := at(v, "rear_view", key+"_share"), at(answer("rear-view", dir), "seen", "either"); got != want {
			t.Errorf("rear view %s: %v, want %v", key, got, want)
		}
		heat := answer("heat", dir)
		found := 0
		for _, list := range []string{"new", "worse", "cured", "better", "hotter", "cooler"} {
			for _, row := range at(v, "heat", list).([]any) {
				for _, c := range heat["cases"].([]any) {
					for _, p := range at(c, "parts").([]any) {
						if at(c, "name") == at(row, "case") && at(p, "name") == at(row, "part") {
							found++
							if got, want := at(row, key+"_degC"), at(p, "temperature_degC", "nominal"); got != want {
								t.Errorf("heat %s, %v: %v, want %v", key, at(row, "part"), got, want)
							}
						}
					}
				}
			}
		}
		if found < 10 {
			t.Errorf("%d temperatures %s were found", found, key)
		}
	}
	for _, c := range []struct {
		questions string
		code      int
	}{{"rear-view", exitFine}, {"drop", exitFails}, {"weather", exitRefused}} {
		if code, _, errs := do(t, "changes", a, b, "--questions", c.questions, "--quiet"); code != c.code {
			t.Errorf("%s: exit %d, want %d; %s", c.questions, code, c.code, errs)
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
	_, bySince, errs := do(t, "changes", dir, "--since", "B", "--questions", "clearance", "--csv", "-")
	if errs != "" {
		t.Fatal(errs)
	}
	rows, err := csv.NewReader(strings.NewReader(bySince)).ReadAll()
	if err != nil || rows[0][0] != "change" {
		t.Errorf("%v %v", rows, err)
	}
	_, text, _ := do(t, "changes", filepath.Join(dir, r.Folder), dir, "--questions", "clearance")
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
		{[]string{"changes", dir, dir, "--worse-K", "-1"}, "--worse-K -1"},
		{[]string{"changes", dir, dir, "--questions", "heat,wind"}, "give some of clearance,drop,rear-view,heat"},
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
