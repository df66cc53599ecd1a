package dist

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// block returns a closed box, outward winding, each side cut into n×n squares.
func block(lo, hi geom.Vec, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	at := map[[3]int]int32{}
	corner := func(i [3]int) int32 {
		if v, ok := at[i]; ok {
			return v
		}
		var p geom.Vec
		for k := range 3 {
			p[k] = lo[k] + (hi[k]-lo[k])*float64(i[k])/float64(n)
		}
		m.Verts = append(m.Verts, p)
		at[i] = int32(len(m.Verts) - 1)
		return at[i]
	}
	for k := range 3 {
		l, o := (k+1)%3, (k+2)%3
		for _, side := range []int{0, n} {
			for x := range n {
				for y := range n {
					var c [4]int32
					for q, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
						var i [3]int
						i[k], i[l], i[o] = side, x+d[0], y+d[1]
						c[q] = corner(i)
					}
					if side == 0 {
						c[1], c[3] = c[3], c[1]
					}
					m.Tris = append(m.Tris, [3]int32{c[0], c[1], c[2]}, [3]int32{c[0], c[2], c[3]})
				}
			}
		}
	}
	return m
}

// rod returns a closed prism around the z axis with n sides.
func rod(radiusMM, fromMM, toMM float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, fromMM}, {0, 0, toMM}}}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		m.Verts = append(m.Verts, geom.Vec{radiusMM * c, radiusMM * s, fromMM}, geom.Vec{radiusMM * c, radiusMM * s, toMM})
	}
	for i := range n {
		a, b := int32(2+2*i), int32(2+2*((i+1)%n))
		m.Tris = append(m.Tris, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1}, [3]int32{0, b, a}, [3]int32{1, a + 1, b + 1})
	}
	return m
}

// sheet returns an open grid of n×n squares in z = 0.
func sheet(lo, hi geom.Vec, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for y := range n + 1 {
		for x := range n + 1 {
			m.Verts = append(m.Verts, geom.Vec{lo[0] + (hi[0]-lo[0])*float64(x)/float64(n), lo[1] + (hi[1]-lo[1])*float64(y)/float64(n), 0})
		}
	}
	for y := range n {
		for x := range n {
			a := int32(y*(n+1) + x)
			b := a + int32(n) + 1
			m.Tris = append(m.Tris, [3]int32{a, a + 1, b + 1}, [3]int32{a, b + 1, b})
		}
	}
	return m
}

// joined returns several meshes as one; a negative sign turns the winding.
func joined(ms ...*mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, m := range ms {
		base := int32(len(out.Verts))
		out.Verts = append(out.Verts, m.Verts...)
		for _, t := range m.Tris {
			out.Tris = append(out.Tris, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return out
}

func insideOut(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Verts: m.Verts}
	for _, t := range m.Tris {
		out.Tris = append(out.Tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

func leaned(m *mesh.Mesh, p geom.Pose) *mesh.Mesh {
	out := &mesh.Mesh{Tris: m.Tris}
	for _, v := range m.Verts {
		out.Verts = append(out.Verts, p.Point(v))
	}
	return out
}

// contactCase is a pair whose answer is known by construction.
type contactCase struct {
	name          string
	a, b          *mesh.Mesh
	openA, openB  bool
	overlap       bool
	gap           float64 // when no overlap
	depth, volume float64 // when overlap; a negative volume: not compared
}

func contactCases() []contactCase {
	o := geom.Vec{}
	cube := block(o, geom.Vec{10, 10, 10}, 1)
	fine := block(o, geom.Vec{10, 10, 10}, 4)
	at := func(m *mesh.Mesh, x, y, z float64) *mesh.Mesh { return leaned(m, geom.Shift(geom.Vec{x, y, z})) }
	wall := sheet(geom.Vec{-5, -5, 0}, geom.Vec{5, 5, 0}, 2)
	upright := leaned(wall, geom.Pose{R: geom.Turn(geom.Vec{math.Pi / 2, 0, 0})})
	hollow := joined(block(o, geom.Vec{30, 30, 30}, 2), insideOut(block(geom.Vec{10, 10, 10}, geom.Vec{20, 20, 20}, 2)))
	return []contactCase{
		{name: "faces touch", a: cube, b: at(cube, 10, 0, 0)},
		{name: "faces touch, shifted", a: cube, b: at(fine, 10, 3, 4)},
		{name: "edges touch", a: cube, b: at(cube, 10, 10, 0)},
		{name: "corners touch", a: cube, b: at(cube, 10, 10, 10)},
		{name: "corner on face", a: cube, b: leaned(rod(4, 10, 20, 7), geom.Identity())},
		{name: "coincide", a: cube, b: cube, overlap: true, volume: 1000},
		{name: "coincide, other triangles", a: cube, b: fine, overlap: true, volume: 1000},
		{name: "slid along", a: cube, b: at(cube, 4, 0, 0), overlap: true, depth: 4, volume: 600},
		{name: "slid along, finely", a: cube, b: at(fine, 4, 0, 0), overlap: true, depth: 4, volume: 600},
		{name: "slid by a hair", a: cube, b: at(fine, 10-1e-6, 0, 0), overlap: true, depth: 1e-6, volume: 1e-4},
		{name: "corner by a hair", a: cube, b: at(cube, 10-1e-3, 10-1e-3, 10-1e-3), overlap: true, depth: 1e-3, volume: 1e-9},
		{name: "smaller in the corner of the larger", a: cube, b: block(o, geom.Vec{5, 5, 5}, 2), overlap: true, depth: 5, volume: 125},
		{name: "short prism in a long one", a: rod(5, 0, 10, 3), b: rod(5, 0, 20, 3), overlap: true, depth: 2.5, volume: 10 * 0.75 * math.Sqrt(3) * 25},
		{name: "crossed bars", a: block(geom.Vec{-1, -1, -20}, geom.Vec{1, 1, 20}, 1), b: block(geom.Vec{-20, -1, -1}, geom.Vec{20, 1, 1}, 1), overlap: true, depth: 1, volume: 8},
		{name: "plug fills a hole", a: hollow, b: block(geom.Vec{10, 10, 10}, geom.Vec{20, 20, 20}, 3)},
		{name: "plug too long for its hole", a: hollow, b: block(geom.Vec{10, 10, 10}, geom.Vec{20, 20, 21}, 1), overlap: true, depth: 1, volume: 100},
		{name: "free in a hollow", a: hollow, b: block(geom.Vec{12, 12, 12}, geom.Vec{17, 17, 17}, 1), gap: 2},
		{name: "in the wall of a hollow", a: hollow, b: block(geom.Vec{1, 1, 1}, geom.Vec{9, 9, 9}, 1), overlap: true, depth: 20 - math.Sqrt(199), volume: 512}, // as far from the outer sides as from the edge of the hollow,
		{name: "around a hollow", a: hollow, b: block(geom.Vec{-5, -5, -5}, geom.Vec{35, 35, 35}, 1), overlap: true, depth: 15, volume: 26000},
		{name: "within", a: block(o, geom.Vec{50, 50, 50}, 3), b: at(cube, 20, 20, 20), overlap: true, depth: 20, volume: 1000},
		{name: "within, inside out", a: insideOut(block(o, geom.Vec{50, 50, 50}, 3)), b: at(insideOut(cube), 20, 20, 20), overlap: true, depth: 20, volume: 1000},
		{name: "cut, inside out", a: insideOut(cube), b: at(cube, 4, 5, 6), overlap: true, depth: 4, volume: 6 * 5 * 4},
		{name: "sheet in a solid", a: at(wall, 25, 25, 25), openA: true, b: block(o, geom.Vec{50, 50, 50}, 2), overlap: true, depth: 25, volume: -1},
		{name: "sheet through a solid", a: at(leaned(wall, geom.Pose{R: geom.Turn(geom.Vec{0.1, 0.2, 0})}), 0, 0, 0), openA: true, b: block(geom.Vec{-2, -2, -2}, geom.Vec{2, 2, 2}, 2), overlap: true, depth: 2, volume: -1},
		{name: "sheet on a solid", a: at(wall, 5, 5, 10), openA: true, b: fine},
		{name: "solid in an open box", a: at(cube, 0, 0, 0), b: block(geom.Vec{-5, -5, -5}, geom.Vec{15, 15, 15}, 1), openB: true, gap: 5},
		{name: "sheets cross", a: at(wall, 0.3, 0.4, 0.1), b: upright, openA: true, openB: true, overlap: true, volume: -1},
		{name: "sheets cross at their grid lines", a: wall, b: upright, openA: true, openB: true, overlap: true, volume: -1},
		{name: "sheet stands on a sheet", a: wall, b: at(upright, 0, 0, 5), openA: true, openB: true},
		{name: "sheets lie on each other", a: wall, b: at(wall, 1, 1, 0), openA: true, openB: true},
		{name: "two solids in one file", a: joined(cube, at(cube, 40, 0, 0)), b: at(cube, 44, 0, 0), overlap: true, depth: 4, volume: 600},
		{name: "0.1 mm parts", a: block(o, geom.Vec{0.1, 0.1, 0.1}, 1), b: block(geom.Vec{0.06, 0.06, 0.06}, geom.Vec{0.2, 0.2, 0.2}, 1), overlap: true, depth: 0.04, volume: 6.4e-5},
		{name: "0.1 mm parts touch", a: block(o, geom.Vec{0.1, 0.1, 0.1}, 1), b: block(geom.Vec{0.1, 0, 0}, geom.Vec{0.2, 0.1, 0.1}, 2)},
	}
}

// Truth: by construction, each case as it stands and after moving both bodies
// alike, near and 1e5 mm away, with the parts swapped.
func TestContact(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 0))
	for _, c := range contactCases() {
		t.Run(c.name, func(t *testing.T) {
			a := Body{Tree: bvh.Build(c.a), Pose: geom.Identity(), Closed: !c.openA}
			b := Body{Tree: bvh.Build(c.b), Pose: geom.Identity(), Closed: !c.openB}
			c.check(t, a, b, 1)
			c.check(t, b, a, 1)
			for _, spread := range []float64{100, 1e5} {
				for range trials(1, 3) {
					p := randomPose(rng, spread)
					a.Pose, b.Pose = p, p
					c.check(t, a, b, 1+spread/100)
				}
			}
			// The same with the pose in the mesh, so that its rounding differs.
			p := randomPose(rng, 100)
			a = Body{Tree: bvh.Build(leaned(c.a, p)), Pose: geom.Identity(), Closed: !c.openA}
			b = Body{Tree: bvh.Build(c.b), Pose: p, Closed: !c.openB}
			c.check(t, a, b, 2)
		})
	}
}

func (c contactCase) check(t *testing.T, a, b Body, room float64) {
	t.Helper()
	r, err := Between(context.Background(), a, b, Options{Overlap: true})
	if err != nil {
		t.Fatal(err)
	}
	if r.Overlap != c.overlap {
		t.Fatalf("overlap %v, want %v (%+v)", r.Overlap, c.overlap, r)
	}
	if !c.overlap {
		if math.Abs(r.GapMM-c.gap) > r.ErrorMM {
			t.Errorf("gap %g, want %g", r.GapMM, c.gap)
		}
		return
	}
	if r.DepthMM > c.depth+1e-11*room || r.DepthMM+r.DepthErrorMM < c.depth-1e-11*room {
		t.Errorf("depth %.12g + %g, want %.12g", r.DepthMM, r.DepthErrorMM, c.depth)
	}
	if apart := r.PointA.Sub(r.PointB).Len(); math.Abs(apart-r.DepthMM) > r.ErrorMM {
		t.Errorf("points %g apart, depth %g", apart, r.DepthMM)
	}
	checkOn(t, a, r.PointA, r.TriA, r.ErrorMM)
	checkOn(t, b, r.PointB, r.TriB, r.ErrorMM)
	near, err := Between(context.Background(), a, b, Options{EnoughMM: 0.01})
	if err != nil || !near.Overlap || near.AtLeast {
		t.Errorf("with enough: %+v %v", near, err)
	}
	checkOn(t, a, near.PointA, near.TriA, r.ErrorMM)
	checkOn(t, b, near.PointB, near.TriB, r.ErrorMM)
	switch {
	case c.volume < 0 && r.VolumeMM3 != nil:
		t.Errorf("volume %g for an open body", *r.VolumeMM3)
	case c.volume >= 0 && r.VolumeMM3 == nil:
		t.Error("no volume")
	case c.volume >= 0:
		// Rounding of the corners, some 1e-13 of a size, times the area.
		if tol := 1e-10 * room * (c.volume + math.Pow(c.volume, 2.0/3)); math.Abs(*r.VolumeMM3-c.volume) > tol && c.volume > 1e-3 {
			t.Errorf("volume %.12g, want %.12g", *r.VolumeMM3, c.volume)
		}
	}
	if r.MoveOutMM == nil {
		t.Fatal("no way out")
	}
	b.Pose.T = b.Pose.T.Add(*r.MoveOutMM)
	if after, err := Between(context.Background(), a, b, Options{}); err != nil || after.Overlap {
		t.Errorf("still overlaps after the way out %v: %+v %v", *r.MoveOutMM, after, err)
	}
}

// Truth: case VO-34 of testdata/reference/vehicle_open.json, two endless round
// tubes; prisms of 720 sides lie at most r·(1−cos(π/720)) inside them.
func TestCrossingTubes(t *testing.T) {
	var in struct {
		P1, D1, P2, D2 geom.Vec
		R1, R2         float64
	}
	var out struct{ Gap float64 }
	readCase(t, "VO-34", &in, &out)
	tube := func(p, d geom.Vec, r float64) Body {
		z := d.Normalize()
		x := z.Cross(geom.Vec{0.3, 0.5, 0.7}).Normalize()
		y := z.Cross(x)
		pose := geom.Pose{T: p}
		for k := range 3 {
			pose.R[k], pose.R[k+3], pose.R[k+6] = x[k], y[k], z[k]
		}
		return Body{Tree: bvh.Build(rod(r, -1000, 1000, 720)), Pose: pose, Closed: true}
	}
	a, b := tube(in.P1, in.D1, in.R1), tube(in.P2, in.D2, in.R2)
	r, err := Between(context.Background(), a, b, Options{})
	chord := (in.R1 + in.R2) * (1 - math.Cos(math.Pi/720))
	if err != nil || r.GapMM < out.Gap-1e-6 || r.GapMM > out.Gap+chord+1e-6 {
		t.Errorf("gap %.9f (%v), want %.9f to %.9f", r.GapMM, err, out.Gap, out.Gap+chord)
	}
}

func readCase(t *testing.T, id string, in, out any) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Cases []struct {
			ID               string
			Inputs, Expected json.RawMessage
		}
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	for _, c := range f.Cases {
		if c.ID == id {
			if err := json.Unmarshal(c.Inputs, in); err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(c.Expected, out); err != nil {
				t.Fatal(err)
			}
			return
		}
	}
	t.Fatalf("no case %s", id)
}

func TestRefusals(t *testing.T) {
	good := sheetOf(block(geom.Vec{}, geom.Vec{1, 1, 1}, 1))
	empty := sheetOf(&mesh.Mesh{})
	wild := good
	wild.Pose.T[1] = math.NaN()
	torn := block(geom.Vec{}, geom.Vec{1, 1, 1}, 1)
	torn.Verts[3][2] = math.NaN()
	endless := block(geom.Vec{}, geom.Vec{1, 1, 1}, 1)
	endless.Verts[3][2] = math.Inf(1)
	for _, bad := range []Body{empty, wild, sheetOf(torn), sheetOf(endless)} {
		if _, err := Between(context.Background(), good, bad, Options{}); err == nil {
			t.Error("accepted a bad second body")
		}
		if _, err := Between(context.Background(), bad, good, Options{}); err == nil {
			t.Error("accepted a bad first body")
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Between(ctx, good, good, Options{}); err == nil {
		t.Error("ran although cancelled")
	}
}

// Two blocks that touch at 1e5/3 mm, which float32 cannot hold: after rounding
// the gap or the depth is no more than what is stated of the input.
func TestInputError(t *testing.T) {
	round := func(m *mesh.Mesh) *mesh.Mesh {
		out := &mesh.Mesh{Tris: m.Tris}
		for _, v := range m.Verts {
			out.Verts = append(out.Verts, geom.Vec{float64(float32(v[0])), float64(float32(v[1])), float64(float32(v[2]))})
		}
		return out
	}
	x := 1e5 / 3
	turn := geom.Pose{R: geom.Turn(geom.Vec{0.1, 0.2, 0.3})}
	a := sheetOf(round(leaned(block(geom.Vec{x - 10, 0, 0}, geom.Vec{x, 10, 10}, 1), turn)))
	b := sheetOf(round(leaned(block(geom.Vec{x, 0, 0}, geom.Vec{x + 10, 10, 10}, 2), turn)))
	a.Closed, b.Closed = true, true
	r, err := Between(context.Background(), a, b, Options{Overlap: true})
	if err != nil || max(r.GapMM, r.DepthMM) > r.InputErrorMM || r.InputErrorMM > 0.01 || r.InputErrorMM < 1e-4 {
		t.Errorf("gap %g, depth %g, input error %g (%v)", r.GapMM, r.DepthMM, r.InputErrorMM, err)
	}
}
