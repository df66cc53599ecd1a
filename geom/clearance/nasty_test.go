package clearance

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
	"aftbay/geom/sweep"
)

// rockBy is a motion box about all axes.
func rockBy(shiftMM, turnDeg float64) *layout.Motion {
	shift, turn := layout.Range{-shiftMM, shiftMM}, layout.Range{-turnDeg, turnDeg}
	return &layout.Motion{XMM: shift, YMM: shift, ZMM: shift, RollDeg: turn, PitchDeg: turn, YawDeg: turn}
}

// TestDamagedBodies: each damaged mesh beside a sound box, at rest and rocking.
// Damage that leaves the surface where it was leaves the gap of the same ring
// mended, to the last bit; what is no solid any more is said; every number is finite, and
// a moving pair is never further apart than at rest.
func TestDamagedBodies(t *testing.T) {
	ring := func(name string) *mesh.Mesh { return readMesh(t, "shapes_open/"+name+".stl") }
	gap := func(m *mesh.Mesh) (static, moving Pair) {
		doc := &layout.Document{
			Parts: []layout.Part{
				{Name: "ring", Role: "x", Mesh: "ring.stl", Group: "g", TurnDeg: geom.Vec{20, 30, 40}},
				{Name: "box", Role: "y", Mesh: "box.stl", MoveMM: geom.Vec{0, 120, 0}},
			},
			Groups: []layout.Group{{Name: "g", Motion: rockBy(3, 1.5)}},
			Rules:  []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 5}},
		}
		s := fixture.Scene(t, doc, map[string]*mesh.Mesh{
			"ring.stl": m,
			"box.stl":  ring("box_a"),
		})
		r := run(t, s, Options{})
		return find(t, r, "ring ~ box @ static"), find(t, r, "ring ~ box @ moving")
	}
	mended, _ := mesh.Mended(ring("bad_inside_out"))
	sound, soundMoving := gap(mended)
	for _, name := range []string{"bad_flipped", "bad_degenerate", "bad_duplicate", "bad_inside_out", "bad_holes", "bad_self_cross"} {
		p, m := gap(ring(name))
		same := name != "bad_holes" && name != "bad_self_cross"
		if same && (p.ClearanceMM != sound.ClearanceMM || math.Abs(m.ClearanceMM-soundMoving.ClearanceMM) > searchMM) {
			t.Errorf("%s: %.9f mm, moving %.6f; the sound ring %.9f, moving %.6f", name, p.ClearanceMM, m.ClearanceMM, sound.ClearanceMM, soundMoving.ClearanceMM)
		}
		if open := strings.Contains(strings.Join(say.English(p.Notes), " "), "lacks facets"); open != (name == "bad_holes") {
			t.Errorf("%s: notes %q", name, p.Notes)
		}
		for _, row := range []Pair{p, m} {
			if math.IsNaN(row.ClearanceMM) || math.IsInf(row.ClearanceMM, 0) || !(row.ErrorMM >= 0 && row.ErrorMM < 0.011) || !geom.IsFinite(row.PointA) || !geom.IsFinite(row.PointB) {
				t.Errorf("%s: %+v", name, row)
			}
		}
		if m.ClearanceMM-m.ErrorMM > p.ClearanceMM {
			t.Errorf("%s: moving %.6f, at rest %.6f", name, m.ClearanceMM, p.ClearanceMM)
		}
	}
}

// TestNoVolumeIsSaid: where solids overlap and there is no shared volume, the
// row says why.
func TestNoVolumeIsSaid(t *testing.T) {
	doc := &layout.Document{Parts: []layout.Part{
		{Name: "crossed", Role: "x", Mesh: "crossed.stl"}, {Name: "box", Role: "y", Mesh: "box.stl"},
	}}
	big := plain.Brick(geom.Vec{-400, -400, -1}, geom.Vec{400, 400, 1})
	for _, name := range []string{"bad_self_cross", "torus_a"} {
		s := fixture.Scene(t, doc, map[string]*mesh.Mesh{"crossed.stl": readMesh(t, "shapes_open/"+name+".stl"), "box.stl": big})
		p := find(t, run(t, s, Options{}), "crossed ~ box @ static")
		said := slices.Contains(say.English(p.Notes), noVolume)
		if !p.Overlap || said != (p.OverlapVolumeMM3 == nil) || said != (name == "bad_self_cross") {
			t.Errorf("%s: overlap %v, volume %v, notes %q", name, p.Overlap, p.OverlapVolumeMM3, p.Notes)
		}
	}
}

// TestStillBoxes: a motion box of no size, and one position that is the rest, give
// the figures at rest to the last digit.
func TestStillBoxes(t *testing.T) {
	for name, motion := range map[string]*layout.Motion{"none": nil, "no size": {}} {
		doc, meshes := twoBlocks()
		doc.Parts[1].TurnDeg = geom.Vec{1, 2, 3}
		doc.Groups[0].Motion = motion
		doc.Rules = []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 30}}
		r := run(t, fixture.Scene(t, doc, meshes), Options{})
		p, rest := find(t, r, "block ~ wall @ moving"), find(t, r, "block ~ wall @ static")
		if p.ClearanceMM != rest.ClearanceMM || p.ErrorMM != rest.ErrorMM || p.PointA != rest.PointA {
			t.Errorf("%s: moving %+v, at rest %+v", name, p, rest)
		}
	}
}

// rocking is a scene of two open tangles, both in groups that shift and turn about
// all axes around far pivots; swapped has the parts the other way round, and all
// of it may stand elsewhere.
func rocking(t *testing.T, seed uint64, swapped bool, away geom.Vec) *scene.Scene {
	rng := rand.New(rand.NewPCG(21, seed))
	in := func(r float64) float64 { return math.Round((2*rng.Float64()-1)*r*8) / 8 }
	tangle := func() *mesh.Mesh {
		m := &mesh.Mesh{}
		for range 30 {
			at := geom.Vec{in(40), in(40), in(40)}
			for range 3 {
				m.Verts = append(m.Verts, at.Add(geom.Vec{in(12), in(12), in(12)}))
			}
			v := int32(len(m.Verts))
			m.Tris = append(m.Tris, [3]int32{v - 3, v - 2, v - 1})
		}
		return m
	}
	meshes := map[string]*mesh.Mesh{"a.stl": tangle(), "b.stl": tangle()}
	parts := []layout.Part{
		{Name: "a", Role: "x", Mesh: "a.stl", Group: "g", MoveMM: away, TurnDeg: geom.Vec{in(90), in(90), in(90)}},
		{Name: "b", Role: "x", Mesh: "b.stl", Group: "h", MoveMM: away.Add(geom.Vec{140 + in(20), in(40), in(40)}), TurnDeg: geom.Vec{in(90), in(90), in(90)}},
	}
	pivots := [2]geom.Vec{{in(200), in(200), in(200)}, {in(200), in(200), in(200)}}
	if swapped {
		slices.Reverse(parts)
	}
	return fixture.Scene(t, &layout.Document{
		Parts: parts,
		Groups: []layout.Group{
			{Name: "g", PivotMM: away.Add(pivots[0]), Motion: rockBy(4, 2)}, {Name: "h", PivotMM: away.Add(pivots[1]), Motion: rockBy(3, 1)},
		},
		Rules: []layout.Rule{{A: "*", B: "*", State: "moving", LeastMM: 1000}}, // so that nothing may stop early
	}, meshes)
}

// TestBothRock: two tangles that shift and turn about all axes, both of them. The
// stated interval is narrow, no pose of many is nearer than its low end, the pose
// named is as near as stated, and neither swapping the parts nor moving all of it
// changes more than the interval allows.
func TestBothRock(t *testing.T) {
	for seed := range uint64(4) {
		s := rocking(t, seed, false, geom.Vec{})
		r := run(t, s, Options{})
		p := find(t, r, "a ~ b @ moving")
		lowMM := p.ClearanceMM - p.ErrorMM
		if p.Overlap || p.ClearanceMM <= 0 || p.ErrorMM > searchMM+1e-6 {
			t.Fatalf("seed %d: %.4f ± %.4f mm", seed, p.ClearanceMM, p.ErrorMM)
		}
		swapped := find(t, run(t, rocking(t, seed, true, geom.Vec{}), Options{}), "b ~ a @ moving")
		away := find(t, run(t, rocking(t, seed, false, geom.Vec{4096, -2048, 8192}), Options{}), "a ~ b @ moving")
		for name, q := range map[string]Pair{"swapped": swapped, "elsewhere": away} {
			if q.ClearanceMM < lowMM-1e-6 || q.ClearanceMM-q.ErrorMM > p.ClearanceMM+1e-6 {
				t.Errorf("seed %d, %s: %.4f ± %.4f mm, want %.4f ± %.4f", seed, name, q.ClearanceMM, q.ErrorMM, p.ClearanceMM, p.ErrorMM)
			}
		}
		c, err := newCheck(t.Context(), s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := c.gapAt(t, worst(c, &p)); math.Abs(got-p.ClearanceMM) > 1e-6 {
			t.Errorf("seed %d: %.6f mm in the worst pose, stated %.6f", seed, got, p.ClearanceMM)
		}
		rng := rand.New(rand.NewPCG(22, seed))
		for n := range 2000 {
			var at [2]sweep.Setting
			for g := range at {
				m := c.motion[g]
				for k := range at[g] {
					f := rng.Float64()
					if n%2 == 0 {
						f = math.Round(f)
					}
					at[g][k] = m.Lo[k] + f*(m.Hi[k]-m.Lo[k])
				}
			}
			if got := c.gapAt(t, at); got < lowMM-1e-9 {
				t.Fatalf("seed %d: a pose comes to %.6f mm, stated no less than %.6f", seed, got, lowMM)
			}
		}
	}
}

// gapAt is the plain distance of the first two parts in one pose of each.
func (c *check) gapAt(t *testing.T, at [2]sweep.Setting) float64 {
	a, b := c.cold[0], c.cold[1]
	a.Pose, b.Pose = c.motion[0].Pose(at[0]).After(a.Pose), c.motion[1].Pose(at[1]).After(b.Pose)
	r, err := dist.Between(context.Background(), a, b, dist.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.GapMM
}

// worst is the pose that a row names.
func worst(c *check, p *Pair) (at [2]sweep.Setting) {
	for k, i := range [2]int{p.IndexA, p.IndexB} {
		w := p.WorstPose[c.scene.Parts[i].Group]
		at[k] = sweep.Setting{w.XMM, w.YMM, w.ZMM, w.RollDeg * math.Pi / 180, w.PitchDeg * math.Pi / 180, w.YawDeg * math.Pi / 180}
	}
	return at
}

// TestDepthError: the error of an overlap covers how well its depth is known, also
// where the deepest point is no corner.
func TestDepthError(t *testing.T) {
	doc := &layout.Document{Parts: []layout.Part{
		{Name: "a", Role: "x", Mesh: "a.stl", MoveMM: geom.Vec{7, 5, 3}}, {Name: "b", Role: "y", Mesh: "b.stl"},
	}}
	s := fixture.Scene(t, doc, map[string]*mesh.Mesh{"a.stl": readMesh(t, "shapes_open/torus_a.stl"), "b.stl": readMesh(t, "shapes_open/sphere_large.stl")})
	p := find(t, run(t, s, Options{}), "a ~ b @ static")
	r, err := dist.Between(t.Context(), s.Body(0), s.Body(1), dist.Options{Overlap: true})
	if err != nil || !p.Overlap || p.ClearanceMM != -r.DepthMM || p.ErrorMM != max(r.ErrorMM, r.DepthErrorMM) || p.ErrorMM <= r.ErrorMM {
		t.Errorf("%.6f ± %.6f mm, depth %.6f + %.6f (%v)", p.ClearanceMM, p.ErrorMM, r.DepthMM, r.DepthErrorMM, err)
	}
}
