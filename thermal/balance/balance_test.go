package balance

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/thermal"
)

func celsius(k float64) *float64 { return new(thermal.Celsius(k)) }

// Concentric grey spheres (closed form: Lienhard ch. 10 and other textbooks):
// Q = σA₁(T₁⁴−T₂⁴)/(1/e₁ + A₁/A₂·(1/e₂−1)). The outer one is a sheet that faces
// inward; within 1 %, what facets and rays leave.
func TestConcentricSpheres(t *testing.T) {
	const t1, t2, e1, e2 = 800, 400, 0.6, 0.3
	heat := &layout.Heat{Cases: []layout.HeatCase{{Name: "on", AirDegC: new(40.0), FilmWM2K: new(0.0)}}}
	s := stand(t, heat,
		body{layout.Part{Name: "inner", Emissivity: new(e1), Thermal: &layout.Thermal{HeldDegC: celsius(t1)}}, sphere(60)},
		body{layout.Part{Name: "outer", Emissivity: new(e2), Thermal: &layout.Thermal{HeldDegC: celsius(t2)}}, open(plain.Flipped(sphere(150)))})
	r := solve(t, s)
	a1, a2 := 4*math.Pi*0.06*0.06, 4*math.Pi*0.15*0.15
	want := a1 * (thermal.EmissiveWM2(t1) - thermal.EmissiveWM2(t2)) / (1/e1 + a1/a2*(1/e2-1))
	c := &r.Cases[0]
	inner, outer := find(t, c, "inner"), find(t, c, "outer")
	if math.Abs(inner.RadiativeW+want) > 0.01*want || math.Abs(outer.RadiativeW-want) > 0.015*want {
		t.Errorf("inner %g W, outer %g W, want ∓%g", inner.RadiativeW, outer.RadiativeW, want)
	}
	if math.Abs(c.SuppliedW-c.TakenW) > 1e-3*want {
		t.Errorf("supplied %g W, taken %g W", c.SuppliedW, c.TakenW)
	}
}

// A shield between them: a sheet with an emissivity on either side and one
// temperature. Closed form: the two gaps in series, each with the resistance of
// concentric spheres (Lienhard ch. 10).
func TestShieldBetweenSpheres(t *testing.T) {
	const t1, t3, e1, inner, outer, e3 = 900, 350, 0.85, 0.3, 0.1, 0.9
	heat := &layout.Heat{Spread: noSpread(), Cases: []layout.HeatCase{{Name: "on", AirDegC: new(40.0), FilmWM2K: new(0.0)}}}
	s := stand(t, heat,
		body{layout.Part{Name: "hot", Emissivity: new(e1), Thermal: &layout.Thermal{HeldDegC: celsius(t1)}}, sphere(60)},
		body{layout.Part{Name: "shield", Role: "shield", Emissivity: new(outer), InnerEmissivity: new(inner)}, open(sphere(100))},
		body{layout.Part{Name: "wall", Emissivity: new(e3), Thermal: &layout.Thermal{HeldDegC: celsius(t3)}}, open(plain.Flipped(sphere(150)))})
	r := solve(t, s)
	a1, a2, a3 := 4*math.Pi*0.06*0.06, 4*math.Pi*0.1*0.1, 4*math.Pi*0.15*0.15
	in := (1/e1 + a1/a2*(1/inner-1)) / a1
	out := (1/outer + a2/a3*(1/e3-1)) / a2
	wantW := (thermal.EmissiveWM2(t1) - thermal.EmissiveWM2(t3)) / (in + out)
	shieldK := math.Pow((thermal.EmissiveWM2(t1)-wantW*in)/thermal.StefanBoltzmannWM2K4, 0.25)
	c := &r.Cases[0]
	if got := find(t, c, "hot").RadiativeW; math.Abs(got+wantW) > 0.015*wantW {
		t.Errorf("hot loses %g W, want %g", -got, wantW)
	}
	if got := thermal.Kelvin(find(t, c, "shield").Temperature.NominalDegC); math.Abs(got-shieldK) > 3 {
		t.Errorf("shield at %.1f K, want %.1f", got, shieldK)
	}
}

// The receiver O-EQ09: a plate 120 mm from a 60 mm pipe 0.5 m long at 900 K;
// 523.697 K with F = 0.24499. One per cent of F moves it by 1.3 K.
func pipeAndPlate(t testing.TB, heat *layout.Heat) *Result {
	plate := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{120, 2 * (v - 0.5), 2 * (u - 0.5)} })
	s := stand(t, heat,
		body{layout.Part{Name: "pipe", Role: "exhaust", Emissivity: new(0.85), Thermal: &layout.Thermal{HeldDegC: celsius(900)}}, tube(30, 500)},
		body{layout.Part{Name: "plate", Emissivity: new(0.9), LimitDegC: &layout.Limit{ContinuousDegC: new(260.0)}}, flippedToFace(plate, geom.Vec{-1, 0, 0})})
	return solve(t, s)
}

// flippedToFace turns a flat sheet so that its outside looks along dir.
func flippedToFace(m *mesh.Mesh, dir geom.Vec) *mesh.Mesh {
	a, b, c := m.Corners(0)
	if b.Sub(a).Cross(c.Sub(a)).Dot(dir) < 0 {
		return plain.Flipped(m)
	}
	return m
}

func TestReceiverByAPipe(t *testing.T) {
	heat := &layout.Heat{Rays: new(4096), Cases: []layout.HeatCase{{Name: "drive", AirDegC: celsius(340), SurroundingsDegC: celsius(340), FilmWM2K: new(20.0)}}}
	r := pipeAndPlate(t, heat)
	plate := find(t, &r.Cases[0], "plate")
	if got := thermal.Kelvin(plate.Temperature.NominalDegC); math.Abs(got-523.697) > 1.3 {
		t.Errorf("plate at %.2f K, want 523.70", got)
	}
	if math.Abs(plate.Irradiation.MeanWM2-8347.3) > 0.01*8347.3 {
		t.Errorf("irradiation %g W/m², want 8347.3", plate.Irradiation.MeanWM2)
	}
	// Sensitivities printed with the case's definition, recomputed here: ±50 K
	// of the source +32/−30 K, its emissivity +16/−17 K, film ×0.5 +43 K and
	// ×1.5 −32 K, air +20 K +8 K; joined +57/−49 K, own emissivity besides.
	up, down := plate.Temperature.HighDegC-plate.Temperature.NominalDegC, plate.Temperature.NominalDegC-plate.Temperature.LowDegC
	if up < 54 || up > 62 || down < 46 || down > 54 {
		t.Errorf("band +%.1f/−%.1f K", up, down)
	}
	if plate.Verdict != Over || math.Abs(*plate.MarginK-(260-plate.Temperature.NominalDegC)) > 1e-9 {
		t.Errorf("verdict %q, margin %v", plate.Verdict, *plate.MarginK)
	}
	sum := 0.0
	for _, f := range plate.From {
		sum += f.Share
	}
	if math.Abs(sum-1) > 1e-5 || plate.From[0].Part != "pipe" {
		t.Errorf("shares %v sum to %g", plate.From, sum)
	}
	if math.Abs(plate.NetW) > 1e-6 || math.Abs(plate.RadiativeW+plate.ConvectiveW) > 1e-6 {
		t.Errorf("flows do not settle: %+v", plate)
	}
}

// A sheet with a radiating inner side takes from both sides at one temperature;
// without it the inner side only blocks.
func TestTwoSidedSheet(t *testing.T) {
	heat := &layout.Heat{Spread: noSpread(), Cases: []layout.HeatCase{{Name: "on", AirDegC: celsius(300), FilmWM2K: new(10.0)}}}
	wall := func(z float64, up bool) *mesh.Mesh {
		m := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{400 * u, 400 * v, z} })
		if !up {
			return plain.Flipped(m)
		}
		return m
	}
	run := func(inner *float64) (hot, shieldK float64) {
		r := solve(t, stand(t, heat,
			body{layout.Part{Name: "hot", Emissivity: new(0.9), Thermal: &layout.Thermal{HeldDegC: celsius(900)}}, wall(0, true)},
			body{layout.Part{Name: "shield", Role: "shield", Emissivity: new(0.9), InnerEmissivity: inner}, wall(100, true)}))
		c := &r.Cases[0]
		return find(t, c, "hot").Irradiation.MeanWM2, thermal.Kelvin(find(t, c, "shield").Temperature.NominalDegC)
	}
	_, both := run(new(0.9))
	back, outside := run(nil)
	if both < 500 || math.Abs(outside-300) > 1 {
		t.Errorf("shield at %g K with a radiating inner side, %g K without", both, outside)
	}
	if back < 0.3*0.9*thermal.EmissiveWM2(900) {
		t.Errorf("the blocking side throws back only %g W/m²", back)
	}
}

// TR03 of the reference file through the whole chain: a skin of 1 m² and
// 4710 J/K, emissivity 0.8, cools from 800 K by radiation to 300 K: 574.945 K
// after 120 s (Heat Transfer Handbook, eq. 3.283).
func TestSoakOfOnePlate(t *testing.T) {
	heat := &layout.Heat{Cases: []layout.HeatCase{
		{Name: "drive", AirDegC: celsius(300), FilmWM2K: new(0.0)},
		{Name: "off", After: "drive", Minutes: new(2.0), FilmWM2K: new(0.0)},
	}}
	r := solve(t, stand(t, heat, body{layout.Part{
		Name: "skin", Emissivity: new(0.8), LimitDegC: &layout.Limit{ContinuousDegC: new(100.0), PeakDegC: new(350.0)},
		Thermal: &layout.Thermal{HeldDegC: celsius(800), HeatCapacityJK: new(4710.0)},
	}, plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{1000 * u, 1000 * v, 0} })}))
	skin := find(t, &r.Cases[1], "skin")
	if got := thermal.Kelvin(*skin.EndDegC); math.Abs(got-574.9454) > 0.1 {
		t.Errorf("skin ends at %.3f K, want 574.945", got)
	}
	if skin.Held || *skin.PeakTimeS != 0 || skin.Verdict != Over || *skin.LimitDegC != 350 {
		t.Errorf("soak answer %+v", skin)
	}
	if *skin.AboveLimitS < 40 || *skin.AboveLimitS > 120 || len(skin.Curve) != curveSamples+1 {
		t.Errorf("above its limit for %g s, %d samples", *skin.AboveLimitS, len(skin.Curve))
	}
}

// bay is a small bay with everything in it.
func bay(t testing.TB) []body {
	t.Helper()
	return []body{
		{layout.Part{Name: "pipe", Role: "exhaust", Material: "Stainless 304/409/441, service-oxidised exhaust", MoveMM: geom.Vec{0, 150, 0}, Thermal: &layout.Thermal{
			HeldAlong: &layout.HeldAlong{FromMM: geom.Vec{0, 0, -250}, ToMM: geom.Vec{0, 0, 250}, FromDegC: 800, ToDegC: 600},
		}}, tube(25, 500)},
		{layout.Part{Name: "block", Role: "engine", Material: "Cast aluminium (Al-Si)", MoveMM: geom.Vec{0, -100, 0}, Thermal: &layout.Thermal{HeldDegC: new(105.0)}}, brick(geom.Vec{300, 200, 300})},
		{layout.Part{Name: "coil", Role: "coil", MoveMM: geom.Vec{0, 40, 0}, Emissivity: new(0.92), LimitDegC: &layout.Limit{ContinuousDegC: new(130.0), PeakDegC: new(150.0)}, Thermal: &layout.Thermal{
			PowerW: 8, HeatCapacityJK: new(250.0), Mount: &layout.Mount{To: "block", WK: 0.4},
		}}, brick(geom.Vec{60, 40, 80})},
		{layout.Part{Name: "view", Role: "sightline"}, brick(geom.Vec{900, 900, 900})},
	}
}

func bayHeat() *layout.Heat {
	return &layout.Heat{Rays: new(256), Cases: []layout.HeatCase{
		{Name: "hard drive", AirDegC: new(60.0), AirSpeedMS: new(2.0), SurroundingsDegC: new(50.0)},
		{Name: "hot soak", After: "hard drive", Minutes: new(15.0), AirSettlesDegC: new(45.0), AirTimeS: new(600.0)},
	}}
}

func TestBay(t *testing.T) {
	r := solve(t, stand(t, bayHeat(), bay(t)...))
	drive, off := &r.Cases[0], &r.Cases[1]
	if len(drive.Parts) != 3 {
		t.Fatalf("%d parts: the sight line is no matter", len(drive.Parts))
	}
	if math.Abs(drive.SuppliedW-drive.TakenW) > 1e-3*drive.TakenW {
		t.Errorf("heat in %g W, heat out %g W", drive.SuppliedW, drive.TakenW)
	}
	net := 0.0
	for i := range drive.Parts {
		net += drive.Parts[i].NetW
	}
	if math.Abs(net-drive.BalanceW) > 1e-9*math.Abs(net) || math.Abs(-net+8-drive.SuppliedW) > 1e-3*drive.SuppliedW {
		t.Errorf("net %g W, balance %g W, supplied %g W", net, drive.BalanceW, drive.SuppliedW)
	}
	pipe, coil := find(t, drive, "pipe"), find(t, drive, "coil")
	if *pipe.HottestDegC < 780 || *pipe.HottestDegC > 800 || math.Abs(pipe.Temperature.NominalDegC-702) > 5 {
		t.Errorf("pipe %g °C, hottest %g °C", pipe.Temperature.NominalDegC, *pipe.HottestDegC)
	}
	if math.Abs(coil.NetW) > 1e-6 || !(coil.Temperature.LowDegC < coil.Temperature.NominalDegC && coil.Temperature.NominalDegC < coil.Temperature.HighDegC) {
		t.Errorf("coil %+v", coil)
	}
	if coil.Irradiation.PeakWM2 < 1.5*coil.Irradiation.MeanWM2 || coil.Irradiation.PeakAtMM[1] < 55 {
		t.Errorf("the side that faces the pipe must take most: %+v", coil.Irradiation)
	}
	hot := find(t, off, "coil")
	if hot.PeakTimeS == nil || hot.Temperature.NominalDegC < coil.Temperature.NominalDegC-1e-6 || *hot.EndDegC > hot.Temperature.NominalDegC {
		t.Errorf("coil after key-off: %+v", hot)
	}
	if hot.FilmWM2K >= coil.FilmWM2K {
		t.Errorf("film %g after key-off, %g before", hot.FilmWM2K, coil.FilmWM2K)
	}
	checkFields(t, r)
}

// The field of each part has the mean that the answer tells.
func checkFields(t *testing.T, r *Result) {
	t.Helper()
	fields := r.IrradiationField(0)
	for _, p := range r.Cases[0].Parts {
		m := r.study.parts[p.Part].body.Mesh
		var sum, areaMM2 float64
		for tri, w := range fields[p.Part] {
			a, b, c := m.Corners(tri)
			area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
			sum, areaMM2 = sum+area*float64(w), areaMM2+area
		}
		if mean := sum / areaMM2; math.Abs(mean-p.Irradiation.MeanWM2) > 1e-5*mean {
			t.Errorf("%s: field mean %g W/m², told %g", p.Name, mean, p.Irradiation.MeanWM2)
		}
		fine, values := r.FineField(0, p.Part)
		if box := fine.Box(); box.Min.Sub(m.Box().Min).Len()+box.Max.Sub(m.Box().Max).Len() > 1e-6 || len(values) != len(fine.Tris) {
			t.Errorf("%s: fine field of %d values on %d triangles in %v", p.Name, len(values), len(fine.Tris), box)
		}
		// The field tells means over patches, the peak is that of a place.
		want := hottestPatchWM2(r, p.Part)
		if peak := float64(slices.Max(values)); math.Abs(peak-want) > 1e-6*want {
			t.Errorf("%s: fine field peaks at %g W/m², its hottest patch receives %g", p.Name, peak, want)
		}
		if peak := slices.Max(values); math.Abs(float64(peak)-p.Irradiation.PeakWM2) > 0.1*p.Irradiation.PeakWM2 {
			t.Errorf("%s: fine field peaks at %g W/m², told %g", p.Name, peak, p.Irradiation.PeakWM2)
		}
	}
	if m, values := r.FineField(0, 3); m != nil || values != nil || fields[3] != nil {
		t.Error("the sight line has a field")
	}
}

// hottestPatchWM2 sums what the patches of a part receive in the first case and
// returns the most.
func hottestPatchWM2(r *Result, part int) (mostWM2 float64) {
	st, sol := r.study, r.Cases[0].solved
	emittedWM2 := st.emitted(sol.columns, sol.start())
	for _, p := range st.sums.patches[part] {
		sumWM2 := 0.0
		for c, share := range st.received.Row(p) {
			sumWM2 += share * emittedWM2[c]
		}
		mostWM2 = max(mostWM2, sumWM2)
	}
	return mostWM2
}

func TestFactorsOfTheBay(t *testing.T) {
	r := solve(t, stand(t, bayHeat(), bay(t)...))
	sums := map[string]float64{}
	for _, f := range r.Factors() {
		sums[f.From] += f.ValueFactor
		if f.StandardError < 0 || f.StandardError > 0.01 {
			t.Errorf("%+v", f)
		}
	}
	for name, sum := range sums {
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("row %q sums to %g", name, sum)
		}
	}
	if len(sums) != 3 {
		t.Errorf("rows %v", sums)
	}
}

func TestSameBitsForAnyWorkers(t *testing.T) {
	s := stand(t, bayHeat(), bay(t)...)
	var first string
	for _, workers := range []int{1, 2, 7} {
		r, err := Run(context.Background(), s, Options{Workers: workers}, nil)
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal([]any{r, r.Factors(), r.IrradiationField(1)})
		if err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = string(data)
		} else if first != string(data) {
			t.Errorf("%d workers give other bits", workers)
		}
	}
}

// A component tried in the solved scene without the coil must come out as the
// coil does when it is solved with all others: they differ by what the coil
// does to its neighbours.
func TestComponentMatchesPart(t *testing.T) {
	all := bay(t)
	heat := bayHeat()
	heat.Rays = new(1024)
	whole := solve(t, stand(t, heat, all...))
	for _, replace := range []bool{false, true} {
		bodies, without := append([]body{all[0], all[1]}, all[3]), ""
		if replace {
			bodies, without = all, "coil"
		}
		r := solve(t, stand(t, heat, bodies...))
		coil := all[2]
		pose := geom.Shift(coil.part.MoveMM)
		v, err := r.Look(Component{
			Name: "trial", Role: "coil", Mesh: coil.mesh, Pose: pose, Closed: true, Emissivity: coil.part.Emissivity,
			Thermal: *coil.part.Thermal, Limit: coil.part.LimitDegC, Without: without, Rays: 1024,
		})
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Cases {
			got, err := r.Receive(context.Background(), i, v)
			if err != nil {
				t.Fatal(err)
			}
			want := find(t, &whole.Cases[i], "coil")
			for _, pair := range [][2]float64{
				{got.Temperature.NominalDegC, want.Temperature.NominalDegC},
				{got.Temperature.LowDegC, want.Temperature.LowDegC},
				{got.Temperature.HighDegC, want.Temperature.HighDegC},
			} {
				if math.Abs(pair[0]-pair[1]) > 2 {
					t.Errorf("case %d, replace %v: trial %+v, part %+v", i, replace, got.Temperature, want.Temperature)
				}
			}
			if got.Verdict != want.Verdict || math.Abs(got.RadiativeW-want.RadiativeW) > 0.03*math.Abs(want.RadiativeW)+0.2 || math.Abs(got.PowerW-want.PowerW) > 1e-9 {
				t.Errorf("case %d, replace %v: trial %+v, part %+v", i, replace, got, *want)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	cases := []struct {
		name, says string
		heat       *layout.Heat
		change     func(b []body)
	}{
		{"no air", "air_degC", &layout.Heat{Cases: []layout.HeatCase{{Name: "drive"}}}, func([]body) {}},
		{"unknown material", `"Steel, oxidised"`, bayHeat(), func(b []body) { b[0].part.Material = "Stel, oxidised" }},
	}
	for _, c := range cases {
		b := bay(t)
		c.change(b)
		_, err := Run(context.Background(), stand(t, c.heat, b...), Options{}, nil)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want a word of %s", c.name, err, c.says)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(ctx, stand(t, bayHeat(), bay(t)...), Options{}, nil); err == nil {
		t.Error("a cancelled run gave a result")
	}
	r := solve(t, stand(t, bayHeat(), bay(t)...))
	if _, err := r.Look(Component{Name: "trial", Mesh: brick(geom.Vec{9, 9, 9}), Without: "nobody"}); err == nil {
		t.Error("a component in place of nobody passed")
	}
}

func BenchmarkBay(b *testing.B) {
	s := stand(b, bayHeat(), bay(b)...)
	for b.Loop() {
		solve(b, s)
	}
}
