package drop

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// amongPosts is the full car with posts around the sump, one of which it hits,
// and a moving rule: everything that a map can meet.
func amongPosts(t testing.TB) *scene.Scene {
	doc, meshes := fullCar()
	doc.ShaftLines = nil
	doc.Parts = append(doc.Parts,
		layout.Part{Name: "front post", Role: "post", Mesh: "front.stl"},
		layout.Part{Name: "rear post", Role: "post", Mesh: "rear.stl"},
		layout.Part{Name: "far post", Role: "post", Mesh: "far.stl"})
	doc.Groups = []layout.Group{{Name: "powertrain", Motion: &layout.Motion{ZMM: layout.Range{-3, 2}}}}
	doc.Rules = append(doc.Rules,
		layout.Rule{A: "group:powertrain", B: "role:post", LeastMM: 6},
		layout.Rule{A: "part:sump", B: "part:rear post", State: "moving", LeastMM: 4})
	meshes["front.stl"] = plain.Brick(geom.Vec{1500, -20, 100}, geom.Vec{1530, 20, 180})
	meshes["rear.stl"] = plain.Brick(geom.Vec{1872, -60, 90}, geom.Vec{1890, 60, 150})
	meshes["far.stl"] = plain.Brick(geom.Vec{2300, -60, 90}, geom.Vec{2330, 60, 150})
	return fixture.Scene(t, doc, meshes)
}

// TestMapAgainstEveryPair judges every place of a map by asking all limits
// there, the plain slow way.
func TestMapAgainstEveryPair(t *testing.T) {
	s := amongPosts(t)
	o := MapOptions{Shifts: 14, Drops: 17, ShiftMM: &layout.Range{-40, 38}}
	m, err := RunMap(t.Context(), s, o, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	st, err := Prepare(t.Context(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	beyond := Window{st.within[0] - 2*mapCapMM, st.within[1] + 2*mapCapMM}
	overlaps, fails, holds, capped := 0, 0, 0, 0
	for row, shiftMM := range m.ShiftsMM {
		at := st.Shifted(shiftMM)
		fixed := at.fixed(beyond)
		for col, dropMM := range m.DropsMM {
			want := mapCapMM
			for i := range fixed {
				want = math.Min(want, leftMM(&fixed[i], dropMM, beyond))
			}
			for _, r := range at.probe.Ruled() {
				mm, err := at.pairMargin(r)(t.Context(), dropMM, 500)
				if err != nil {
					t.Fatal(err)
				}
				want = math.Min(want, mm)
			}
			got := m.MarginMM[row][col]
			switch {
			case math.IsInf(want, -1):
				overlaps++
				if got != nil {
					t.Errorf("(%g, %g): overlap, the map says %g", shiftMM, dropMM, *got)
				}
				continue
			case want < 0:
				fails++
			case want == mapCapMM:
				capped++
			default:
				holds++
			}
			if got == nil || math.Abs(*got-want) > 0.011 { // moving gaps are settled to a hundredth
				t.Errorf("(%g, %g): want %.4f, the map says %v", shiftMM, dropMM, want, got)
			}
			if (want < mapCapMM) != (m.Limit[row][col] >= 0) {
				t.Errorf("(%g, %g): margin %.3f but limit %d", shiftMM, dropMM, want, m.Limit[row][col])
			}
		}
	}
	if overlaps < 5 || fails < 5 || holds < 5 {
		t.Errorf("%d overlaps, %d fail, %d hold, %d far: the car should show all", overlaps, fails, holds, capped)
	}
}

// TestMapBorders: the windows of a shift are those of a study of the car that
// has been shifted, to the map's hundredth.
func TestMapBorders(t *testing.T) {
	s := amongPosts(t)
	m, err := RunMap(t.Context(), s, MapOptions{Shifts: 9, Drops: 21}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, c := range m.Columns {
		doc := *s.Doc
		doc.HalfShafts = append([]layout.HalfShaft(nil), doc.HalfShafts...)
		for i := range doc.HalfShafts {
			doc.HalfShafts[i].InnerMM = doc.HalfShafts[i].InnerMM.Add(geom.Vec{c.ShiftMM})
		}
		moved := s.Moved("powertrain", geom.Shift(geom.Vec{c.ShiftMM}))
		moved.Doc = &doc
		r := lowest(t, moved)
		for i, w := range c.WindowsMM {
			told++
			for k, edge := range w {
				found := false
				for _, want := range r.WindowsMM {
					found = found || math.Abs(want[k]-edge) <= borderMM+0.011
				}
				if !found {
					t.Errorf("shift %g: window %v is none of %v (%s, %s)", c.ShiftMM, w, r.WindowsMM, c.Low[i], c.High[i])
				}
			}
			if w[1] < m.DropsMM[len(m.DropsMM)-1] && c.High[i].IsZero() || w[0] > m.DropsMM[0] && c.Low[i].IsZero() {
				t.Errorf("shift %g: an end of %v has no limit", c.ShiftMM, w)
			}
		}
	}
	if told < 4 {
		t.Errorf("only %d windows on the map", told)
	}
	if m.Deepest == nil || m.Widest == nil || m.Widest.MarginMM < m.Deepest.MarginMM || !strings.HasPrefix(m.Sentence().String(), "Deepest: ") {
		t.Errorf("deepest %+v, widest %+v", m.Deepest, m.Widest)
	}
}

// TestMapIsTheSameForAnyWorkers, comes coarse first, and stops when told to.
func TestMapIsTheSameForAnyWorkers(t *testing.T) {
	s := amongPosts(t)
	var first string
	for _, workers := range []int{1, 2, 7} {
		var steps []float64
		o := MapOptions{Options: Options{Workers: workers}, Shifts: 11, Drops: 12}
		m, err := RunMap(t.Context(), s, o, func(m *Map) { steps = append(steps, m.Clone().StepMM[0]) }, nil)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = string(text)
		}
		if string(text) != first {
			t.Errorf("%d workers: another map", workers)
		}
		if len(steps) < 4 || steps[0] <= steps[1] || steps[1] <= steps[2] {
			t.Errorf("steps of the pictures %v: each must be finer", steps)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	shown := 0
	_, err := RunMap(ctx, s, MapOptions{}, func(*Map) {
		if shown++; shown == 2 {
			cancel()
		}
	}, nil)
	if !errors.Is(err, context.Canceled) || shown > 3 {
		t.Errorf("cancelled after 2 pictures: %v, %d shown", err, shown)
	}
}

// TestMapRefusesWhatIsNoMap, in words.
func TestMapRefusesWhatIsNoMap(t *testing.T) {
	s := amongPosts(t)
	for _, o := range []MapOptions{{Shifts: 1}, {Drops: -3}, {Drops: 5000}, {ShiftMM: &layout.Range{5, 5}}, {ShiftMM: &layout.Range{5, -5}}} {
		if _, err := RunMap(t.Context(), s, o, nil, nil); err == nil || !strings.Contains(err.Error(), "drop map: ") {
			t.Errorf("%+v: %v", o, err)
		}
	}
	doc, meshes := fullCar()
	doc.Drop.RangeMM = layout.Range{5, 5}
	if _, err := RunMap(t.Context(), fixture.Scene(t, doc, meshes), MapOptions{}, nil, nil); err == nil || !strings.Contains(err.Error(), "range_mm") {
		t.Errorf("one drop: %v", err)
	}
}

// TestSumpForSump: a sump 25.4 mm shallower lets the engine go down 25.4 mm
// further, in the layout's own alternatives and by name; the study of the
// exchange is that of a layout drawn that way.
//
// Source: trade fact, common practice, no source; the arithmetic is its own proof.
func TestSumpForSump(t *testing.T) {
	const inchMM = 25.4
	doc, meshes := engineOver(110)
	light := 3.5
	doc.Parts[1].Alternatives = []layout.Alternative{{Name: "shallow", Mesh: "shallow.stl", MassKg: &light}}
	meshes["shallow.stl"] = plain.Brick(geom.Vec{1550, -150, 110 + inchMM}, geom.Vec{1850, 150, 200})
	folder, s := opened(t, doc, meshes)
	present := lowest(t, s)
	byName, err := ParseChange("sump=shallow.stl")
	if err != nil {
		t.Fatal(err)
	}
	swaps, err := Swaps(t.Context(), present, s, folder, append(Alternatives(s.Doc), byName), Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(swaps) != 3 || swaps[0].Part != "" || swaps[1].Name != "shallow" || swaps[2].Name != "shallow.stl" {
		t.Fatalf("rows %+v", swaps)
	}
	for _, row := range swaps[1:] {
		if got := row.WindowMM[1] - swaps[0].WindowMM[1]; math.Abs(got-inchMM) > 2e-3 {
			t.Errorf("%s: %.4f mm further down, want %g", row.Name, got, inchMM)
		}
		for name, mm := range row.GroundMM {
			if math.Abs(mm-swaps[0].GroundMM[name]-inchMM) > 0.01 {
				t.Errorf("%s: %g mm over the road, %g with the deep one", name, mm, swaps[0].GroundMM[name])
			}
		}
	}
	if swaps[1].GroupKg != 3.5 || swaps[2].GroupKg != 0 {
		t.Errorf("masses %g and %g", swaps[1].GroupKg, swaps[2].GroupKg)
	}
	doc.Parts[1].Mesh, doc.Parts[1].Alternatives = "shallow.stl", nil
	drawn := lowest(t, fixture.Scene(t, doc, meshes))
	if *drawn.WindowMM != *swaps[1].WindowMM {
		t.Errorf("drawn that way %v, exchanged %v", drawn.WindowMM, swaps[1].WindowMM)
	}
	for _, bad := range []string{"", "sump", "=x.stl", "sump= "} {
		if _, err := ParseChange(bad); err == nil {
			t.Errorf("%q was taken for an exchange", bad)
		}
	}
	for _, c := range []Change{{Part: "sumpf", Mesh: "shallow.stl"}, {Part: "sump", Mesh: "none.stl"}, {Part: "sump", Mesh: "../x.stl"}} {
		if _, err := Swaps(t.Context(), present, s, folder, []Change{c}, Options{}, nil); err == nil || !strings.Contains(err.Error(), c.Part) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// opened is fixture.Scene that keeps the folder open.
func opened(t *testing.T, doc *layout.Document, meshes map[string]*mesh.Mesh) (*layout.Folder, *scene.Scene) {
	t.Helper()
	read, folder, err := layout.Open(fixture.Folder(t, doc, meshes))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { folder.Close() })
	s, err := scene.Build(t.Context(), read, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return folder, s
}

// TestTiltedMap: the map of a tilted group is that of a layout drawn tilted;
// the tilt shows.
func TestTiltedMap(t *testing.T) {
	const tiltDeg = 2.0
	pivot := geom.Vec{1700, 0, 350}
	draw := func(tiltDeg float64) *scene.Scene {
		doc, meshes := fullCar()
		doc.ShaftLines[0].InputGroup = "powertrain"
		doc.ShaftLines[0].InputMM[2] = 300
		doc.Groups = []layout.Group{{Name: "powertrain", PivotMM: pivot, Motion: &layout.Motion{ZMM: layout.Range{-3, 2}}}}
		doc.Rules = append(doc.Rules, layout.Rule{A: "part:sump", B: "part:beam", State: "moving", LeastMM: 4}, layout.Rule{A: "part:sump", B: "part:beam", State: "hot", LeastMM: 9})
		doc.Parts[1].Growth = &layout.Growth{AnchorMM: geom.Vec{1550, 0, 200}, PerK: 2e-5, FromDegC: 20, ToDegC: 120}
		turn := geom.About(pivot, geom.Turn(geom.Vec{0, tiltDeg / deg, 0}), geom.Vec{})
		for i := range doc.Parts {
			if p := &doc.Parts[i]; p.Group != "" {
				p.TurnDeg[1], p.MoveMM = tiltDeg, turn.T
			}
		}
		doc.Parts[1].Growth.AnchorMM = turn.Point(doc.Parts[1].Growth.AnchorMM)
		for i := range doc.HalfShafts {
			doc.HalfShafts[i].InnerMM = turn.Point(doc.HalfShafts[i].InnerMM)
		}
		axis := turn.Dir(geom.Vec{1, 0, 0})
		l := &doc.ShaftLines[0]
		l.CrankMM, l.InputMM, l.CrankAxis, l.InputAxis = turn.Point(l.CrankMM), turn.Point(l.InputMM), &axis, &axis
		return fixture.Scene(t, doc, meshes)
	}
	o := MapOptions{Shifts: 5, Drops: 9}
	drawn, err := RunMap(t.Context(), draw(tiltDeg), o, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	straight, err := RunMap(t.Context(), draw(0), o, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	o.TiltDeg = tiltDeg
	turned, err := RunMap(t.Context(), draw(0), o, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	differs := 0
	for i := range drawn.MarginMM {
		for k, want := range drawn.MarginMM[i] {
			got := turned.MarginMM[i][k]
			if (got == nil) != (want == nil) || got != nil && math.Abs(*got-*want) > 0.011 {
				t.Errorf("(%g, %g): %v, drawn tilted %v", drawn.ShiftsMM[i], drawn.DropsMM[k], got, want)
			}
			if s := straight.MarginMM[i][k]; (s == nil) != (got == nil) || s != nil && math.Abs(*s-*got) > 0.5 {
				differs++
			}
		}
	}
	if differs < 5 {
		t.Errorf("the tilt changes only %d places", differs)
	}
	for _, bad := range []float64{40, math.NaN()} {
		if _, err := RunMap(t.Context(), draw(0), MapOptions{TiltDeg: bad}, nil, nil); err == nil || !strings.Contains(err.Error(), "tilt") {
			t.Errorf("a tilt of %g: %v", bad, err)
		}
	}
}
