package balance

import (
	"context"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/thermal"
	"aftbay/thermal/material"
)

func TestHeatCapacity(t *testing.T) {
	cases := []struct {
		name string
		p    part
		want float64 // J/K
		says int     // assumptions
	}{
		{"given", part{layout: &layout.Part{Role: "coil"}, props: layout.Thermal{HeatCapacityJK: new(90.0)}, areaM2: 1}, 90, 0},
		// 1 m² × 1.2 mm × 7850 kg/m³ × 490 J/kgK
		{"wall and material", part{layout: &layout.Part{Material: "Steel, oxidised"}, props: layout.Thermal{ThicknessMM: new(1.2)}, areaM2: 1}, 0.0012 * 7850 * 490, 0},
		{"mass and material", part{layout: &layout.Part{Material: "Cast aluminium (Al-Si)", MassKg: new(3.0)}, areaM2: 1}, 3 * 900, 0},
		{"wall beats mass", part{layout: &layout.Part{Material: "Steel, oxidised", MassKg: new(3.0)}, props: layout.Thermal{ThicknessMM: new(1.2)}, areaM2: 1}, 0.0012 * 7850 * 490, 0},
		{"by role", part{layout: &layout.Part{Role: "exhaust"}, areaM2: 0.1}, 0.1 * 0.0015 * 7900 * 500, 2},
		{"any other role", part{layout: &layout.Part{Role: "thing"}, areaM2: 0.1}, 0.1 * 0.003 * 7850 * 490, 2},
	}
	for _, c := range cases {
		var said notes
		c.p.tables = material.All()
		if got := c.p.heatJK(&said); math.Abs(got-c.want) > 1e-9*c.want || len(said) != c.says {
			t.Errorf("%s: %g J/K, want %g; said %q", c.name, got, c.want, said)
		}
	}
	for role := range usualWalls { // every solid must be in the table, or heatJK panics
		p := part{layout: &layout.Part{Role: role}, areaM2: 0.1, tables: material.All()}
		if p.heatJK(&notes{}) <= 0 {
			t.Errorf("role %q", role)
		}
	}
}

func TestEmissivityDefaults(t *testing.T) {
	for _, c := range []struct {
		l    layout.Part
		want float64
		says int
	}{
		{layout.Part{Emissivity: new(0.0), Material: "nonsense"}, 0, 1}, // given: the material is not asked, but told
		{layout.Part{Material: "Steel, oxidised"}, 0.8, 0},
		{layout.Part{Material: "Cast aluminium (Al-Si)"}, 0.46, 0},
		{layout.Part{Material: "Copper"}, 0.9, 1}, // a solid without a usual surface
		{layout.Part{}, 0.9, 1},
	} {
		p := part{layout: &c.l, tables: material.All()}
		p.body.Mesh = brick(geom.Vec{1, 1, 1})
		var said notes
		if err := p.readEmissivity(usualSpread, &said); err != nil || p.outer.emissivity != c.want || len(said) != c.says {
			t.Errorf("%+v: %g, want %g; %q; %v", c.l, p.outer.emissivity, c.want, said, err)
		}
	}
}

func TestLimits(t *testing.T) {
	both := &layout.Limit{ContinuousDegC: new(120.0), PeakDegC: new(150.0)}
	for _, c := range []struct {
		l    *layout.Limit
		peak bool
		want float64 // °C, 0 for none
	}{
		{both, false, 120},
		{both, true, 150},
		{&layout.Limit{ContinuousDegC: new(120.0)}, true, 120},
		{&layout.Limit{PeakDegC: new(150.0)}, false, 150},
		{&layout.Limit{}, true, 0},
		{nil, false, 0},
	} {
		s, err := standsOf(material.All(), c.l, "")
		if err != nil {
			t.Fatal(err)
		}
		got := s.limitFor(c.peak)
		if (got == nil) != (c.want == 0) || got != nil && *got != c.want {
			t.Errorf("%+v, peak %v: %v, want %g", c.l, c.peak, got, c.want)
		}
	}
}

// TestVerdicts: the high end decides, to the last digit, and the words tell how
// the nominal figure stands.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		limit      float64
		want, says string
	}{
		{129, Over, "nominal 130, up to 150 °C, limit 129 °C: the nominal is 1 K over it, the high end 21 K"},
		{131, Over, "nominal 130, up to 150 °C, limit 131 °C: the nominal is 1 K below it, the high end 19 K over it"},
		{math.Nextafter(150, 0), Over, "nominal 130, up to 150 °C, limit 150 °C: the nominal is 20 K below it, the high end 0 K over it"},
		{150, Close, "nominal 130, up to 150 °C, limit 150 °C: the high end is 0 K below it"},
		{math.Nextafter(160, 0), Close, "nominal 130, up to 150 °C, limit 160 °C: the high end is 10 K below it"},
		{160, OK, "nominal 130, up to 150 °C, limit 160 °C: the high end is 10 K below it"},
	} {
		ph := PartHeat{Temperature: Band{LowDegC: 110, NominalDegC: 130, HighDegC: 150}}
		ph.judge(&stands{Limit: layout.Limit{ContinuousDegC: &c.limit, PeakDegC: new(1000.0)}}, false)
		if says := ph.Temperature.Judged(c.limit).String(); ph.Verdict != c.want || says != c.says {
			t.Errorf("limit %g: %s, want %s; %q", c.limit, ph.Verdict, c.want, says)
		}
		if ph.judge(&stands{Limit: layout.Limit{ContinuousDegC: new(0.0), PeakDegC: &c.limit}}, true); ph.Verdict != c.want {
			t.Errorf("peak of %g in a soak: %s, want %s", c.limit, ph.Verdict, c.want)
		}
	}
	// Above 100 °C from a half of the first minute to three quarters of the third.
	curve := []Sample{{TimeS: 0, HighDegC: 90}, {TimeS: 60, HighDegC: 110}, {TimeS: 120, HighDegC: 130}, {TimeS: 180, HighDegC: 90}}
	if got := highAboveS(curve, 100); math.Abs(got-(30+60+45)) > 1e-9 {
		t.Errorf("above for %g s, want 135", got)
	}
	ph := PartHeat{Temperature: Band{HighDegC: 500}}
	if ph.judge(&stands{}, false); ph.Verdict != NoLimit || ph.HighMarginK != nil {
		t.Errorf("without a limit: %+v", ph)
	}
}

// The changes of a part are joined by the root of their squares, up and down
// apart; an input whose both moves warm the part counts once, with the larger.
func TestBand(t *testing.T) {
	low, high := band([]float64{400, 397, 403, 404, 396, 400, 400, 400, 400, 400, 400, 412, 401})
	if math.Abs(low-(400-5)) > 1e-9 || math.Abs(high-(400+13)) > 1e-9 { // √(3²+4²); √(3²+4²+12²)
		t.Errorf("low %g, high %g", low, high)
	}
	if low, high = band(make([]float64, 1+2*inputs)); low != 0 || high != 0 {
		t.Errorf("no changes: %g, %g", low, high)
	}
	if n := len(usualSpread.variations()); n != 1+2*inputs {
		t.Errorf("%d variations", n)
	}
}

func TestAirAfterKeyOff(t *testing.T) {
	start := thermal.Ambient{AirK: 340, SurroundingsK: 330}
	still := airsOf(&layout.HeatCase{}, start, variation{})
	if got := still.at(1e4); got != start {
		t.Errorf("air that is told nothing goes to %+v", got)
	}
	a := airsOf(&layout.HeatCase{AirSettlesDegC: celsius(310), AirTimeS: new(100.0), SurroundingsDegC: celsius(305)}, start, variation{airK: 10})
	if got := a.at(0); got.AirK != 340 || got.SurroundingsK != 305 { // the start is varied where it was settled
		t.Errorf("starts at %+v", got)
	}
	if got := a.at(100).AirK; math.Abs(got-(320+20/math.E)) > 1e-9 {
		t.Errorf("after one time constant %g K", got)
	}
	given := airsOf(&layout.HeatCase{AirDegC: celsius(360)}, start, variation{airK: 10})
	if got := given.at(50).AirK; math.Abs(got-370) > 1e-9 {
		t.Errorf("given air %g K", got)
	}
}

// A soak may follow a soak: the second starts where the first ends, in the
// scene and for a component.
func TestSoakAfterSoak(t *testing.T) {
	heat := bayHeat()
	heat.Cases[1].Minutes = new(5.0)
	heat.Cases = append(heat.Cases, layout.HeatCase{Name: "later", After: "hot soak", Minutes: new(10.0), AirSettlesDegC: new(30.0), AirTimeS: new(300.0)})
	all := bay(t)
	r := solve(t, stand(t, heat, all...))
	first, second := find(t, &r.Cases[1], "coil"), find(t, &r.Cases[2], "coil")
	if math.Abs(*first.EndDegC-second.Curve[0].TemperatureDegC) > 1e-9 {
		t.Errorf("the first soak ends at %g °C, the second starts at %g", *first.EndDegC, second.Curve[0].TemperatureDegC)
	}
	coil := all[2]
	v, err := r.Look(Component{Name: "trial", Mesh: coil.mesh, Pose: geom.Shift(coil.part.MoveMM), Closed: true, Emissivity: coil.part.Emissivity, Thermal: *coil.part.Thermal, Without: "coil"})
	if err != nil {
		t.Fatal(err)
	}
	got, err := r.Receive(context.Background(), 2, v)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(*got.EndDegC-*second.EndDegC) > 2 || got.NetW > 0 != (second.NetW > 0) && math.Abs(got.NetW) > 1 {
		t.Errorf("trial %+v, part %+v", got, second)
	}
	if _, err := r.Receive(context.Background(), 3, v); err == nil {
		t.Error("a case that is not there passed")
	}
}
