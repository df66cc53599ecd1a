package balance

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
	"aftbay/thermal"
	"aftbay/thermal/radiate"
)

// Air above a hot part is hotter by the plume's rise: a plate without
// radiation over a hot box takes the air's temperature plus the rise, one
// beside it or beyond the height does not, nor one above a shelf.
func TestPlume(t *testing.T) {
	slab := func(z float64) *layout.Part {
		return &layout.Part{MoveMM: geom.Vec{0, 0, z}, Emissivity: new(0.0)}
	}
	above, beside, beyond, below, over := *slab(150), *slab(150), *slab(700), *slab(-150), *slab(150)
	beside.MoveMM[0], over.MoveMM[0] = 800, -800
	above.Name, beside.Name, beyond.Name, below.Name, over.Name = "above", "beside", "beyond", "below", "over"
	shelf := layout.Part{Name: "shelf", MoveMM: geom.Vec{-800, 0, 100}, Emissivity: new(0.0)}
	thin := geom.Vec{100, 100, 10}
	hot := func(name string, x float64) body {
		return body{layout.Part{Name: name, Role: "exhaust", MoveMM: geom.Vec{x, 0, 0}, Thermal: &layout.Thermal{HeldDegC: new(600.0)}}, brick(geom.Vec{200, 200, 100})}
	}
	heat := &layout.Heat{Spread: noSpread(), Rays: new(16), Cases: []layout.HeatCase{
		{Name: "slow", AirDegC: new(60.0), AirSpeedMS: new(1.0), Plume: &layout.Plume{RiseK: 40, HeightMM: new(300.0)}},
		{Name: "off", After: "slow", Minutes: new(10.0), AirTimeS: new(600.0), Plume: &layout.Plume{RiseK: 40}},
	}}
	r := solve(t, stand(t, heat, hot("box", 0), hot("second", -800), body{above, brick(thin)}, body{beside, brick(thin)}, body{beyond, brick(thin)}, body{below, brick(thin)}, body{over, brick(thin)}, body{shelf, brick(geom.Vec{300, 300, 10})}))
	for name, want := range map[string]float64{"above": 100, "beside": 60, "beyond": 60, "below": 60, "over": 60} {
		if got := find(t, &r.Cases[0], name).Temperature.NominalDegC; math.Abs(got-want) > 0.5 {
			t.Errorf("%s: %.2f °C, want %g", name, got, want)
		}
	}
	if off := find(t, &r.Cases[1], "above"); *off.EndDegC > 99 || *off.EndDegC < 60+40/math.E-1 {
		t.Errorf("after key-off the plume fades: %+v", off.Temperature)
	}
	v, err := r.Look(Component{Name: "trial", Mesh: brick(thin), Pose: geom.Shift(geom.Vec{0, 0, 150}), Closed: true, Emissivity: new(0.0), Without: "above"})
	if err != nil {
		t.Fatal(err)
	}
	got, err := r.Receive(context.Background(), 0, v)
	if err != nil || math.Abs(got.Temperature.NominalDegC-100) > 0.5 {
		t.Errorf("a component above: %+v, %v", got.Temperature, err)
	}
}

// The surroundings count in the band: a part that sees nothing else, without
// air, moves with them.
func TestSurroundingsInTheBand(t *testing.T) {
	sp := noSpread()
	sp.SurroundingsK = new(30.0)
	heat := &layout.Heat{Spread: sp, Cases: []layout.HeatCase{{Name: "on", AirDegC: new(20.0), SurroundingsDegC: new(80.0), FilmWM2K: new(0.0)}}}
	r := solve(t, stand(t, heat, body{layout.Part{Name: "ball"}, sphere(50)}))
	ball := find(t, &r.Cases[0], "ball")
	if b := ball.Temperature; math.Abs(b.NominalDegC-80) > 0.01 || math.Abs(b.LowDegC-50) > 0.01 || math.Abs(b.HighDegC-110) > 0.01 {
		t.Errorf("%+v", b)
	}
	if e := ball.Effects[0]; e.Input.String() != "surroundings" || math.Abs(e.UpK-30) > 0.01 || math.Abs(e.DownK+30) > 0.01 || ball.Effects[1].UpK > 0.01 {
		t.Errorf("effects %+v", ball.Effects)
	}
}

// Where the layout gives no spread of emissivities, those of the material's row
// are taken: aluminium foil in service 0.08, 0.15, 0.35.
func TestEmissivitySpreadOfTheMaterial(t *testing.T) {
	const foil = "Aluminium foil shield, embossed, in service (dust, oil film)"
	s := stand(t, &layout.Heat{Cases: []layout.HeatCase{{Name: "on", AirDegC: new(20.0)}}}, body{layout.Part{Name: "foil", Material: foil}, sphere(50)})
	r := solve(t, s)
	if got, want := r.study.parts[0].outer, (surface{0.08, 0.15, 0.35}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	s = stand(t, &layout.Heat{Spread: &layout.Spread{Emissivity: new(0.1)}, Cases: []layout.HeatCase{{Name: "on", AirDegC: new(20.0)}}}, body{layout.Part{Name: "foil", Material: foil}, sphere(50)})
	if got, want := solve(t, s).study.parts[0].outer, around(0.15, 0.1); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// mixed is the exchange in a draw: emissivities moved by any share of their
// spread.
func mixed(t *testing.T, st *study, v variation) *radiate.Absorbed {
	t.Helper()
	both := make([]*radiate.Absorbed, 2)
	for i, e := range []radiate.Emission{st.emission, st.emissionOf(v)} {
		var err error
		if both[i], err = radiate.ExchangeParts(context.Background(), st.factors, e, 1); err != nil {
			t.Fatal(err)
		}
	}
	return st.absorbed.Moved(both[0], both[1])
}

// The band by root sum square against a seeded Monte Carlo run of the whole
// balance: every input drawn from a normal distribution whose two standard
// deviations are its spread, sides apart where the spread is uneven. The band
// then stands for 95 % of the draws, as far as the answer is linear. 1,000 draws
// know their 2.5 % quantiles to about 5 % of the band; bending adds some more.
// Few rays and large patches do: band and draws share the view factors.
func TestBandAgainstMonteCarlo(t *testing.T) {
	heat := &layout.Heat{Rays: new(64), PatchMM: new(120.0), Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0), SurroundingsDegC: new(50.0)}}}
	r := solve(t, stand(t, heat, bay(t)...))
	st, hc := r.study, &heat.Cases[0]
	coil, _ := st.partOf("coil")
	rng := rand.New(rand.NewPCG(5, 0))
	half := func() float64 { return rng.NormFloat64() / 2 } // of the spread
	var got []float64
	for range 1000 {
		film := half()
		v := variation{
			heldSide: half(), sourceSide: half(), ownSide: half(),
			airK: st.spread.airK * half(), surroundingsK: st.spread.surroundingsK * half(), filmFactor: 1 + film*(st.spread.mostFactor-1),
		}
		if film < 0 {
			v.filmFactor = max(0.05, 1+film*(1-st.spread.leastFactor))
		}
		net := st.network(hc, v, mixed(t, st, v), profiled, make([]float64, len(st.parts)))
		around := thermal.Ambient{AirK: thermal.Kelvin(60) + v.airK, SurroundingsK: thermal.Kelvin(50) + v.surroundingsK}
		startK := make([]float64, len(st.parts))
		for i := range startK {
			startK[i] = around.AirK
			if st.parts[i].held {
				startK[i] = st.parts[i].heldAtK(v)
			}
		}
		tempsK, err := Settle(context.Background(), net, startK, around)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, thermal.Celsius(tempsK[coil]))
	}
	slices.Sort(got)
	b := find(t, &r.Cases[0], "coil").Temperature
	low, high := got[len(got)/40], got[len(got)-len(got)/40]
	wide := b.HighDegC - b.LowDegC
	if math.Abs(low-b.LowDegC) > 0.08*wide || math.Abs(high-b.HighDegC) > 0.08*wide {
		t.Errorf("band %.1f to %.1f °C, drawn %.1f to %.1f °C", b.LowDegC, b.HighDegC, low, high)
	}
	if median := got[len(got)/2]; math.Abs(median-b.NominalDegC) > 0.05*wide {
		t.Errorf("nominal %.1f °C, median %.1f °C", b.NominalDegC, median)
	}
}

// Mounts in a circle, a power that nothing takes away, a limit like nothing known.
func TestInputRefusals(t *testing.T) {
	two := func(change func(a, b *layout.Part)) []body {
		a := layout.Part{Name: "a", Thermal: &layout.Thermal{}}
		b := layout.Part{Name: "b", MoveMM: geom.Vec{0, 0, 200}, Thermal: &layout.Thermal{}}
		change(&a, &b)
		return []body{{a, sphere(50)}, {b, plain.Brick(geom.Vec{-20, -20, -20}, geom.Vec{20, 20, 20})}}
	}
	for says, change := range map[string]func(a, b *layout.Part){
		`mounts run in a circle, "a" to "b" to "a"`: func(a, b *layout.Part) {
			a.Thermal.Mount, b.Thermal.Mount = &layout.Mount{To: "b", WK: 1}, &layout.Mount{To: "a", WK: 1}
		},
		`part "a": has a power of 5 W, but emissivity and film are 0`: func(a, _ *layout.Part) {
			a.Emissivity, a.Thermal.FilmWM2K, a.Thermal.PowerW = new(0.0), new(0.0), 5
		},
		"cable class A to H": func(a, _ *layout.Part) { a.LimitDegC = &layout.Limit{Like: "Z"} },
	} {
		s := stand(t, &layout.Heat{Cases: []layout.HeatCase{{Name: "on", AirDegC: new(20.0)}}}, two(change)...)
		if _, err := Run(context.Background(), s, Options{}, nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want a word of %s", err, says)
		}
	}
}

// A limit by cable class, by material and by hand, each with its source.
func TestLimitSources(t *testing.T) {
	s := stand(t, &layout.Heat{Cases: []layout.HeatCase{{Name: "on", AirDegC: new(20.0)}, {Name: "off", After: "on"}}},
		body{layout.Part{Name: "loom", LimitDegC: &layout.Limit{Like: "C"}}, sphere(20)},
		body{layout.Part{Name: "duct", Material: "PA66 33 percent glass", MoveMM: geom.Vec{0, 100, 0}}, sphere(20)},
		body{layout.Part{Name: "coil", MoveMM: geom.Vec{0, 200, 0}, LimitDegC: &layout.Limit{PeakDegC: new(160.0), Source: "maker's sheet", Like: "Ignition coil, epoxy potted, on head"}}, sphere(20)})
	r := solve(t, s)
	for _, c := range []struct {
		part, source string
		limits       [2]float64 // standing, soak; °C
	}{
		{"loom", "cable class C", [2]float64{125, 125}},
		{"duct", "PA66-GF33", [2]float64{100, 100}},
		{"coil", "maker's sheet; the other from Ignition coil", [2]float64{130, 160}},
	} {
		for k := range r.Cases {
			p := find(t, &r.Cases[k], c.part)
			if p.LimitDegC == nil || *p.LimitDegC != c.limits[k] || !strings.Contains(p.LimitSource, c.source) {
				t.Errorf("%s, %s: limit %v of %q", r.Cases[k].Name, c.part, p.LimitDegC, p.LimitSource)
			}
		}
	}
}
