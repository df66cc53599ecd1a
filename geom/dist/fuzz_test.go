package dist

import (
	"context"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// FuzzBetween: two sheets of a few triangles on a grid, where ties, common edges,
// coplanar and degenerate triangles are the rule, against the plain loop with a
// distance of its own. The first two bytes say how many triangles, nine bytes
// are a triangle.
func FuzzBetween(f *testing.F) {
	f.Add([]byte{0, 0}, 0.0, 0.0)
	f.Add([]byte("00000!(!"), 0.0, 94.5) // once stood out of its oriented box by the last bit
	f.Add([]byte{1, 1, 0, 0, 0, 40, 0, 0, 0, 40, 0, 0, 0, 0, 40, 0, 0, 0, 40, 0}, 0.0, 12.5)
	f.Add([]byte{1, 1, 0, 0, 0, 40, 0, 0, 0, 40, 0, 10, 10, 250, 10, 10, 8, 20, 20, 1}, 0.3, 0.0)
	f.Add([]byte{2, 1, 1, 2, 3, 1, 2, 3, 1, 2, 3, 0, 0, 0, 9, 9, 9, 18, 18, 18, 200, 0, 7, 200, 8, 7, 100, 4, 7}, 1.0, 1e-9)
	f.Add([]byte{3, 2, 9, 8, 7, 60, 50, 40, 3, 2, 1, 77, 88, 99, 11, 22, 33, 200, 100, 50, 5, 5, 5, 6, 6, 6, 7, 7, 8}, -2.0, 30.0)
	f.Fuzz(func(t *testing.T, data []byte, turnRad, shiftMM float64) {
		if len(data) < 2 || math.IsNaN(turnRad) || math.Abs(turnRad) > 10 || math.IsNaN(shiftMM) || math.Abs(shiftMM) > 100 {
			return
		}
		counts, data := [2]int{int(data[0]%4) + 1, int(data[1]%4) + 1}, data[2:]
		one, data := gridSheet(data, counts[0])
		two, _ := gridSheet(data, counts[1])
		a, b := sheetOf(one), sheetOf(two)
		b.Pose = geom.Pose{R: geom.Turn(geom.Vec{turnRad, turnRad / 2, 0}), T: geom.Vec{0, 0, shiftMM}}
		for _, x := range []Body{a, b} {
			if err := bvh.Check(x.Tree); err != nil {
				t.Fatal(err)
			}
		}
		r, err := Between(context.Background(), a, b, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if want := nearestBrute(a, b); math.Abs(r.GapMM-want) > 1e-6 { // what golden sections reach
			t.Errorf("gap %.12g, plain loop %.12g", r.GapMM, want)
		}
		checkResult(t, a, b, r)
		checkSymmetry(t, a, b, r)
		checkEnough(t, a, b, r)
	})
}

// gridSheet takes up to n triangles of nine bytes each, quarter millimetres, and
// returns what is left of the data. Bytes that are missing count as 0.
func gridSheet(data []byte, n int) (*mesh.Mesh, []byte) {
	m := &mesh.Mesh{}
	for i := range n {
		for range 3 {
			var p geom.Vec
			for k := range p {
				if len(data) > 0 {
					p[k], data = float64(int8(data[0]))/4, data[1:]
				}
			}
			m.Verts = append(m.Verts, p)
		}
		v := int32(3 * i)
		m.Tris = append(m.Tris, [3]int32{v, v + 1, v + 2})
	}
	return m, data
}
