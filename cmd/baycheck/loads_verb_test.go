package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/layout"
)

// TestLoads: on three mounts of a stiffness along Z of 200 N/mm each, 180 kg
// with the centre of gravity over their middle go down by 2·180·9.80665/600 mm
// at three g when drawn at one (statics, by hand). The demo itself has none.
func TestLoads(t *testing.T) {
	dir := bramble(t, demo.BrambleB)
	code, out, errs := do(t, "loads", dir)
	if code != exitFine || errs != "" || !strings.Contains(out, "no group of this layout has loads") {
		t.Errorf("exit %d: %s%s", code, out, errs)
	}
	edit(t, filepath.Join(dir, layout.FileName), func(data []byte) []byte {
		var doc map[string]any
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		g := doc["groups"].([]any)[0].(map[string]any)
		k := []float64{150, 120, 200}
		g["mounts"] = []map[string]any{
			{"at_mm": []float64{1800, -200, 300}, "k_N_mm": k},
			{"at_mm": []float64{1800, 200, 300}, "k_N_mm": k},
			{"name": "rear", "at_mm": []float64{2400, 0, 300}, "k_N_mm": k},
		}
		g["mass_kg"], g["cg_mm"], g["drawn_g"] = 180, []float64{2000, 0, 300}, []float64{0, 0, -1}
		g["loads"] = []map[string]any{{"name": "deep hole", "g": []float64{0, 0, -3}}}
		data, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		return data
	})
	code, out, errs = do(t, "loads", dir, "--json", "-")
	if code != exitFine || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var r loadedGroups
	if err := json.Unmarshal([]byte(out), &r); err != nil || len(r.Groups) != 1 || len(r.Groups[0].Loads) != 1 {
		t.Fatalf("%v in %s", err, out)
	}
	deep := r.Groups[0].Loads[0]
	if want := -2 * 180 * 9.80665 / 600; math.Abs(deep.ShiftMM[2]-want) > 1e-9 || deep.TurnDeg.Len() > 1e-9 || deep.Name != "deep hole" {
		t.Errorf("%+v, want %g mm straight down", deep, want)
	}
	if len(deep.Mounts) != 3 || deep.Mounts[2].Name != "rear" || math.Abs(deep.Mounts[2].ForceN[2]-180*9.80665) > 1e-6 {
		t.Errorf("mounts %+v, want a third of three weights on each", deep.Mounts)
	}
	_, table, _ := do(t, "loads", dir)
	if !strings.Contains(table, "deep hole") || !strings.Contains(table, "-5.884") {
		t.Errorf("table:\n%s", table)
	}
}
