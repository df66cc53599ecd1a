package material

import (
	"strings"
	"testing"

	"aftbay/geom/layout"
)

func TestOwnMaterials(t *testing.T) {
	doc := &layout.Document{Heat: &layout.Heat{Materials: []layout.Material{
		{Name: "grey paint", Like: "Steel, oxidised", Emissivity: &[3]float64{0.6, 0.7, 0.8}, Source: "measured"},
		{Name: "Copper", ConductivityWMK: new(300.0), Like: "Copper", Source: "alloy sheet"},
		{Name: "new plastic", ConductivityWMK: new(0.3), DensityKgM3: new(1200.0), HeatJKgK: new(1500.0), LimitDegC: &layout.Limit{ContinuousDegC: new(140.0), PeakDegC: new(160.0)}, Source: "maker"},
	}}}
	own, err := For(doc)
	if err != nil {
		t.Fatal(err)
	}
	m, err := own.Find("Grey paint")
	if err != nil || m.Surface.TypicalEmissivity != 0.7 || m.Surface.Source != "measured" || m.Surface.Status != OwnStatus || m.Solid == nil || m.Solid.DensityKgM3 != 7850 {
		t.Errorf("grey paint: %+v %+v, %v", m.Surface, m.Solid, err)
	}
	if m, err = own.Find("Copper"); err != nil || m.Solid.ConductivityWMK != 300 || m.Solid.DensityKgM3 != 8940 {
		t.Errorf("copper: %+v, %v", m.Solid, err)
	}
	if m, err = Find("Copper"); err != nil || m.Solid.ConductivityWMK != 400 {
		t.Errorf("the built-in copper changed: %+v, %v", m.Solid, err)
	}
	if s, ok := own.StandsOf("new plastic"); !ok || *s.ContinuousDegC != 140 || *s.PeakDegC != 160 || !strings.Contains(s.Source, "maker") {
		t.Errorf("new plastic stands %+v", s)
	}
	if plain, err := For(&layout.Document{}); err != nil || plain != All() {
		t.Errorf("a layout without rows gets tables of its own, %v", err)
	}
}

func TestOwnMaterialsAreRefused(t *testing.T) {
	for says, m := range map[string]layout.Material{
		"nearest entry":       {Name: "a", Like: "Stel, oxidised", Source: "x"},
		"give its emissivity": {Name: "a", DensityKgM3: new(1000.0), Source: "x"},
	} {
		if _, err := For(&layout.Document{Heat: &layout.Heat{Materials: []layout.Material{m}}}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v: %v, want a word of %s", m, err, says)
		}
	}
}

// Cable classes: ISO 6722-1 letters as the table prints them; materials and rows
// of the limit table by name.
func TestStandsOf(t *testing.T) {
	for name, want := range map[string]float64{
		"C": 125, "cable class H": 250, "d": 150, // vehicle cable specification, seen
		"PA66-GF33":                             100, // Crawford, Table 1.8, seen
		"PA66 33 percent glass":                 100,
		"PA66 / PA6, PBT, PPS mouldings, black": 100, // the solid usually under it
		"EPDM rubber":                           125, // SAE J20 class D-1, seen
		"Silicone VMQ":                          200,
	} {
		s, ok := All().StandsOf(name)
		if !ok || *s.ContinuousDegC != want || s.Source == "" {
			t.Errorf("%s: %+v, want %g", name, s, want)
		}
	}
	if s, ok := All().StandsOf("Ignition coil, epoxy potted, on head"); !ok || !s.Habit {
		t.Errorf("coil: %+v: a habit must say so", s)
	}
	for _, name := range []string{"", "Steel, oxidised", "Copper", "nonsense", "Fuel hose SAE J30 R9/R14"} {
		if s, ok := All().StandsOf(name); ok {
			t.Errorf("%q stands %+v", name, s)
		}
	}
	if _, err := All().Fluid("Engine oil"); err != nil {
		t.Error(err)
	}
	if _, err := All().Fluid("engin oil"); err == nil || !strings.Contains(err.Error(), "Engine oil") {
		t.Errorf("misspelt fluid: %v", err)
	}
	if len(All().LimitNames()) < 30 {
		t.Errorf("limit names %v", All().LimitNames())
	}
}
