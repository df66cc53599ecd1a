package compare

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// tent is a roof over the square [0,100]², its ridge 10 mm high along x = 50.
func tent() *mesh.Mesh {
	return &mesh.Mesh{
		Verts: []geom.Vec{{0, 0, 0}, {0, 100, 0}, {50, 0, 10}, {50, 100, 10}, {100, 0, 0}, {100, 100, 0}},
		Tris:  [][3]int32{{0, 2, 1}, {1, 2, 3}, {2, 4, 3}, {3, 4, 5}},
	}
}

func flat() *mesh.Mesh {
	return &mesh.Mesh{
		Verts: []geom.Vec{{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}},
		Tris:  [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
}

func TestFromMeetsClosedForms(t *testing.T) {
	brick := func(hi geom.Vec) *mesh.Mesh { return plain.Brick(geom.Vec{}, hi) }
	for _, c := range []struct {
		name   string
		m, to  *mesh.Mesh
		wantMM float64
	}{
		{"the same", brick(geom.Vec{10, 10, 10}), brick(geom.Vec{10, 10, 10}), 0},
		{"one face 2 mm out", brick(geom.Vec{12, 10, 10}), brick(geom.Vec{10, 10, 10}), 2},
		{"two faces out: the corner edge, sqrt(2²+3²)", brick(geom.Vec{12, 13, 10}), brick(geom.Vec{10, 10, 10}), math.Sqrt(13)},
		{"back: the old face lies 2 mm inside", brick(geom.Vec{10, 10, 10}), brick(geom.Vec{12, 10, 10}), 2},
		{"flat to tent: furthest below the ridge, between corners, 10·cos(atan(1/5))", flat(), tent(), 10 * math.Cos(math.Atan(0.2))},
		{"tent to flat: the ridge", tent(), flat(), 10},
	} {
		d, err := From(t.Context(), c.m, bvh.Build(c.to))
		if err != nil {
			t.Fatal(err)
		}
		if d.MM > c.wantMM+1e-9 || d.MM+d.ErrorMM < c.wantMM-1e-9 || d.ErrorMM > careMM+careShare*d.MM {
			t.Errorf("%s: got [%.9f, +%.2g], want %.9f in it", c.name, d.MM, d.ErrorMM, c.wantMM)
		}
	}
}

// TestFromHoldsAgainstSamples samples random surfaces densely: no sample may lie
// above the high end, and the low end must be a distance that is reached.
func TestFromHoldsAgainstSamples(t *testing.T) {
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, 1))
		rough := func() *mesh.Mesh {
			return plain.Sheet(5, 5, func(u, v float64) geom.Vec {
				return geom.Vec{100 * u, 100 * v, 20 * r.Float64()}
			})
		}
		m, to := rough(), bvh.Build(rough())
		d, err := From(t.Context(), m, to)
		if err != nil {
			t.Fatal(err)
		}
		if near, _ := to.Nearest(d.At, math.Inf(1)); near.DistMM != d.MM {
			t.Errorf("seed %d: %v at %v is not reached: %v", seed, d.MM, d.At, near.DistMM)
		}
		for tri := range m.Tris {
			a, b, c := m.Corners(tri)
			for range 500 {
				u, v := r.Float64(), r.Float64()
				if u+v > 1 {
					u, v = 1-u, 1-v
				}
				p := a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v))
				if near, _ := to.Nearest(p, math.Inf(1)); near.DistMM > d.MM+d.ErrorMM+1e-9 {
					t.Fatalf("seed %d: a sample lies %.6f off, above %.6f + %.6f", seed, near.DistMM, d.MM, d.ErrorMM)
				}
			}
		}
	}
}

// side makes a state of three bricks in a row along X, with a rule of 10 mm, and
// what change does to it.
func side(t *testing.T, name string, hiX float64, change func(doc *layout.Document)) Side { // Bare numbers: mm
	t.Helper()
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "a", Role: "thing", Mesh: "a.stl"},
			{Name: "b", Role: "thing", Mesh: "b.stl"},
			{Name: "c", Role: "thing", Mesh: "c.stl"},
		},
		Rules: []layout.Rule{{A: "*", B: "*", State: layout.StateStatic, LeastMM: 10}},
	}
	change(doc)
	s := fixture.Scene(t, doc, map[string]*mesh.Mesh{
		"a.stl": plain.Brick(geom.Vec{0, 0, 0}, geom.Vec{hiX, 10, 10}),
		"b.stl": plain.Brick(geom.Vec{21, 0, 0}, geom.Vec{31, 10, 10}),
		"c.stl": plain.Brick(geom.Vec{42, 0, 0}, geom.Vec{52, 10, 10}),
		"d.stl": plain.Brick(geom.Vec{26, 0, 0}, geom.Vec{36, 10, 10}),
	})
	fit, err := clearance.Run(t.Context(), s, clearance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return Side{name, s, fit}
}

func compared(t *testing.T, old, now Side) *Result {
	t.Helper()
	r, err := Run(t.Context(), old, now, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// counts says what became of the findings: new, cured, worse, better.
func counts(r *Result) string {
	f := &r.Findings
	return fmt.Sprint(len(f.New), len(f.Cured), len(f.Worse), len(f.Better))
}

func TestRunTellsEachKind(t *testing.T) {
	same := func(*layout.Document) {}
	old := side(t, "old", 10, same) // a-b 11 and b-c 11 are close, a-c 32 is ok
	for _, c := range []struct {
		name   string
		now    Side
		counts string
		fails  bool
		see    func(r *Result) bool
	}{
		{"nothing", side(t, "now", 10, same), "0 0 0 0", false, func(r *Result) bool {
			return r.Nothing() && r.Findings.Same == 3 && r.Findings.Unchanged == 3 && r.Findings.Identical == 3 && r.Parts.Same == 3
		}},
		{"b moved by 2 mm to a: 9 and 13", side(t, "now", 10, func(d *layout.Document) { d.Parts[1].MoveMM = geom.Vec{-2, 0, 0} }), "1 0 0 1", true, func(r *Result) bool {
			m := r.Parts.Moved
			return len(m) == 1 && m[0].MostMM == 2 && m[0].ShiftMM == geom.Vec{-2, 0, 0} && m[0].TurnDeg == 0 && r.Findings.Identical == 1
		}},
		{"b moved by 0.5 mm: 10.5 and 11.5", side(t, "now", 10, func(d *layout.Document) { d.Parts[1].MoveMM = geom.Vec{-0.5, 0, 0} }), "0 0 1 1", true, func(r *Result) bool {
			return math.Abs(*r.Findings.Worse[0].ByMM+0.5) < 1e-6
		}},
		{"a reshaped by 1.5 mm: 9.5", side(t, "now", 11.5, same), "1 0 0 0", true, func(r *Result) bool {
			s := r.Parts.Reshaped
			return len(s) == 1 && s[0].DeviationMM == 1.5 && math.Abs(*s[0].VolumeMM3-150) < 1e-6 && r.Findings.New[0].Why.String() == "a reshaped by up to 1.50 mm"
		}},
		{"b from a file with the shape 5 mm on", side(t, "now", 10, func(d *layout.Document) { d.Parts[1].Mesh = "d.stl" }), "1 0 0 1", true, func(r *Result) bool {
			m := r.Parts.Moved
			return len(m) == 1 && m[0].InFile && m[0].ShiftMM == geom.Vec{5, 0, 0} && len(r.Parts.Reshaped) == 0
		}},
		{"c is gone", side(t, "now", 10, func(d *layout.Document) { d.Parts = d.Parts[:2] }), "0 0 0 0", false, func(r *Result) bool {
			return len(r.Parts.Removed) == 1 && r.Findings.Gone == 2
		}},
		{"the rule asks for more", side(t, "now", 10, func(d *layout.Document) { d.Rules[0].LeastMM = 12 }), "2 0 0 0", true, func(r *Result) bool {
			return len(r.Settings) == 1 && r.Settings[0].Where == "rules" && r.Findings.New[0].Why.String() == "asked 12 mm, before 10 mm"
		}},
		{"a turned by 90 degrees", side(t, "now", 10, func(d *layout.Document) { d.Parts[0].TurnDeg = geom.Vec{0, 0, 90} }), "0 0 0 1", false, func(r *Result) bool {
			// the furthest corner lies 10·sqrt(2) off the axis and goes sqrt(2) times that
			return math.Abs(r.Parts.Moved[0].TurnDeg-90) < 1e-9 && math.Abs(r.Parts.Moved[0].MostMM-20) < 1e-9
		}},
	} {
		r := compared(t, old, c.now)
		if got := counts(r); got != c.counts || r.Fails() != c.fails || !c.see(r) {
			t.Errorf("%s: new, cured, worse, better %s (want %s), fails %v\n%+v", c.name, got, c.counts, r.Fails(), r)
		}
		// the other way round, what is new is cured and what is worse is better
		back := compared(t, c.now, old)
		if len(back.Findings.New) != len(r.Findings.Cured) || len(back.Findings.Cured) != len(r.Findings.New) ||
			len(back.Findings.Worse) != len(r.Findings.Better) || len(back.Findings.Better) != len(r.Findings.Worse) {
			t.Errorf("%s: back %s of %s", c.name, counts(back), c.counts)
		}
	}
}

func TestOffsetsAreDistances(t *testing.T) {
	old := side(t, "old", 10, func(*layout.Document) {})
	now := side(t, "now", 12, func(*layout.Document) {})
	p := &now.Scene.Parts[0]
	for i, off := range Offsets(p, partTree(old.Scene, "a")) {
		a, b, c := p.Mesh.Corners(i)
		if want := math.Max(0, max(a[0], b[0], c[0])-10); math.Abs(float64(off)-want) > 1e-5 {
			t.Errorf("facet %d lies %v off, want %v", i, off, want)
		}
	}
}

func partTree(s *scene.Scene, name string) *bvh.Tree {
	i, _ := s.Index(name)
	return s.Parts[i].Tree
}

// TestSettingsGoDownToWhatDiffers: the key of an object, the length of a list.
func TestSettingsGoDownToWhatDiffers(t *testing.T) {
	old := side(t, "old", 10, func(d *layout.Document) {
		d.Parts[0].Thermal = &layout.Thermal{PowerW: 3, Notes: "before"}
	})
	now := side(t, "now", 10, func(d *layout.Document) {
		d.Parts[0].Thermal = &layout.Thermal{PowerW: 5, Notes: "after"}
		d.Parts[1].ToleranceMM = 0.5
		for range 4 {
			d.Rules = append(d.Rules, d.Rules[0])
		}
	})
	want := [][3]string{{`part "a": thermal.power_W`, "3", "5"}, {`part "b": tolerance_mm`, "", "0.5"}, {"rules", `[{"a":"*","b":"*","state":"static","least_mm":10}]`, "5 entries"}}
	var got [][3]string
	for _, s := range compared(t, old, now).Settings {
		got = append(got, [3]string{s.Where, s.Before.String(), s.After.String()})
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
