package drop

import (
	"encoding/json"
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

// engineOver is an engine with a sump, its lowest point sumpZMM above the road.
func engineOver(sumpZMM float64) (*layout.Document, map[string]*mesh.Mesh) {
	least := 80.0
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain"},
			{Name: "sump", Role: "engine", Mesh: "sump.stl", Group: "powertrain"},
		},
		Joined: [][2]string{{"block", "sump"}},
		Drop:   &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 80}},
		Vehicle: &layout.Vehicle{
			RearAxleMM: geom.Vec{2600, 0, 320}, FrontAxleMM: geom.Vec{0, 0, 320}, TyreRadiusMM: 320,
			Attitudes: []layout.Attitude{
				{Name: "design", LeastGroundMM: &least},
				{Name: "full bump", FrontDownMM: 45, RearDownMM: 60},
			},
		},
	}
	return doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 200}, geom.Vec{1900, 200, 600}),
		"sump.stl":  plain.Brick(geom.Vec{1550, -150, sumpZMM}, geom.Vec{1850, 150, 200}),
	}
}

func lowest(t *testing.T, s *scene.Scene) *Result {
	t.Helper()
	r, err := Run(t.Context(), s, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func at(t *testing.T, r *Result, dropMM float64) Point {
	t.Helper()
	for _, p := range r.Curve {
		if p.DropMM == dropMM {
			return p
		}
	}
	t.Fatalf("no point of the curve at %g mm", dropMM)
	return Point{}
}

// TestFirstContact: a rule of 10 mm and a box 37 mm below end the drop at 27 mm.
// Closed form.
func TestFirstContact(t *testing.T) {
	doc, meshes := engineOver(120)
	doc.Parts = append(doc.Parts, layout.Part{Name: "beam", Role: "beam", Mesh: "beam.stl"})
	doc.Rules = []layout.Rule{{A: "part:sump", B: "part:beam", LeastMM: 10}}
	doc.Vehicle = nil
	meshes["beam.stl"] = plain.Brick(geom.Vec{1600, -400, 60}, geom.Vec{1650, 400, 83})
	r := lowest(t, fixture.Scene(t, doc, meshes))
	if r.WindowMM == nil || r.WindowMM[0] != 0 || math.Abs(r.WindowMM[1]-27) > 0.01 {
		t.Fatalf("window %v, want [0, 27]", r.WindowMM)
	}
	want := "Stops at 27.00 mm: sump comes within 10.00 mm of beam (static)"
	if r.Binding.High == nil || r.Binding.High.Sentence.String() != want {
		t.Errorf("binding %+v, want %q", r.Binding.High, want)
	}
}

// TestMovingLimitTakesTheWorstPose: the same with 6 mm of travel down ends 6 mm
// earlier.
func TestMovingLimitTakesTheWorstPose(t *testing.T) {
	doc, meshes := engineOver(120)
	doc.Parts = append(doc.Parts, layout.Part{Name: "beam", Role: "beam", Mesh: "beam.stl"})
	doc.Groups = []layout.Group{{Name: "powertrain", Motion: &layout.Motion{ZMM: layout.Range{-6, 4}}}}
	doc.Rules = []layout.Rule{{A: "part:sump", B: "part:beam", State: "moving", LeastMM: 10}}
	meshes["beam.stl"] = plain.Brick(geom.Vec{1600, -400, 60}, geom.Vec{1650, 400, 83})
	r := lowest(t, fixture.Scene(t, doc, meshes))
	if r.WindowMM == nil || math.Abs(r.WindowMM[1]-21) > 0.02 {
		t.Fatalf("window %v, want [0, 21]", r.WindowMM)
	}
}

// TestGroundLimitAndCurve: 120 mm over the road, 80 mm asked: 40 mm of drop;
// heights fall mm by mm.
func TestGroundLimitAndCurve(t *testing.T) {
	doc, meshes := engineOver(120)
	r := lowest(t, fixture.Scene(t, doc, meshes))
	if r.WindowMM == nil || math.Abs(r.WindowMM[1]-40) > 1e-3 || !strings.Contains(r.Binding.High.Sentence.String(), "sump comes down to 80.00 mm") {
		t.Fatalf("window %v, %+v", r.WindowMM, r.Binding.High)
	}
	for _, q := range []float64{0, 20, 80} {
		if got := at(t, r, q).GroundMM["design"]; math.Abs(got-(120-q)) > 1e-3 {
			t.Errorf("at %g mm drop %g mm over the road", q, got)
		}
	}
}

// TestShallowSumpPaysForTheDrop: lowering an engine by 25.4 mm with a sump
// 25.4 mm shallower leaves the ground clearance as it was, in every attitude.
//
// Source: trade fact, common practice, no source; the arithmetic is its own proof.
func TestShallowSumpPaysForTheDrop(t *testing.T) {
	const inchMM = 25.4
	doc, meshes := engineOver(110)
	deep := at(t, lowest(t, fixture.Scene(t, doc, meshes)), 0)
	doc, meshes = engineOver(110 + inchMM)
	for i := range doc.Parts {
		doc.Parts[i].MoveMM[2] = -inchMM
	}
	low := at(t, lowest(t, fixture.Scene(t, doc, meshes)), 0)
	for name, mm := range deep.GroundMM {
		if math.Abs(mm-low.GroundMM[name]) > 1e-4 { // the mesh file holds float32
			t.Errorf("%s: %.5f mm with the deep sump, %.5f lowered with the shallow one", name, mm, low.GroundMM[name])
		}
	}
}

// TestLimitIsTheLeastOfAll and the result does not depend on the workers.
func TestLimitIsTheLeastOfAll(t *testing.T) {
	doc, meshes := engineOver(120)
	limit := 12.0
	doc.HalfShafts = []layout.HalfShaft{{
		Name: "left half-shaft", InnerMM: geom.Vec{2580, 0, 318}, InnerGroup: "powertrain", OuterMM: geom.Vec{2600, 580, 312},
		BumpMM: 70, ReboundMM: 60, LimitDeg: &layout.JointLimit{TravelDeg: &limit},
	}}
	s := fixture.Scene(t, doc, meshes)
	r := lowest(t, s)
	least := math.Inf(1)
	for _, l := range r.Limits {
		least = math.Min(least, *l.MostMM)
	}
	if r.WindowMM == nil || r.WindowMM[1] != least {
		t.Errorf("window %v, least limit %g", r.WindowMM, least)
	}
	one, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, workers := range []int{1, 2, 7} {
		again, err := Run(t.Context(), s, Options{Workers: workers}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := json.Marshal(again); err != nil || string(got) != string(one) {
			t.Errorf("%d workers: another answer", workers)
		}
	}
}

func TestNoStudyNoGroup(t *testing.T) {
	doc, meshes := engineOver(120)
	doc.Drop = nil
	if _, err := Run(t.Context(), fixture.Scene(t, doc, meshes), Options{}, nil); err == nil || !strings.Contains(err.Error(), `"drop"`) {
		t.Errorf("error %v must say what to add", err)
	}
}
