package clearance

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

func run(t *testing.T, s *scene.Scene, o Options) *Result {
	t.Helper()
	r, err := Run(context.Background(), s, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func find(t *testing.T, r *Result, id string) Pair {
	t.Helper()
	for _, p := range r.Pairs {
		if p.ID == id {
			return p
		}
	}
	t.Fatalf("no row %q", id)
	return Pair{}
}

// twoBlocks is an engine block in a group and a wall 40 mm to its right.
func twoBlocks() (*layout.Document, map[string]*mesh.Mesh) {
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "block", Role: "machine", Mesh: "block.stl", Group: "powertrain"},
			{Name: "wall", Role: "panel", Mesh: "wall.stl"},
		},
		Groups: []layout.Group{{Name: "powertrain", PivotMM: geom.Vec{0, 0, 0}}},
	}
	return doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{-200, -150, -100}, geom.Vec{200, 150, 300}),
		"wall.stl":  plain.Brick(geom.Vec{-500, 190, -500}, geom.Vec{500, 200, 500}),
	}
}

func TestMovingShiftOnly(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Groups[0].Motion = &layout.Motion{XMM: layout.Range{-10, 10}, YMM: layout.Range{-5, 8}, ZMM: layout.Range{-12, 6}}
	doc.Rules = []layout.Rule{{A: "part:block", B: "part:wall", State: "moving", LeastMM: 30}}
	p := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), "block ~ wall @ moving")
	if math.Abs(p.ClearanceMM-32) > 1e-6 || p.ErrorMM > 1e-6 || p.Verdict != Close {
		t.Errorf("got %.6f ± %.2g %s, want 32 exact, close", p.ClearanceMM, p.ErrorMM, p.Verdict)
	}
	if w := p.WorstPose["powertrain"]; w.YMM != 8 {
		t.Errorf("worst pose %+v, want y 8", w)
	}
}

// TestMovingTurn: the least gap of a turning block to a wall, against a dense
// grid over its turns (the plain slow form), which can only lie above it.
func TestMovingTurn(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Groups[0].Motion = &layout.Motion{
		YMM: layout.Range{-2, 3}, RollDeg: layout.Range{-3, 2.5}, PitchDeg: layout.Range{-1, 1}, YawDeg: layout.Range{-0.5, 1},
	}
	doc.Rules = []layout.Rule{{A: "part:block", B: "part:wall", State: "moving", LeastMM: 17.9}}
	s := fixture.Scene(t, doc, meshes)
	p := find(t, run(t, s, Options{}), "block ~ wall @ moving")
	c, err := newCheck(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	least := math.Inf(1)
	const steps = 12
	m := c.motion[0]
	for i := range steps + 1 {
		for j := range steps + 1 {
			for k := range steps + 1 {
				at := m.Hi
				for n, f := range []int{i, j, k} {
					at[3+n] = m.Lo[3+n] + (m.Hi[3+n]-m.Lo[3+n])*float64(f)/steps
				}
				body := c.cold[0]
				body.Pose = m.Pose(at).After(body.Pose)
				r, err := dist.Between(context.Background(), body, c.cold[1], dist.Options{})
				if err != nil {
					t.Fatal(err)
				}
				least = math.Min(least, r.GapMM)
			}
		}
	}
	if p.ClearanceMM > least+0.02 || p.ClearanceMM-p.ErrorMM > least || p.ErrorMM > 2*searchMM {
		t.Errorf("certified [%.4f, %.4f], grid finds %.4f", p.ClearanceMM-p.ErrorMM, p.ClearanceMM, least)
	}
	if p.WorstPose["powertrain"].RollDeg == 0 {
		t.Error("the worst pose must be named")
	}
}

// TestMovingOverlapIsFound: a post that a rocking pipe hits only in mid-path.
func TestMovingOverlapIsFound(t *testing.T) {
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "arm", Role: "machine", Mesh: "arm.stl", Group: "g"},
			{Name: "post", Role: "panel", Mesh: "post.stl"},
		},
		Groups: []layout.Group{{Name: "g", Motion: &layout.Motion{YawDeg: layout.Range{-30, 30}}}},
		Rules:  []layout.Rule{{A: "part:arm", B: "part:post", State: "moving", LeastMM: 5}},
	}
	r := run(t, fixture.Scene(t, doc, map[string]*mesh.Mesh{
		"arm.stl":  plain.Brick(geom.Vec{-5, 90, -5}, geom.Vec{5, 100, 5}),
		"post.stl": plain.Brick(geom.Vec{-30, 96, -4}, geom.Vec{-26, 120, 4}),
	}), Options{})
	p := find(t, r, "arm ~ post @ moving")
	if p.Verdict != Overlap || p.ClearanceMM >= 0 {
		t.Errorf("got %s %.3f mm, want an overlap in mid-path", p.Verdict, p.ClearanceMM)
	}
	if rest := find(t, r, "arm ~ post @ static"); rest.Overlap {
		t.Error("at rest they are apart")
	}
}

func TestHotGrowth(t *testing.T) {
	doc, meshes := twoBlocks()
	// Grows 1 % about its left face: the right face, 300 mm away, comes 3 mm nearer.
	doc.Parts[0].Growth = &layout.Growth{AnchorMM: geom.Vec{0, -150, 0}, PerK: 1e-5, FromDegC: 0, ToDegC: 1000}
	doc.Parts[0].ToleranceMM, doc.Parts[1].ToleranceMM = 1.5, 2
	doc.Groups[0].Motion = &layout.Motion{YMM: layout.Range{-5, 5}}
	for _, state := range states {
		doc.Rules = append(doc.Rules, layout.Rule{A: "part:block", B: "part:wall", State: state, LeastMM: 20, Source: "test"})
	}
	r := run(t, fixture.Scene(t, doc, meshes), Options{})
	for state, want := range map[string]float64{"static": 40, "hot": 37, "moving": 35, "all together": 28.5} {
		p := find(t, r, "block ~ wall @ "+state)
		if math.Abs(p.ClearanceMM-want) > 1e-3 { // the mesh file holds float32
			t.Errorf("%s: got %.6f, want %g", state, p.ClearanceMM, want)
		}
	}
	all := find(t, r, "block ~ wall @ all together")
	if all.ClearanceRSSMM == nil || math.Abs(*all.ClearanceRSSMM-(32-2.5)) > 1e-3 {
		t.Errorf("root-sum-square figure %v, want 29.5", all.ClearanceRSSMM)
	}
}

func TestTheMostSpecificRuleWins(t *testing.T) {
	base := func() (*layout.Document, map[string]*mesh.Mesh) { return twoBlocks() }
	for _, c := range []struct {
		name  string
		rules []layout.Rule
		want  float64
	}{
		{"part over role", []layout.Rule{{A: "part:block", B: "*", LeastMM: 1}, {A: "role:machine", B: "role:panel", LeastMM: 2}}, 1},
		{"role over group", []layout.Rule{{A: "role:machine", B: "*", LeastMM: 1}, {A: "group:powertrain", B: "*", LeastMM: 2}}, 1},
		{"group over anything", []layout.Rule{{A: "*", B: "group:powertrain", LeastMM: 1}, {A: "*", B: "*", LeastMM: 2}}, 1},
		{"the other side breaks the tie", []layout.Rule{{A: "part:block", B: "role:panel", LeastMM: 1}, {A: "part:block", B: "*", LeastMM: 2}}, 1},
		{"the later one at a tie", []layout.Rule{{A: "part:wall", B: "*", LeastMM: 1}, {A: "part:block", B: "*", LeastMM: 2}}, 2},
	} {
		doc, meshes := base()
		doc.Rules = c.rules
		p := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), "block ~ wall @ static")
		if p.LeastMM == nil || *p.LeastMM != c.want {
			t.Errorf("%s: least %v, want %g", c.name, p.LeastMM, c.want)
		}
	}
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		leastMM float64
		want    string
	}{{41, Short}, {40, Close}, {38.1, Close}, {34, Close}, {33, OK}, {10, OK}} {
		doc, meshes := twoBlocks()
		doc.Rules = []layout.Rule{{A: "*", B: "*", LeastMM: c.leastMM}}
		p := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), "block ~ wall @ static")
		if p.Verdict != c.want {
			t.Errorf("40 mm against %g: %s, want %s", c.leastMM, p.Verdict, c.want)
		}
	}
	doc, meshes := twoBlocks()
	if p := find(t, run(t, fixture.Scene(t, doc, meshes), Options{}), "block ~ wall @ static"); p.Verdict != NoRule || p.LeastMM != nil {
		t.Errorf("without a rule: %s", p.Verdict)
	}
}

func TestJoinedPairsAreListedNotChecked(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Joined = [][2]string{{"wall", "block"}}
	r := run(t, fixture.Scene(t, doc, meshes), Options{})
	if len(r.Pairs) != 0 || len(r.Unchecked) != 1 || !strings.Contains(r.Unchecked[0].Reason.String(), "joined") {
		t.Errorf("%+v", r)
	}
}

// TestSameAnswerForAnyWorkersAndFromCache: bit-equal results, also when only
// one group moved and the rest came from the previous run.
func TestSameAnswerForAnyWorkersAndFromCache(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Groups[0].Motion = &layout.Motion{YMM: layout.Range{-5, 8}, RollDeg: layout.Range{-3, 3}}
	doc.Parts = append(doc.Parts, layout.Part{Name: "lid", Role: "deck", Mesh: "wall.stl", MoveMM: geom.Vec{0, -400, 0}})
	doc.Rules = []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 10}}
	s := fixture.Scene(t, doc, meshes)
	first := run(t, s, Options{Workers: 1})
	moved := s.Moved("powertrain", geom.Shift(geom.Vec{0, 0, -7}))
	want, err := json.Marshal(run(t, moved, Options{Workers: 1}))
	if err != nil {
		t.Fatal(err)
	}
	for _, workers := range []int{1, 2, 7} {
		for _, prev := range []*Result{nil, first} {
			got, err := json.Marshal(run(t, moved, Options{Workers: workers, Prev: prev}))
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("%d workers, from cache %v: another answer", workers, prev != nil)
			}
		}
	}
	if reflect.DeepEqual(first.Pairs, run(t, moved, Options{Prev: first}).Pairs) {
		t.Error("the move must be felt")
	}
}

func TestCancelled(t *testing.T) {
	doc, meshes := twoBlocks()
	ctx, cancel := context.WithCancel(context.Background())
	s := fixture.Scene(t, doc, meshes)
	cancel()
	if r, err := Run(ctx, s, Options{}, nil); err == nil || r != nil {
		t.Errorf("a cancelled run gives an error and no result, got %v, %v", r, err)
	}
}
