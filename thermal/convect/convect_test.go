package convect

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/thermal"
)

type refCase struct {
	ID     string `json:"id"`
	Kind   string `json:"kind"`
	Source string `json:"source"`
	Params struct {
		Corr                          string
		X, Pr, T, Ts, Ta, Te, L, D, U float64
		Nu, K, Beta, G, Eps           float64
	} `json:"params"`
	Expected map[string]float64 `json:"expected"`
}

func readCases(t *testing.T) []refCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var raw struct{ Cases []json.RawMessage }
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatal(err)
	}
	var out []refCase
	for _, r := range raw.Cases {
		var head struct{ ID string }
		if err := json.Unmarshal(r, &head); err != nil {
			t.Fatal(err)
		}
		if len(head.ID) < 4 || head.ID[:4] != "O-CV" {
			continue
		}
		var c refCase
		if err := json.Unmarshal(r, &c); err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

func nusselt(t *testing.T, corr string, x, prandtl float64) float64 {
	t.Helper()
	switch corr {
	case "cc_plate":
		return VerticalPlate(x, prandtl)
	case "cc_plate_lam":
		return VerticalPlateLaminar(x, prandtl)
	case "cc_cyl":
		return LevelCylinder(x, prandtl)
	case "cb":
		return CylinderAcross(x, prandtl)
	}
	t.Fatalf("unknown correlation %q", corr)
	return 0
}

// Every convection case of the reference set, each with its own source; they
// define the fits, so 1e-6 relative is the file's own tolerance.
func TestReferenceCases(t *testing.T) {
	cases := readCases(t)
	if len(cases) != 13 {
		t.Fatalf("%d cases, want 13", len(cases))
	}
	for _, c := range cases {
		p := c.Params
		got := map[string]float64{}
		switch c.Kind {
		case "nu":
			got["Nu"] = nusselt(t, p.Corr, p.X, p.Pr)
		case "conv_given":
			x := p.U * p.L / p.Nu
			if p.Corr != "cb" {
				x = p.G * p.Beta * math.Abs(p.Ts-p.Ta) * math.Pow(p.L, 3) / (p.Nu * p.Nu) * p.Pr
			}
			got["x"] = x
			got["Nu"] = nusselt(t, p.Corr, x, p.Pr)
			got["h"] = got["Nu"] * p.K / p.L
		case "air":
			a := AirAt(p.T)
			got = map[string]float64{"rho": a.DensityKgM3, "mu": a.ViscosityPaS, "k": a.ConductivityWMK, "cp": a.HeatJKgK, "nu": a.KinematicM2S, "Pr": a.Prandtl, "beta": a.ExpansionPerK}
		case "h_air":
			b := Body{Kind: UprightPlate, LengthM: p.L}
			s := Stream{SurfaceK: p.Ts, AirK: p.Ta, LengthM: p.L, SpeedMS: p.U}
			got["h"] = b.FilmWM2K(s)
			if p.Corr == "forced_cyl" { // the case leaves natural convection out
				air := AirAt((p.Ts + p.Ta) / 2)
				got["h"] = CylinderAcross(s.reynolds(air), air.Prandtl) * air.ConductivityWMK / p.L
			}
		case "pipe_loss":
			got["h"] = Body{Kind: Cylinder, LengthM: p.D}.FilmWM2K(Stream{SurfaceK: p.Ts, AirK: p.Ta})
			got["q_conv"] = got["h"] * math.Pi * p.D * (p.Ts - p.Ta)
			got["q_rad"] = p.Eps * math.Pi * p.D * (thermal.EmissiveWM2(p.Ts) - thermal.EmissiveWM2(p.Te))
		default:
			t.Fatalf("%s: unknown kind %q", c.ID, c.Kind)
		}
		book.Ran(c.ID)
		for key, value := range got {
			if want := c.Expected[key]; math.Abs(value-want) > 1e-6*math.Abs(want) {
				t.Errorf("%s (%s): %s = %.9g, want %.9g", c.ID, c.Source, key, value, want)
			}
		}
	}
}

// Two faces of one shape must agree where one law ends and the next begins,
// within what the sources' own figures leave open.
func TestLawsMeet(t *testing.T) {
	below, above := LevelPlateRising(levelPlateTurbulent), LevelPlateRising(levelPlateTurbulent*1.0001)
	if math.Abs(above/below-1) > 0.10 { // 0.54·Ra^1/4 against 0.15·Ra^1/3 at 1e7: 30.4 and 32.3
		t.Errorf("level plate jumps from %g to %g", below, above)
	}
	below, above = PlateAlong(plateTurbulent, 0.7), PlateAlong(plateTurbulent*1.0001, 0.7)
	if math.Abs(above/below-1) > 0.01 { // 871 is chosen so that the laws meet
		t.Errorf("swept plate jumps from %g to %g", below, above)
	}
}

// Forced convection against printed estimates for 50 mm cylinders and 0.1 m
// plates (computed with the same laws at 380 K in 340 K air): 35.5 and 27.5
// W/m²K at 5 m/s, to the printed digits; natural convection adds under 1 %.
func TestFilmInFlow(t *testing.T) {
	s := Stream{SurfaceK: 380, AirK: 340, SpeedMS: 5}
	if h := (Body{Kind: Cylinder, LengthM: 0.05}).FilmWM2K(s); math.Abs(h-35.5) > 0.3 {
		t.Errorf("cylinder: %g W/m²K", h)
	}
	if h := (Body{Kind: UprightPlate, LengthM: 0.1}).FilmWM2K(s); math.Abs(h-27.5) > 0.4 {
		t.Errorf("plate: %g W/m²K", h)
	}
}

func TestFilmGrowsWithSpeedAndDifference(t *testing.T) {
	for _, kind := range []Kind{UprightPlate, LevelPlate, Cylinder, UprightColumn} {
		b := Body{Kind: kind, LengthM: 0.08}
		last := 0.0
		for _, speed := range []float64{0, 0.2, 1, 3, 10} {
			h := b.FilmWM2K(Stream{SurfaceK: 420, AirK: 340, SpeedMS: speed})
			if h <= last {
				t.Errorf("kind %d: %g W/m²K at %g m/s after %g", kind, h, speed, last)
			}
			last = h
		}
		if h := b.FilmWM2K(Stream{SurfaceK: 340, AirK: 340}); h <= 0 || math.IsNaN(h) {
			t.Errorf("kind %d: film %g at rest", kind, h)
		}
	}
}

func TestChoose(t *testing.T) {
	up := [3]float64{0, 0, 1}
	pipe := func(dM, lM float64) (areaM2, volumeM3 float64) { return math.Pi * dM * lM, math.Pi * dM * dM / 4 * lM }
	bentArea, bentVolume := pipe(0.05, 0.9)
	rodArea, rodVolume := pipe(0.04, 0.5)
	cases := []struct {
		name string
		o    Outline
		want Body
	}{
		{"upright sheet", Outline{EdgesM: [3]float64{0.3, 0, 0.2}, UpCos: up, HeightM: 0.2, AreaM2: 0.06, FlatShare: 1}, Body{Kind: UprightPlate, LengthM: 0.2, FlowM: math.Sqrt(0.06)}},
		{"level sheet", Outline{EdgesM: [3]float64{0.3, 0.3, 0}, UpCos: up, AreaM2: 0.09, FlatShare: 1, FlatUpCos: 1}, Body{Kind: LevelPlate, LengthM: 0.075, FlowM: 0.3}},
		{"thin lid, curved", Outline{EdgesM: [3]float64{1.2, 1, 0.1}, UpCos: up, AreaM2: 2.4, VolumeM3: 0.024, FlatShare: 0.9, FlatUpCos: 0.98}, Body{Kind: LevelPlate, LengthM: math.Sqrt(1.2) / 4, FlowM: math.Sqrt(1.2)}},
		{"shell of sheet metal", Outline{EdgesM: [3]float64{0.4, 0.4, 0.4}, UpCos: up, AreaM2: 1.92, VolumeM3: 0.00096, FlatShare: 1.0 / 3}, Body{Kind: Cylinder, LengthM: 0.4}},
		{"bent pipe in a cube of room", Outline{EdgesM: [3]float64{0.4, 0.4, 0.4}, UpCos: up, AreaM2: bentArea, VolumeM3: bentVolume}, Body{Kind: Cylinder, LengthM: 0.05}},
		{"standing rod", Outline{EdgesM: [3]float64{0.04, 0.04, 0.5}, UpCos: up, AreaM2: rodArea, VolumeM3: rodVolume}, Body{Kind: UprightColumn, LengthM: 0.5, FlowM: 0.04}},
		{"coil", Outline{EdgesM: [3]float64{0.06, 0.06, 0.08}, UpCos: up, AreaM2: 0.0264, VolumeM3: 0.000288}, Body{Kind: Cylinder, LengthM: 0.06}},
		{"given length", Outline{EdgesM: [3]float64{0.06, 0.06, 0.08}, UpCos: up, GivenM: 0.1}, Body{Kind: Cylinder, LengthM: 0.1, FlowM: 0.1}},
	}
	for _, c := range cases {
		got := Choose(c.o)
		if got.Kind != c.want.Kind || math.Abs(got.LengthM-c.want.LengthM) > 1e-9 || math.Abs(got.FlowM-c.want.FlowM) > 1e-9 {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// TestNoCorrelationSteps: heat flow must grow steadily with the temperature
// difference and the speed, or a balance may have no solution.
func TestNoCorrelationSteps(t *testing.T) {
	for name, nusselt := range map[string]func(x float64) float64{
		"vertical plate": func(x float64) float64 { return VerticalPlate(x, 0.7) },
		"level cylinder": func(x float64) float64 { return LevelCylinder(x, 0.7) },
		"rising":         LevelPlateRising,
		"trapped":        LevelPlateTrapped,
		"along":          func(x float64) float64 { return PlateAlong(x, 0.7) },
		"across":         func(x float64) float64 { return CylinderAcross(x, 0.7) },
	} {
		const step = 1.0001
		last := nusselt(1)
		for x := step; x < 1e9; x *= step {
			now := nusselt(x)
			// Steepest where the flow along a plate turns: with the power 2.3 of the
			// speed at most. A step of a hundredth would be more than thirty times that.
			if now < last || now > last*math.Pow(step, 3) {
				t.Errorf("%s steps from %g to %g at %g", name, last, now, x)
				break
			}
			last = now
		}
	}
}
