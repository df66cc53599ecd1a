package drop

import (
	"math"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/say"
	"aftbay/geom/scene/fixture"
)

// pastPosts is a bar that passes between two posts on its way down: boxes with
// known contacts. The bar is 20 mm high with its underside at 500; the posts'
// tops stand at 450 and 300, each 30 mm high; the rules ask for 10 mm.
func pastPosts() (*layout.Document, map[string]*mesh.Mesh) {
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "bar", Role: "bar", Mesh: "bar.stl", Group: "powertrain"},
			{Name: "upper post", Role: "post", Mesh: "upper.stl"},
			{Name: "lower post", Role: "post", Mesh: "lower.stl"},
		},
		Drop:  &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 400}},
		Rules: []layout.Rule{{A: "part:bar", B: "role:post", LeastMM: 10}},
	}
	return doc, map[string]*mesh.Mesh{
		"bar.stl":   plain.Brick(geom.Vec{0, -50, 500}, geom.Vec{20, 50, 520}),
		"upper.stl": plain.Brick(geom.Vec{5, -10, 420}, geom.Vec{15, 10, 450}),
		"lower.stl": plain.Brick(geom.Vec{5, -10, 270}, geom.Vec{15, 10, 300}),
	}
}

// TestEveryWindowIsReported: three windows, each with what ends it, and the
// margins that turn are said to. Closed form: stacked boxes.
func TestEveryWindowIsReported(t *testing.T) {
	doc, meshes := pastPosts()
	r := lowest(t, fixture.Scene(t, doc, meshes))
	want := []Window{{0, 40}, {110, 190}, {260, 400}}
	if len(r.WindowsMM) != len(want) || len(r.Ends) != len(want) {
		t.Fatalf("windows %v, want %v", r.WindowsMM, want)
	}
	for i, w := range want {
		for k := range w {
			if math.Abs(r.WindowsMM[i][k]-w[k]) > 0.01 || r.Ends[i].WindowMM != r.WindowsMM[i] {
				t.Errorf("window %v, want %v", r.WindowsMM[i], w)
			}
		}
	}
	if r.Ends[0].Low != nil || r.Ends[2].High != nil {
		t.Error("the ends of the range are no stops")
	}
	if e := r.Ends[1]; !strings.Contains(e.Low.Sentence.String(), "upper post") || !strings.Contains(e.High.Sentence.String(), "lower post") {
		t.Errorf("ends %+v %+v", e.Low, e.High)
	}
	if *r.WindowMM != r.WindowsMM[0] || r.Binding.High.Limit.String() != "bar to upper post, static" {
		t.Errorf("chosen %v, %+v: the window of the bar as it stands", r.WindowMM, r.Binding.High)
	}
	for _, l := range r.Limits {
		if l.Trend != Turns {
			t.Errorf("%s %s, but it falls and rises again", l.Name, l.Trend)
		}
	}
}

// TestValuesAgreeWithTheWindows: at every drop of the curve a limit's value is
// on the right side exactly where its windows say that it holds; gaps of boxes
// are checked against their closed form.
func TestValuesAgreeWithTheWindows(t *testing.T) {
	for name, doc := range map[string]func() (*layout.Document, map[string]*mesh.Mesh){
		"posts": pastPosts, "engine": func() (*layout.Document, map[string]*mesh.Mesh) { return fullCar() },
	} {
		d, meshes := doc()
		r := lowest(t, fixture.Scene(t, d, meshes))
		for _, l := range r.Limits {
			for k, v := range l.Values {
				q := r.Curve[k].DropMM
				nearEdge := slices.ContainsFunc(l.WindowsMM, func(w Window) bool { return math.Abs(q-w[0]) < 0.01 || math.Abs(q-w[1]) < 0.01 })
				if v == nil || nearEdge {
					continue
				}
				fine := *v >= l.Allowed
				if l.Most() {
					fine = *v <= l.Allowed
				}
				if in := len(clipAll(l.WindowsMM, Window{q, q})) > 0; fine != in {
					t.Errorf("%s, %s at %.3f mm: %.4f of %.4f, in its windows: %v", name, l.Name, q, *v, l.Allowed, in)
				}
				if l.Name.String() == "bar to upper post, static" && q < 50 && math.Abs(*v-(50-q)) > 1e-4 {
					t.Errorf("gap %.6f at %.3f mm", *v, q)
				}
			}
		}
	}
}

// fullCar is an engine with everything that the study can be asked.
func fullCar() (*layout.Document, map[string]*mesh.Mesh) {
	doc, meshes := engineOver(160)
	v, deg := doc.Vehicle, func(x float64) *float64 { return &x }
	v.TrackMM, v.MassKg, v.CgMM = 1500, 1300, &geom.Vec{1450, 0, 450}
	v.LeastDepartureDeg, v.LeastRampDeg, v.LeastUnderAxleMM = deg(5), deg(9), deg(80)
	v.Attitudes = append(v.Attitudes,
		layout.Attitude{Name: "rear axle in bump", RearDownMM: 60, LeastGroundMM: deg(40)},
		layout.Attitude{Name: "braking", FrontDownMM: 35, RearDownMM: -20, LeastGroundMM: deg(60)})
	for i := range doc.Parts {
		doc.Parts[i].MassKg = deg(100)
	}
	doc.Parts = append(doc.Parts,
		layout.Part{Name: "lid", Role: "deck", Mesh: "lid.stl"},
		layout.Part{Name: "beam", Role: "suspension", Mesh: "beam.stl"})
	doc.Rules = append(doc.Rules, layout.Rule{A: "part:sump", B: "part:beam", LeastMM: 10}, layout.Rule{A: "group:powertrain", B: "role:deck", LeastMM: 12})
	doc.HalfShafts = []layout.HalfShaft{
		{Name: "left", InnerMM: geom.Vec{2580, -110, 318}, InnerGroup: "powertrain", OuterMM: geom.Vec{2600, -690, 312}, BumpMM: 70, ReboundMM: 60, LimitDeg: &layout.JointLimit{StaticDeg: deg(5), TravelDeg: deg(12)}, PlungeMM: deg(12)},
		{Name: "right", InnerMM: geom.Vec{2580, 110, 318}, InnerGroup: "powertrain", OuterMM: geom.Vec{2600, 690, 312}, BumpMM: 70, ReboundMM: 60, LimitDeg: &layout.JointLimit{StaticDeg: deg(5), TravelDeg: deg(12)}, PlungeMM: deg(12)},
	}
	doc.ShaftLines = []layout.ShaftLine{{Name: "crank to input", CrankMM: geom.Vec{1900, 0, 300}, CrankGroup: "powertrain", InputMM: geom.Vec{1900, 0, 275}}}
	doc.Drop.CrankMM = &geom.Vec{1900, 0, 300}
	doc.Drop.DeckPoints = []layout.DeckPoint{{Name: "engine", AtMM: [2]float64{1700, 10}}, {Name: "beside", AtMM: [2]float64{1700, 900}}}
	meshes["lid.stl"] = plain.Brick(geom.Vec{1400, -400, 630}, geom.Vec{2000, 400, 640})
	meshes["beam.stl"] = plain.Brick(geom.Vec{1600, -400, 60}, geom.Vec{1650, 400, 83})
	return doc, meshes
}

// TestFullStudy checks kinds, trends and what the drop buys on a car of boxes.
func TestFullStudy(t *testing.T) {
	doc, meshes := fullCar()
	r := lowest(t, fixture.Scene(t, doc, meshes))
	kinds := map[string]string{}
	for _, l := range r.Limits {
		kinds[l.Kind] = l.Trend
		if l.Source.String() == "" && l.Kind != KindClearance && l.Kind != KindDeck {
			t.Errorf("%s has no source", l.Name)
		}
	}
	for kind, trend := range map[string]string{KindGround: Falls, KindRamp: Falls, KindLine: Steady, KindShaft: "", KindPlunge: "", KindClearance: "", KindDeck: ""} {
		if got, ok := kinds[kind]; !ok || trend != "" && got != trend {
			t.Errorf("kind %s: there %v, trend %q, want %q", kind, ok, got, trend)
		}
	}
	for i := 1; i < len(r.Curve); i++ {
		a, b := &r.Curve[i-1], &r.Curve[i]
		if b.GroundMM["braking"] >= a.GroundMM["braking"] || *b.RampDeg >= *a.RampDeg || b.CGMM[2] >= a.CGMM[2] || *b.LoadTransferN >= *a.LoadTransferN {
			t.Fatalf("from %.2f to %.2f mm something does not fall", a.DropMM, b.DropMM)
		}
		if *b.Stability <= *a.Stability || *b.DeckMM <= *a.DeckMM {
			t.Fatalf("from %.2f to %.2f mm something does not rise", a.DropMM, b.DropMM)
		}
	}
	p := r.At(20)
	if len(p.Deck) != 1 || p.Deck[0].Part != "block" || math.Abs(p.Deck[0].TopMM-580) > 1e-4 || math.Abs(p.Deck[0].LowestMM-592) > 1e-4 {
		t.Errorf("deck points %+v: the block's top at 600 − 20, 12 mm asked", p.Deck)
	}
	if *p.CrankMM != 280 || math.Abs(*p.HighestMM-580) > 1e-4 || p.HighestPart != "block" {
		t.Errorf("crank %v, highest %v of %q", *p.CrankMM, *p.HighestMM, p.HighestPart)
	}
	if want := 450 - 200.0/1300*20; math.Abs(p.CGMM[2]-want) > 1e-9 {
		t.Errorf("centre of gravity at %g, want %g", p.CGMM[2], want)
	}
	for _, g := range r.Buys {
		if math.Abs(g.End-g.Start-g.Change) > 1e-9 {
			t.Errorf("%+v", g)
		}
	}
	if len(r.Buys) < 9 || r.Buys[0].What.String() != "lowest deck at engine" || r.SeenNote.String() == "" {
		t.Errorf("buys %+v, %q", r.Buys, r.SeenNote)
	}
}

// TestCrankAgainstInput: an input 25 mm below the crank lines up after 25 mm of
// drop, to half the bore reading. Closed form.
func TestCrankAgainstInput(t *testing.T) {
	doc, meshes := fullCar()
	r := lowest(t, fixture.Scene(t, doc, meshes))
	i := slices.IndexFunc(r.Limits, func(l Limit) bool { return l.Name.String() == "crank to input, bore reading" })
	if w := r.Limits[i].WindowsMM; len(w) != 1 || math.Abs(w[0][0]-24.9) > 1e-6 || math.Abs(w[0][1]-25.1) > 1e-6 {
		t.Errorf("windows %v, want [24.9, 25.1]", w)
	}
	if p := r.At(20); math.Abs(p.ShaftLines[0].OffsetMM-5) > 1e-9 || math.Abs(p.ShaftLines[0].BoreRunoutMM-10) > 1e-9 {
		t.Errorf("reading at 20 mm %+v", p.ShaftLines[0])
	}
	// Both in one group: the drop changes nothing, what is off stays off.
	doc.ShaftLines[0].InputGroup = "powertrain"
	doc.ShaftLines[0].InputMM[2] = 300.05
	axis := geom.Vec{1, 0, 0.002}
	doc.ShaftLines[0].InputAxis = &axis
	r = lowest(t, fixture.Scene(t, doc, meshes))
	for _, l := range r.Limits {
		switch l.Name.String() {
		case "crank to input, bore reading":
			if len(l.WindowsMM) != 1 || l.WindowsMM[0] != r.RangeMM {
				t.Errorf("0.05 mm off: %v", l.WindowsMM)
			}
		case "crank to input, face reading":
			if len(l.WindowsMM) != 0 || math.Abs(*l.Values[0]-0.002*409.6) > 1e-9 {
				t.Errorf("2 mrad: %v, reading %v", l.WindowsMM, *l.Values[0])
			}
		}
	}
	if r.WindowMM != nil || r.ReachMM == nil || !strings.Contains(strings.Join(say.English(r.Notes), "|"), "no drop in the range helps here: the axes of crank to input") {
		t.Errorf("window %v, reach %v, notes %q", r.WindowMM, r.ReachMM, r.Notes)
	}
}

// TestJointsWithAxesOfTheirOwn: a flange that points at the wheel has no angle
// there, the hub the whole one; windows against bisection of the angle itself.
func TestJointsWithAxesOfTheirOwn(t *testing.T) {
	axis := geom.Vec{20, 580, -30}
	s := shaft{layout.HalfShaft{OuterMM: geom.Vec{20, 580, -30}, InnerAxis: &axis, BumpMM: 70, ReboundMM: 60}, true}
	a := s.anglesAt(geom.Vec{})
	if a.Inner.StaticDeg > 1e-6 || math.Abs(a.Outer.StaticDeg-math.Atan2(math.Hypot(20, 30), 580)*deg) > 1e-9 || a.StaticDeg != a.Outer.StaticDeg {
		t.Errorf("angles %+v", a)
	}
	const limitRad = 9 / deg
	for _, e := range []end{inner, outer} {
		for _, w := range s.angleWindow(e, 40, limitRad, geom.Vec{12, 0, 0}, Window{-300, 300}) {
			for _, q := range w {
				if got := s.angleRad(e, geom.Vec{12, 0, -q}, 40); math.Abs(got-limitRad) > 1e-9 {
					t.Errorf("%s joint: %.9f rad at its edge %.6f", ends[e], got, q)
				}
			}
		}
	}
}

// TestMirroredAndMoved: a mirrored car gives the same answer, and so does one
// moved as a whole; drops that are part of the layout already are missing from
// the window.
func TestMirroredAndMoved(t *testing.T) {
	base := func() *Result {
		doc, meshes := fullCar()
		doc.ShaftLines = nil
		return lowest(t, fixture.Scene(t, doc, meshes))
	}()
	moved := func(by geom.Vec, groupDownMM float64) *Result {
		doc, meshes := fullCar()
		doc.ShaftLines = nil
		for i := range doc.Parts {
			doc.Parts[i].MoveMM = by
			if doc.Parts[i].Group != "" {
				doc.Parts[i].MoveMM[2] -= groupDownMM
			}
		}
		v := doc.Vehicle
		v.FrontAxleMM, v.RearAxleMM, v.GroundZMM = v.FrontAxleMM.Add(by), v.RearAxleMM.Add(by), v.GroundZMM+by[2]
		for i := range doc.HalfShafts {
			h := &doc.HalfShafts[i]
			h.InnerMM, h.OuterMM = h.InnerMM.Add(by).Sub(geom.Vec{0, 0, groupDownMM}), h.OuterMM.Add(by)
		}
		return lowest(t, fixture.Scene(t, doc, meshes))
	}
	same := func(what string, got *Result, lessMM float64) {
		if got.WindowMM == nil || math.Abs(got.WindowMM[1]+lessMM-base.WindowMM[1]) > 2e-3 || got.Binding.High.Limit.String() != base.Binding.High.Limit.String() {
			t.Errorf("%s: window %v, %+v, want %v, %+v", what, got.WindowMM, got.Binding.High, base.WindowMM, base.Binding.High)
		}
	}
	same("moved", moved(geom.Vec{300, 0, 250}, 0), 0)
	same("lowered already", moved(geom.Vec{}, 7), 7)
	doc, meshes := fullCar()
	doc.ShaftLines = nil
	for name, m := range meshes {
		flipped := plain.Flipped(m)
		for i := range flipped.Verts {
			flipped.Verts[i][1] *= -1
		}
		meshes[name] = flipped
	}
	for i := range doc.HalfShafts {
		doc.HalfShafts[i].InnerMM[1] *= -1
		doc.HalfShafts[i].OuterMM[1] *= -1
	}
	same("mirrored", lowest(t, fixture.Scene(t, doc, meshes)), 0)
}

// TestMissingInputsAreNamed: what cannot be answered says what is missing and
// where to give it; the rest still answers.
func TestMissingInputsAreNamed(t *testing.T) {
	for name, c := range map[string]struct {
		change func(doc *layout.Document)
		want   string
	}{
		"no vehicle":     {func(d *layout.Document) { d.Vehicle = nil }, "give vehicle"},
		"no heights":     {func(d *layout.Document) { d.Vehicle.Attitudes = nil }, "least_ground_mm"},
		"no axles":       {func(d *layout.Document) { d.Vehicle.RearAxleMM, d.Vehicle.FrontAxleMM = geom.Vec{}, geom.Vec{} }, "front_axle_mm and rear_axle_mm"},
		"no tyres":       {func(d *layout.Document) { d.Vehicle.TyreRadiusMM = 0 }, "tyre_radius_mm"},
		"no track":       {func(d *layout.Document) { d.Vehicle.TrackMM = 0 }, "track_mm"},
		"no half-shafts": {func(d *layout.Document) { d.HalfShafts = nil }, "give half_shafts"},
		"no mass":        {func(d *layout.Document) { d.Vehicle.CgMM = nil }, "have no mass"},
		"one drop":       {func(d *layout.Document) { d.Drop.RangeMM = layout.Range{5, 5} }, "range_mm"},
	} {
		doc, meshes := fullCar()
		c.change(doc)
		r, err := Run(t.Context(), fixture.Scene(t, doc, meshes), Options{}, nil)
		if err != nil || len(r.Limits) == 0 || len(r.Curve) == 0 {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if all := strings.Join(say.English(r.Notes), "|"); !strings.Contains(all, c.want) {
			t.Errorf("%s: notes %q do not say %q", name, all, c.want)
		}
	}
	doc, meshes := fullCar()
	for i := range doc.Parts {
		doc.Parts[i].Group = ""
	}
	doc.Groups, doc.HalfShafts, doc.ShaftLines = []layout.Group{{Name: "powertrain"}}, nil, nil
	if _, err := Run(t.Context(), fixture.Scene(t, doc, meshes), Options{}, nil); err == nil || !strings.Contains(err.Error(), `group "powertrain" has no parts: give parts that group`) {
		t.Errorf("a group without parts: %v", err)
	}
}

// TestMassesBySource: given, from density and volume, from material and wall,
// missing. Closed form: boxes.
func TestMassesBySource(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "weighed", Role: "engine", Mesh: "a.stl", Group: "powertrain", MassKg: num(30)},
			{Name: "dense", Role: "engine", Mesh: "a.stl", Group: "powertrain", DensityKgM3: num(2700), MoveMM: geom.Vec{1000, 0, 0}},
			{Name: "walled", Role: "exhaust", Mesh: "a.stl", Material: "steel", Thermal: &layout.Thermal{ThicknessMM: num(2)}},
			{Name: "solid", Role: "engine", Mesh: "a.stl", Material: "steel", TurnDeg: geom.Vec{0, 90, 0}},
			{Name: "unknown", Role: "engine", Mesh: "a.stl", Material: "cheese", Group: "powertrain"},
			{Name: "view", Role: "sightline", Mesh: "a.stl"},
		},
		Drop: &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 10}},
	}
	meshes := map[string]*mesh.Mesh{"a.stl": plain.Brick(geom.Vec{0, 0, 0}, geom.Vec{100, 200, 300})}
	steel := func(name string) (kgM3 float64, source string, ok bool) { return 7850, "steel, seen", name == "steel" }
	st, err := Prepare(t.Context(), fixture.Scene(t, doc, meshes), Options{Density: steel})
	if err != nil {
		t.Fatal(err)
	}
	m := st.Mass()
	if len(m.Parts) != 5 {
		t.Fatalf("%d parts with a mass to ask for", len(m.Parts))
	}
	for i, want := range []struct {
		kg    float64
		basis string
		cg    geom.Vec
	}{
		{30, Given, geom.Vec{50, 100, 150}},
		{6e-3 * 2700, Estimated, geom.Vec{1050, 100, 150}},
		{2 * (0.02 + 0.03 + 0.06) * 0.002 * 7850, Estimated, geom.Vec{50, 100, 150}},
		{6e-3 * 7850, Estimated, geom.Vec{150, 100, -50}},
	} {
		p := &m.Parts[i]
		if p.Kg == nil || math.Abs(*p.Kg-want.kg) > 1e-6 || p.Basis != want.basis || p.CGMM.Sub(want.cg).Len() > 1e-6 {
			t.Errorf("%s: %v kg, %s, %v; want %+v", p.Part, p.Kg, p.Basis, p.CGMM, want)
		}
	}
	if p := m.Parts[4]; p.Kg != nil || p.Basis != Missing || !strings.Contains(p.How.String(), "mass_kg") || !slices.Equal(m.Missing, []string{"unknown"}) {
		t.Errorf("%+v, missing %v", p, m.Missing)
	}
	if math.Abs(m.GroupKg-46.2) > 1e-6 || math.Abs(m.GroupCGMM[0]-(30*50+16.2*1050)/46.2) > 1e-6 || m.VehicleKg != nil || !strings.Contains(m.From.String(), "1 parts have no mass") {
		t.Errorf("group %g kg at %v; vehicle %v, %q", m.GroupKg, m.GroupCGMM, m.VehicleKg, m.From)
	}
	// A weighed group overrides its parts; with every part known the car's sum is used.
	doc.Parts[4].MassKg = num(1)
	doc.Groups = []layout.Group{{Name: "powertrain", MassKg: num(120), CgMM: &geom.Vec{700, 0, 200}}}
	if st, err = Prepare(t.Context(), fixture.Scene(t, doc, meshes), Options{Density: steel}); err != nil {
		t.Fatal(err)
	}
	if m = st.Mass(); m.GroupKg != 120 || m.GroupCGMM[0] != 700 || m.VehicleKg == nil || m.CGMM == nil {
		t.Errorf("weighed group %+v", m)
	}
}

// TestYawInertiaChange against point masses summed up.
func TestYawInertiaChange(t *testing.T) {
	about := func(points []geom.Vec, kg []float64) float64 {
		var total float64
		var c geom.Vec
		for i, p := range points {
			total, c = total+kg[i], c.Add(p.Mul(kg[i]))
		}
		c = c.Mul(1 / total)
		inertia := 0.0
		for i, p := range points {
			d := p.Sub(c)
			inertia += kg[i] * (d[0]*d[0] + d[1]*d[1]) * 1e-6
		}
		return inertia
	}
	points, kg := []geom.Vec{{100, 300, 400}, {2500, -200, 350}, {2100, 50, 430}}, []float64{500, 540, 310}
	var cg geom.Vec
	for i, p := range points {
		cg = cg.Add(p.Mul(kg[i] / 1350))
	}
	for _, shift := range []geom.Vec{{0, 0, -40}, {35, 0, -20}, {-60, 0, 0}} {
		after := slices.Clone(points)
		after[2] = after[2].Add(shift)
		got, want := YawInertiaChangeKgM2(cg, 1350, points[2], 310, shift), about(after, kg)-about(points, kg)
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("shift %v: %.9f, want %.9f", shift, got, want)
		}
	}
}
