package main

import (
	"encoding/csv"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/cmd/internal/demo"
)

// TestRulesOfTheDemo: the counts of the parts add up, JSON, CSV and table name
// the same rules, and the verb never fails for what the rules say.
func TestRulesOfTheDemo(t *testing.T) {
	dir := bramble(t, demo.BrambleB)
	code, out, errs := do(t, "rules", dir, "--json", "-", "--timing")
	if code != exitFine || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	v := decode(t, out)
	pairs := v["pairs"].(map[string]any)
	count := func(key string) int { return int(pairs[key].(float64)) }
	if n := count("all"); n == 0 || n != count("joined")+count("ruled")+count("no_rule") {
		t.Errorf("the pairs do not add up: %v", pairs)
	}
	rules := v["rules"].([]any)
	for _, f := range []string{"a", "b", "state", "least_mm", "source", "mark", "built_in", "applies", "decides"} {
		if _, ok := rules[0].(map[string]any)[f]; !ok {
			t.Errorf("rules[0] has no field %s", f)
		}
	}
	for _, f := range []string{"no_rule", "left_out", "timing_ms"} {
		if _, ok := v[f]; !ok {
			t.Errorf("no field %s", f)
		}
	}
	_, text, _ := do(t, "rules", dir, "--csv", "-")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) != len(rules)+1 {
		t.Errorf("%d rows for %d rules, %v", len(rows), len(rules), err)
	}
	_, table, _ := do(t, "rules", dir)
	for _, want := range []string{"part:muffler", "layout", "built in", "habit, no standard", "pairs of parts: ", "hold for no pair"} {
		if !strings.Contains(table, want) {
			t.Errorf("the table does not say %q", want)
		}
	}
}

// TestRulesInto: the layout written with its rules spelled out gives the same
// answers and still opens.
func TestRulesInto(t *testing.T) {
	dir, into := bramble(t, demo.BrambleB), filepath.Join(t.TempDir(), "own")
	if code, _, errs := do(t, "rules", dir, "--into", into, "--quiet"); code != exitFine {
		t.Fatalf("exit %d: %s", code, errs)
	}
	_, before, _ := do(t, "clearance", dir, "--csv", "-")
	code, after, errs := do(t, "clearance", into, "--csv", "-")
	if code != exitFails || errs != "" || after != before {
		t.Errorf("exit %d, %s: the written rules give another table", code, errs)
	}
}
