package rearview

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
)

// rayView decides by rays whether an eye sees a road point: the plain way that
// the exact one replaces.
type rayView struct {
	st    *study
	toOwn []geom.Pose // road frame to part frame
}

func newRayView(st *study) *rayView {
	v := &rayView{st: st}
	for i := range st.scene.Parts {
		v.toOwn = append(v.toOwn, st.sight.toRoad.After(st.scene.Parts[i].Pose).Inverse())
	}
	return v
}

// sees reports whether eye k sees a road point, and whether some part stands
// before it.
func (v *rayView) sees(k int, at geom.Vec) (seen bool) {
	s := v.st.sight
	e, m := &s.eyes[k], &s.mirror
	d := at.Sub(e.image)
	down := d.Dot(m.Normal)
	if down <= 0 {
		return false
	}
	on := e.image.Add(d.Mul(m.Centre.Sub(e.image).Dot(m.Normal) / down))
	off := on.Sub(m.Centre)
	if math.Abs(off.Dot(m.Right)) > m.WidthMM/2 || math.Abs(off.Dot(m.Up)) > m.HeightMM/2 {
		return false
	}
	if len(s.glass) > 0 && !v.throughGlass(on, at) {
		return false
	}
	return !v.hit(e.eye, on) && !v.hit(on, at)
}

// throughGlass casts the line against the pane as a fan of triangles, counted
// with their turns, which holds for a pane of any shape.
func (v *rayView) throughGlass(from, to geom.Vec) bool {
	g := v.st.sight.glass
	turns := 0
	for i := 2; i < len(g); i++ {
		n := g[i-1].Sub(g[0]).Cross(g[i].Sub(g[0]))
		d := to.Sub(from)
		run := d.Dot(n)
		if run == 0 {
			continue
		}
		t := g[0].Sub(from).Dot(n) / run
		if t <= 0 || t >= 1 {
			continue
		}
		p := from.Add(d.Mul(t))
		in := true
		tri := [3]geom.Vec{g[0], g[i-1], g[i]}
		for c := range tri {
			in = in && tri[(c+1)%3].Sub(tri[c]).Cross(p.Sub(tri[c])).Dot(n) >= 0
		}
		if in && run > 0 {
			turns++
		} else if in {
			turns--
		}
	}
	return turns != 0
}

func (v *rayView) hit(from, to geom.Vec) bool {
	d := to.Sub(from)
	for i := range v.st.scene.Parts {
		p := &v.st.scene.Parts[i]
		if seeThrough[p.Role] {
			continue
		}
		if _, hit := p.Tree.FirstHit(v.toOwn[i].Point(from), v.toOwn[i].Dir(d.Normalize()), d.Len()); hit {
			return true
		}
	}
	return false
}

// bump returns a lumpy closed ball: many facets, concave places.
func bump(rng *rand.Rand, mid geom.Vec, radiusMM float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n + 1 {
		for j := range 2 * n {
			polar, round := math.Pi*float64(i)/float64(n), math.Pi*float64(j)/float64(n)
			r := radiusMM * (0.7 + 0.3*rng.Float64())
			if i == 0 || i == n {
				r = radiusMM
			}
			m.Verts = append(m.Verts, mid.Add(geom.Vec{r * math.Sin(polar) * math.Cos(round), r * math.Sin(polar) * math.Sin(round), r * math.Cos(polar)}))
		}
	}
	for i := range n {
		for j := range 2 * n {
			a, b := int32(i*2*n+j), int32(i*2*n+(j+1)%(2*n))
			c, d := a+int32(2*n), b+int32(2*n)
			m.Tris = append(m.Tris, [3]int32{a, c, b}, [3]int32{b, c, d})
		}
	}
	return m
}

// randomScene makes a bay of blocks and lumps around the line of sight, a
// visor between eyes and mirror, glass of five corners with a dent, a tilted
// mirror and a road that the car does not stand level on.
func randomScene(t *testing.T, seed uint64) *scene.Scene {
	rng := rand.New(rand.NewPCG(seed, 7))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	view := &layout.RearView{
		RPointMM: &geom.Vec{1250, between(-380, -340), 285},
		Mirror: &layout.Mirror{
			CentreMM: geom.Vec{760, between(-20, 20), between(970, 1000)}, WidthMM: between(150, 260), HeightMM: 70,
			Aim: &geom.Vec{1, between(-0.02, 0.02), between(-0.02, 0)},
		},
		GlassMM:    []geom.Vec{{1400, -420, 1085}, {1400, 420, 1085}, {1480, 300, 1022.5}, {1560, 460, 960}, {1560, -460, 960}},
		RearEndXMM: new(3200.0),
	}
	if seed%3 == 1 {
		view.Mirror.Up = &geom.Vec{0, between(-0.1, 0.1), 1}
	}
	doc := &layout.Document{RearView: view, Vehicle: &layout.Vehicle{
		FrontAxleMM: geom.Vec{0, 0, 300}, RearAxleMM: geom.Vec{2500, 0, 300}, GroundZMM: between(-5, 5),
		Attitudes: []layout.Attitude{{Name: "laden", FrontDownMM: 3, RearDownMM: between(0, 25)}},
	}}
	if seed%2 == 1 {
		view.Attitude = "laden"
	}
	var pieces []piece
	for i := range 6 {
		xMM, yMM, topMM := between(1600, 3200), between(-500, 500), between(900, 975)
		name := fmt.Sprintf("p%d", i)
		if i%2 == 0 {
			pieces = append(pieces, piece{name: name, mesh: block(geom.Vec{xMM, yMM, topMM - between(5, 400)}, geom.Vec{xMM + between(1, 300), yMM + between(10, 500), topMM})})
		} else {
			r := between(20, 150)
			pieces = append(pieces, piece{name: name, mesh: bump(rng, geom.Vec{xMM, yMM, topMM - r}, r, 9)})
		}
	}
	pieces = append(pieces,
		piece{name: "visor", mesh: block(geom.Vec{850, -150, 998}, geom.Vec{870, 40, 1100})},
		piece{name: "across the mirror", mesh: block(geom.Vec{600, -60, between(1000, 1012)}, geom.Vec{1300, 30, 1060})},
		piece{name: "through the road", mesh: block(geom.Vec{3000, 100, -50}, geom.Vec{3010, 200, 960})})
	s := build(t, view, pieces...)
	s.Doc.Vehicle = doc.Vehicle
	return s
}

// TestAgreesWithRays: shares against a pixel picture of the field, one ray per
// pixel, within four standard deviations of its sampling error and a pixel's
// width along the outlines.
func TestAgreesWithRays(t *testing.T) {
	for seed := range uint64(4) {
		r := answer(t, randomScene(t, seed))
		v := newRayView(r.study)
		rng := rand.New(rand.NewPCG(seed, 1))
		for i := range r.study.fields {
			f := &r.study.fields[i]
			var own Answer
			for _, a := range r.Rules {
				if a.Required.Rule == f.rule {
					own = a
				}
			}
			const n = 10000
			var seen [nEyes]int
			either, both := 0, 0
			for range n {
				at := r.study.road(inside(rng, f.poly))
				var sees [nEyes]bool
				for k := range sees {
					if sees[k] = v.sees(k, at); sees[k] {
						seen[k]++
					}
				}
				either += ones(sees[left] || sees[right])
				both += ones(sees[left] && sees[right])
			}
			check := func(what string, count int, exact float64) {
				share := float64(count) / n
				if off := 4*math.Sqrt(exact*(1-exact)/n) + 1e-4; math.Abs(share-exact) > off {
					t.Errorf("seed %d, %s, %s: rays %.4f, exact %.4f, within %.4f", seed, f.rule, what, share, exact, off)
				}
			}
			check("left", seen[left], own.Seen.LeftShare)
			check("right", seen[right], own.Seen.RightShare)
			check("middle", seen[middle], own.Seen.MiddleShare)
			check("either", either, own.Seen.EitherShare)
			check("both", both, own.Seen.BothShare)
		}
	}
}

// inside returns a random place of a convex polygon, even by area.
func inside(rng *rand.Rand, poly []dot) dot {
	pick := rng.Float64() * area2(poly)
	for i := 2; i < len(poly); i++ {
		p, q, r := poly[0], poly[i-1], poly[i]
		part := turn(p, q, r)
		if pick -= part; (pick < 0) != (part < 0) && i+1 < len(poly) {
			continue
		}
		u, v := rng.Float64(), rng.Float64()
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		return dot{p.a + u*(q.a-p.a) + v*(r.a-p.a), p.b + u*(q.b-p.b) + v*(r.b-p.b)}
	}
	return poly[0]
}

// TestAgreesWithPlainColumns: shares against the plain way, which knows no
// outlines, no slabs and no crossings: along many upright lines of the picture
// every triangle is laid down by itself, and the lengths left over are summed.
func TestAgreesWithPlainColumns(t *testing.T) {
	for seed := range uint64(3) {
		r := answer(t, randomScene(t, seed+20))
		st := r.study
		polygons := [2][][]edge{st.plainPolygons(left), st.plainPolygons(right)}
		for i := range st.fields {
			f := &st.fields[i]
			box := paneOf(f.poly)
			const n = 1500
			var seenLeft, seenRight, either, all float64
			for c := range n {
				a := box.lo.a + (box.hi.a-box.lo.a)*(float64(c)+0.5)/n
				l, rr := st.plainColumn(left, f, polygons[left], a), st.plainColumn(right, f, polygons[right], a)
				seenLeft, seenRight, either = seenLeft+length(l), seenRight+length(rr), either+length(union(l, rr))
				all += length(column(around(f.poly), a))
			}
			exact := st.measure(f, st.shadows)
			for k, pair := range [][2]float64{
				{seenLeft / all, exact.seen[left] / exact.field}, {seenRight / all, exact.seen[right] / exact.field}, {either / all, exact.either / exact.field},
			} {
				// The rule of midpoints over 1500 columns leaves some 1e-4 at
				// upright edges.
				if math.Abs(pair[0]-pair[1]) > 5e-4 {
					t.Errorf("seed %d, %s, %d: plain %.6f, exact %.6f", seed, f.rule, k, pair[0], pair[1])
				}
			}
		}
	}
}

// plainPolygons throws every triangle by itself for an eye.
func (st *study) plainPolygons(k int) (out [][]edge) {
	e := &st.sight.eyes[k]
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if seeThrough[p.Role] {
			continue
		}
		pose := st.sight.toRoad.After(p.Pose)
		for t := range p.Mesh.Tris {
			x, y, z := p.Mesh.Corners(t)
			for _, leg := range []struct {
				c *caster
				p geom.Pose
			}{{&e.road, pose}, {&e.near, st.sight.reflect.After(pose)}} {
				poly := leg.c.throw([]geom.Vec{leg.p.Point(x), leg.p.Point(y), leg.p.Point(z)})
				if len(poly) > 2 && paneOf(poly).meets(pane{dot{-1, 0}, dot{1, 2}}) {
					out = append(out, around(poly))
				}
			}
		}
	}
	return out
}

// plainColumn returns what an eye sees of a field along an upright line.
func (st *study) plainColumn(k int, f *field, polygons [][]edge, a float64) []span {
	e := &st.sight.eyes[k]
	open := both(column(around(f.poly), a), column(around(e.mirror), a))
	if len(st.sight.glass) > 0 {
		open = both(open, column(around(e.glass), a))
	}
	var hidden []span
	for _, poly := range polygons {
		hidden = append(hidden, column(poly, a)...)
	}
	for _, h := range union(hidden, nil) {
		open = append(both(open, []span{{math.Inf(-1), h.from}}), both(open, []span{{h.to, math.Inf(1)}})...)
	}
	return open
}

// TestSameBitsForAnyWorkers on a scene with everything in it.
func TestSameBitsForAnyWorkers(t *testing.T) {
	sc := randomScene(t, 3)
	var first *Result
	for _, workers := range []int{1, 2, 7} {
		r, err := Run(t.Context(), sc, Options{Workers: workers}, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.study = nil
		if first == nil {
			first = r
		} else if !reflect.DeepEqual(first, r) {
			t.Errorf("%d workers differ from one", workers)
		}
	}
}

// TestNastyMeshes: slivers, doubled and edge-on facets, facets far away and a
// part around everything are counted like any other, or not at all.
func TestNastyMeshes(t *testing.T) {
	wall := block(geom.Vec{2900, -90, 0}, geom.Vec{2950, 260, 1184})
	want := answer(t, build(t, flatMirror(), piece{name: "wall", mesh: wall})).Seen
	double := &mesh.Mesh{Verts: append(slices.Clone(wall.Verts), wall.Verts...), Tris: slices.Clone(wall.Tris)}
	for _, tri := range wall.Tris {
		double.Tris = append(double.Tris, [3]int32{tri[0] + 8, tri[2] + 8, tri[1] + 8}) // turned inside out
	}
	sheet := func(verts ...geom.Vec) *mesh.Mesh {
		return &mesh.Mesh{Verts: verts, Tris: [][3]int32{{0, 1, 2}}}
	}
	sc := build(t, flatMirror(), piece{name: "wall", mesh: double},
		piece{name: "sliver", mesh: sheet(geom.Vec{2920, -90, 1180}, geom.Vec{2920, 260, 1180}, geom.Vec{2920, 85, 1180.05})},
		piece{name: "edge on", mesh: sheet(geom.Vec{1000, 0, 1210}, geom.Vec{5000, -500, 1210}, geom.Vec{5000, 500, 1210})},
		piece{name: "far away", mesh: sheet(geom.Vec{9e6, -9e6, 0}, geom.Vec{9e6, 9e6, 0}, geom.Vec{9e6, 0, -9e6})},
		piece{name: "behind the mirror", mesh: block(geom.Vec{300, -300, 900}, geom.Vec{980, 300, 1400})},
		piece{name: "under the road", mesh: block(geom.Vec{2000, -900, -900}, geom.Vec{90000, 900, -0.001})})
	got := answer(t, sc).Seen
	near(t, "left", got.LeftShare, want.LeftShare)
	near(t, "right", got.RightShare, want.RightShare)
	near(t, "either", got.EitherShare, want.EitherShare)
	around := answer(t, build(t, flatMirror(), piece{name: "box", mesh: block(geom.Vec{-9000, -9000, -500}, geom.Vec{9000, 9000, 9000})}))
	if around.Seen != (Seen{}) {
		t.Errorf("inside a box: %+v", around.Seen)
	}
}

// TestHeightsHold: a part moved to the heights told does what they promise, as
// the whole study says of the moved scene.
func TestHeightsHold(t *testing.T) {
	checked := 0
	for seed := range uint64(3) {
		sc := randomScene(t, seed+40)
		sc.Doc.RearView.Attitude = "" // a part is raised square to the road
		r := answer(t, sc)
		for _, name := range slices.Sorted(maps.Keys(r.HighestAllowedMM)) {
			h := r.HighestAllowedMM[name]
			i, _ := sc.Index(name)
			at := func(raisedMM float64) *Answer {
				pose := sc.Parts[i].Pose
				pose.T[2] += raisedMM
				moved, err := Run(t.Context(), sc.Placed(i, pose), Options{Quick: true}, nil)
				if err != nil {
					t.Fatal(err)
				}
				return &moved.Answer
			}
			loses := func(a *Answer) bool {
				return slices.ContainsFunc(a.LostBy, func(l Loss) bool { return l.Part == name && l.Share > 2*nothingShare })
			}
			if m := *h.NoLossMarginMM; loses(at(m)) || !loses(at(m+1)) {
				t.Errorf("seed %d, %s: begins to hide elsewhere than at %g", seed, name, m)
			}
			if m := h.AllowanceMarginMM; m != nil {
				checked++
				if !at(*m).Required.Met || at(*m+0.001).Required.Met {
					t.Errorf("seed %d, %s: the rule is lost elsewhere than at %g: %+v", seed, name, *m, at(*m).Seen)
				}
			}
		}
	}
	if checked == 0 {
		t.Error("no allowance was checked")
	}
}
