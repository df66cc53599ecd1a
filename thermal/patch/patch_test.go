package patch

import (
	"math"
	"reflect"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// box returns a closed box of 12 triangles with outward winding.
func box(size geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		m.Verts = append(m.Verts, geom.Vec{float64(i&1) * size[0], float64(i>>1&1) * size[1], float64(i>>2&1) * size[2]})
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Tris = append(m.Tris, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

func TestAreaIsPreservedAndEveryTriangleHasAPatch(t *testing.T) {
	bodies := []Body{
		{Name: "box", Mesh: box(geom.Vec{300, 200, 100}), Pose: geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.5, -1}), T: geom.Vec{100, -40, 70}}, Closed: true},
		{Name: "absent"},
		{Name: "sheet", Mesh: &mesh.Mesh{Verts: []geom.Vec{{}, {500, 0, 0}, {500, 400, 0}, {0, 400, 0}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}, Pose: geom.Identity()},
	}
	s, err := Build(bodies, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got [3][2]float64
	for _, p := range s.Patches {
		side := 0
		if p.Inner {
			side = 1
		}
		got[p.Part][side] += p.AreaM2
		if p.Block < 0 || p.Block >= s.Blocks {
			t.Errorf("block %d of %d", p.Block, s.Blocks)
		}
	}
	want := [3][2]float64{{0.22, 0}, {0, 0}, {0.2, 0.2}} // 2·(0.06+0.03+0.02); 0.5·0.4
	for i := range want {
		for side := range 2 {
			if math.Abs(got[i][side]-want[i][side]) > 1e-12 {
				t.Errorf("part %d side %d: %g m², want %g", i, side, got[i][side], want[i][side])
			}
		}
	}
	for tri := range s.Mesh.Tris {
		if s.OuterOf[tri] < 0 || (s.InnerOf[tri] >= 0) != (s.PartOf[tri] == 2) {
			t.Fatalf("triangle %d: patches %d and %d", tri, s.OuterOf[tri], s.InnerOf[tri])
		}
	}
}

// A box has flat sides, so no patch of it may fold: its mean normal has length 1.
func TestPatchesOfABoxAreFlatAndSmall(t *testing.T) {
	s, err := Build([]Body{{Mesh: box(geom.Vec{300, 200, 100}), Pose: geom.Identity(), Closed: true}}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(s.Patches); n < 120 || n > 145 { // 220000 mm² / 1600 mm² = 137.5
		t.Errorf("%d patches", n)
	}
	for _, p := range s.Patches {
		if math.Abs(p.Normal.Len()-1) > 1e-9 {
			t.Errorf("a patch folds: mean normal %g", p.Normal.Len())
		}
		b := geom.EmptyBox()
		for _, tri := range p.Tris {
			x, y, z := s.Mesh.Corners(int(tri))
			b = b.Grow(x).Grow(y).Grow(z)
		}
		if b.DiagonalMM() > 3*40 {
			t.Errorf("a patch is %g mm wide", b.DiagonalMM())
		}
	}
}

func TestBudgetIsKept(t *testing.T) {
	var bodies []Body
	for i := range 30 {
		bodies = append(bodies, Body{Mesh: box(geom.Vec{100 * float64(i+1), 300, 200}), Pose: geom.Identity(), Closed: i%2 == 0})
	}
	s, err := Build(bodies, Options{MostPatches: 1000, MostBlocks: 200})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Patches) > 1000 || len(s.Patches) < 900 || s.Blocks > 260 {
		t.Errorf("%d patches, %d blocks", len(s.Patches), s.Blocks)
	}
}

func TestBadInput(t *testing.T) {
	if _, err := Build(nil, Options{EdgeMM: -1}); err == nil {
		t.Error("a negative edge passed")
	}
	bad := &mesh.Mesh{Verts: []geom.Vec{{math.NaN(), 0, 0}}, Tris: [][3]int32{{0, 0, 0}}}
	if _, err := Build([]Body{{Mesh: bad, Pose: geom.Identity()}}, Options{}); err == nil {
		t.Error("a corner that is not a number passed")
	}
	point := &mesh.Mesh{Verts: []geom.Vec{{}}, Tris: [][3]int32{{0, 0, 0}}}
	if s, err := Build([]Body{{Mesh: point, Pose: geom.Identity()}}, Options{}); err != nil || len(s.Patches) != 2 {
		t.Errorf("a single sliver: %v", err)
	}
}

// Parts are cut side by side, and the set is the same for any number of workers.
func TestSetIsTheSameForAnyWorkers(t *testing.T) {
	var bodies []Body
	for i := range 9 {
		bodies = append(bodies, Body{
			Name: "box", Mesh: box(geom.Vec{300, float64(40 + 30*i), 100}), Closed: i%3 != 0, Source: i%4 == 0,
			Pose: geom.Pose{R: geom.Turn(geom.Vec{0.3, 0.5, float64(i)}), T: geom.Vec{float64(130 * i), -40, 70}},
		})
	}
	bodies[5].Mesh = nil
	var first *Set
	for _, workers := range []int{1, 2, 7} {
		s, err := Build(bodies, Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = s
		}
		s.Solids, first.Solids = nil, nil // trees are not compared
		if !reflect.DeepEqual(s, first) {
			t.Errorf("%d workers cut otherwise than 1", workers)
		}
	}
	if even, err := Build(bodies, Options{Even: true}); err != nil || len(even.Patches) >= len(first.Patches) {
		t.Errorf("cut evenly: %d patches, near sources %d: %v", len(even.Patches), len(first.Patches), err)
	}
}
