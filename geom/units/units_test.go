package units_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"aftbay/geom/units"
)

func TestConversions(t *testing.T) {
	for _, c := range []struct {
		name, source string
		got, want    float64
	}{
		{"mm to m", "definition of the prefix", units.M(1250), 1.25},
		{"m to mm", "definition of the prefix", units.MM(1.25), 1250},
		{"mm² to m²", "definition of the prefix", units.M2(2.5e6), 2.5},
		{"degrees", "half turn", units.Rad(180), math.Pi},
		{"radians", "half turn", units.Deg(math.Pi), 180},
		{"water boils", "SI Brochure, 9th edition: t/°C = T/K - 273.15", units.K(100), 373.15},
		{"triple point", "SI Brochure, 9th edition: t/°C = T/K - 273.15", units.DegC(273.16), 0.01},
	} {
		// One rounding step of numbers below 2000.
		if math.Abs(c.got-c.want) > 2.5e-13 {
			t.Errorf("%s: got %.17g, want %.17g (%s)", c.name, c.got, c.want, c.source)
		}
	}
}

func TestMeshFactor(t *testing.T) {
	for unit, want := range map[string]float64{"": 1, "mm": 1, "cm": 10, "m": 1000, "in": 25.4} {
		if got, err := units.MeshFactor(unit); err != nil || got != want {
			t.Errorf("%q: %g, %v; want %g", unit, got, err, want)
		}
	}
	_, err := units.MeshFactor("inch")
	if err == nil || !strings.Contains(err.Error(), `"inch"`) || !strings.Contains(err.Error(), "mm, cm, m or in") {
		t.Errorf("error %v", err)
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{units.FormatMM(12.345678), "12.35 mm"},
		{units.FormatMM(-0.001), "0.00 mm"},
		{units.FormatMM(math.Copysign(0, -1)), "0.00 mm"},
		{units.FormatMM(-0.006), "-0.01 mm"},
		{units.FormatMM(123456.7), "123456.70 mm"},
		{units.FormatMM(math.NaN()), "unknown"},
		{units.FormatMM(math.Inf(1)), "unknown"},
		{units.FormatMM(-1e300), "-1.000e+300 mm"},
		{units.FormatMM2(1250.4), "1250 mm²"},
		{units.FormatCM3(72000), "72.0 cm³"},
		{units.FormatDeg(4.66), "4.7°"},
		{units.FormatDegC(-0.4), "0 °C"},
		{units.FormatDegC(123.4), "123 °C"},
		{units.FormatK(-12.6), "-13 K"},
		{units.FormatKg(182.46), "182.5 kg"},
		{units.FormatN(4120.2), "4120 N"},
		{units.FormatW(85.1), "85 W"},
		{units.FormatWM2(12344), "12.34 kW/m²"},
		{units.FormatMin(510), "8.5 min"},
		{units.FormatPercent(0.125), "12.5 %"},
		{units.NumberMM(math.Inf(-1)), "unknown"},
		{units.NumberKWM2(-3), "0.00"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestParseMM(t *testing.T) {
	for text, want := range map[string]float64{
		"12,5 mm": 12.5, "12.5": 12.5, " 12.5mm ": 12.5, "1 in": 25.4, "1\"": 25.4, "3cm": 30, "0.5 M": 500,
		"-4": -4, "−4": -4, "+4": 4, "1e2": 100, "1E-1 cm": 1, ".5": 0.5, "5.": 5, "\u00a07 mm": 7, "0": 0,
	} {
		if got, err := units.ParseMM(text); err != nil || got != want {
			t.Errorf("%q: %g, %v; want %g", text, got, err, want)
		}
	}
	for text, says := range map[string]string{
		"": "empty", "  ": "empty", "mm": "not a number", "abc": "not a number", "nan": "not a number", "inf": "not a number",
		"0x10": `unit "x10"`, "1_0": `unit "_0"`, "1,234.5": "more than one decimal sign", "1.2.3": "more than one", "-": "not a number",
		"3 ft": "use mm, cm, m or in", "5 5": `unit "5"`, "1e999": "not a number", "1e306 m": "too large", "12 em": `unit "em"`, ".": "not a number",
	} {
		_, err := units.ParseMM(text)
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: error %v, want one that says %q", text, err, says)
		}
	}
}

func TestParseOthers(t *testing.T) {
	for _, c := range []struct {
		text  string
		parse func(string) (float64, error)
		want  float64
	}{
		{"4,5°", units.ParseDeg, 4.5},
		{"1 rad", units.ParseDeg, 180 / math.Pi},
		{"120", units.ParseDegC, 120},
		{"120 °C", units.ParseDegC, 120},
		{"0 k", units.ParseDegC, -273.15},
		{"350 g", units.ParseKg, 0.35},
		{"1 lb", units.ParseKg, 0.45359237},
	} {
		if got, err := c.parse(c.text); err != nil || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%q: %g, %v; want %g", c.text, got, err, c.want)
		}
	}
	if _, err := units.ParseDegC("-300"); err == nil || !strings.Contains(err.Error(), "absolute zero") {
		t.Errorf("-300 °C: error %v", err)
	}
}

// What is shown can be typed again and means the same.
func TestParseTakesWhatFormatGives(t *testing.T) {
	for _, mm := range []float64{0, -0.01, 12.34, 99999.99} {
		if got, err := units.ParseMM(units.FormatMM(mm)); err != nil || got != mm {
			t.Errorf("%g: %g, %v", mm, got, err)
		}
		if got, err := units.ParseDegC(units.FormatDegC(math.Round(mm))); mm > -273 && (err != nil || got != math.Round(mm)) {
			t.Errorf("%g °C: %g, %v", mm, got, err)
		}
	}
}

func FuzzParseMM(f *testing.F) {
	for _, s := range []string{"12,5 mm", "-1e-3in", "−.5 m", "1e", "\""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if mm, err := units.ParseMM(text); err == nil && (math.IsNaN(mm) || math.IsInf(mm, 0)) {
			t.Errorf("%q is read as %g", text, mm)
		}
	})
}

// A typed length, and how it is shown again.
func Example() {
	mm, err := units.ParseMM("0,5 in")
	fmt.Println(units.FormatMM(mm), err)
	_, err = units.ParseMM("0,5 feet")
	fmt.Println(err)
	// Output:
	// 12.70 mm <nil>
	// length "0,5 feet" has the unknown unit "feet"; use mm, cm, m or in
}
