package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/cmd/internal/demo"
)

// TestDecisionsAreTakenIn: from a filled-in table into the layout file, and
// listed with the figures of today; a table with a fault changes nothing.
func TestDecisionsAreTakenIn(t *testing.T) {
	dir := bramble(t, demo.BrambleB)
	table := filepath.Join(t.TempDir(), "findings.csv")
	const head = "finding,decision,owner,due,comment\r\n"
	if err := os.WriteFile(table, []byte(head+"oil hose feed ~ subframe side left @ static,open,hoses,2027-01-31,new clip\r\na ~ b @ hot,perhaps,,,\r\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadFile(filepath.Join(dir, "layout.json"))
	code, _, errs := do(t, "decisions", dir, "--take", table)
	after, _ := os.ReadFile(filepath.Join(dir, "layout.json"))
	if code != exitRefused || !strings.Contains(errs, `row 3: decision "perhaps"`) || string(before) != string(after) {
		t.Errorf("exit %d, %s", code, errs)
	}
	if err := os.WriteFile(table, []byte(head+"oil hose feed ~ subframe side left @ static,open,hoses,2027-01-31,new clip\r\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := do(t, "decisions", dir, "--take", table, "--date", "2027-01-15", "--quiet"); code != exitFine {
		t.Fatalf("exit %d, %s", code, errs)
	}
	_, out, _ := do(t, "decisions", dir, "--json", "-")
	var open map[string]any
	for _, o := range decode(t, out)["open"].([]any) {
		if o := o.(map[string]any); o["owner"] == "hoses" {
			open = o
		}
	}
	if open == nil || open["due"] != "2027-01-31" || open["verdict"] != "overlap" || open["clearance_mm"].(float64) > -3 {
		t.Errorf("open item %v", open)
	}
	if h := open["history"].([]any); len(h) != 1 || h[0].(map[string]any)["date"] != "2027-01-15" {
		t.Errorf("history %v", h)
	}
	if code, _, errs := do(t, "decisions", dir, "--take", table, "--date", "15.1.2027"); code != exitRefused || !strings.Contains(errs, "2027-01-31") {
		t.Errorf("exit %d, %s", code, errs)
	}
}
