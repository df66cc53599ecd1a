package material

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

func TestEveryRowHasASourceAndStatus(t *testing.T) {
	all := All()
	check := func(what, source, status string) {
		t.Helper()
		if _, ok := all.Sources[source]; !ok {
			t.Errorf("%s: source %q is not in the list of sources", what, source)
		}
		known := false
		for _, s := range []string{"seen", "memory", "common practice", "computed"} {
			known = known || strings.Contains(status, s)
		}
		// Two rows carry their remark in place of the word.
		if !known && !strings.Contains(status, "title") && !strings.Contains(status, "figures not seen") {
			t.Errorf("%s: status %q says neither seen, memory, common practice nor computed", what, status)
		}
	}
	for _, r := range all.Emissivity {
		check(r.Name, r.Source, r.Status)
		if !(r.LowEmissivity > 0 && r.LowEmissivity <= r.TypicalEmissivity && r.TypicalEmissivity <= r.HighEmissivity && r.HighEmissivity < 1) {
			t.Errorf("%s: %g, %g, %g is not in order between 0 and 1", r.Name, r.LowEmissivity, r.TypicalEmissivity, r.HighEmissivity)
		}
		if r.Solid != "" && all.solid(r.Solid) == nil {
			t.Errorf("%s: solid %q is not in the table", r.Name, r.Solid)
		}
	}
	for _, r := range all.Solids {
		check(r.Name, r.Source, r.Status)
		if r.DensityKgM3 <= 0 || r.HeatJKgK <= 0 || r.ConductivityWMK <= 0 {
			t.Errorf("%s has an empty figure", r.Name)
		}
		if r.Surface != "" && all.surface(r.Surface) == nil {
			t.Errorf("%s: surface %q is not in the table", r.Name, r.Surface)
		}
	}
	for _, r := range all.Limits {
		check(r.Item, r.Source, r.Status)
	}
	for _, r := range all.Ignition {
		check(r.Fluid, r.Source, r.Status)
		if r.LowDegC >= r.HighDegC {
			t.Errorf("%s: %g is not below %g", r.Fluid, r.LowDegC, r.HighDegC)
		}
	}
	for _, r := range all.Burns {
		check(r.Contact, r.Source, r.Status)
	}
	if len(all.Emissivity) != 39 || len(all.Solids) != 17 || len(all.Limits) != 28 || len(all.Ignition) != 13 || len(all.Cables) != 8 {
		t.Errorf("row counts %d %d %d %d %d", len(all.Emissivity), len(all.Solids), len(all.Limits), len(all.Ignition), len(all.Cables))
	}
}

// The embedded tables must keep the figures of the reference tables.
func TestTablesKeepTheReferenceFigures(t *testing.T) {
	data, err := os.ReadFile("../../testdata/reference/tables.json")
	if err != nil {
		t.Fatal(err)
	}
	var ref file
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	own := All()
	for i, r := range ref.Tables.Emissivity {
		r.Solid = own.Emissivity[i].Solid
		if own.Emissivity[i] != r {
			t.Errorf("%+v differs from the reference %+v", own.Emissivity[i], r)
		}
	}
	for i, r := range ref.Tables.Solids {
		r.Surface = own.Solids[i].Surface
		if own.Solids[i] != r {
			t.Errorf("%+v differs from the reference %+v", own.Solids[i], r)
		}
	}
	for i, r := range ref.Tables.Ignition {
		if own.Ignition[i] != r {
			t.Errorf("%+v differs from the reference %+v", own.Ignition[i], r)
		}
	}
}

func TestFind(t *testing.T) {
	m, err := Find("steel, OXIDISED")
	if err != nil || m.Surface.TypicalEmissivity != 0.8 || m.Solid.DensityKgM3 != 7850 {
		t.Errorf("steel, oxidised: %+v, %v", m, err)
	}
	m, err = Find("Cast aluminium (Al-Si)")
	if err != nil || m.Surface.TypicalEmissivity != 0.46 || m.Solid.HeatJKgK != 900 {
		t.Errorf("cast aluminium: %+v, %v", m, err)
	}
	for name, nearest := range map[string]string{"Stel, oxidised": "Steel, oxidised", "silicone": "Silicone rubber", "": "20Ni"} {
		if _, err := Find(name); err == nil || !strings.Contains(err.Error(), nearest) {
			t.Errorf("Find(%q) = %v, want the hint %q", name, err, nearest)
		}
	}
}

func TestOrigin(t *testing.T) {
	all := All()
	if got := all.Origin("CP", "common practice"); !strings.Contains(got, "no source") {
		t.Errorf("Origin = %q", got)
	}
}
