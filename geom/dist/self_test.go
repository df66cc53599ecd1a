package dist

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// TestSelfCrossingsOfFiles: truth by testdata/meshes/massprops.json, where an
// exact tool was asked whether a mesh crosses itself.
func TestSelfCrossingsOfFiles(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(meshDir, "massprops.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []map[string]json.RawMessage
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	judged := 0
	for _, c := range file.Cases {
		var name string
		if err := json.Unmarshal(c["mesh"], &name); err != nil {
			t.Fatal(err)
		}
		var want *bool
		for key, value := range c {
			var truth struct {
				Crosses *bool `json:"self_intersects"`
			}
			if strings.Contains(string(value), "self_intersects") && json.Unmarshal(c[key], &truth) == nil {
				want = truth.Crosses
			}
		}
		if _, err := os.Stat(filepath.Join(meshDir, name)); err != nil || want == nil {
			continue
		}
		judged++
		count, first, err := SelfCrossings(context.Background(), bvh.Build(readMesh(t, filepath.Join(meshDir, name))))
		if err != nil || (count > 0) != *want || len(first) != min(count, MaxPlaces) {
			t.Errorf("%s: %d pairs cross (%d places, %v), want any: %v", name, count, len(first), err, *want)
		}
	}
	if judged < 20 {
		t.Errorf("only %d meshes judged", judged)
	}
}

// Of the demo bay's parts only four headers cross themselves, in bends tighter
// than their radius. Truth: plainCrossing over all pairs of each of the four.
func TestSelfCrossingsOfBayParts(t *testing.T) {
	want := map[string]int{"header_left_3.stl": 48, "header_left_4.stl": 86, "header_right_3.stl": 88, "header_right_4.stl": 100}
	files, err := filepath.Glob(filepath.Join(meshDir, "bay_20k", "*.stl"))
	if err != nil || len(files) != 87 {
		t.Fatalf("%d files (%v), want 87", len(files), err)
	}
	for _, f := range files {
		count, _, err := SelfCrossings(context.Background(), bvh.Build(readMesh(t, f)))
		if err != nil || count != want[filepath.Base(f)] {
			t.Errorf("%s: %d pairs cross (%v), want %d", f, count, err, want[filepath.Base(f)])
		}
	}
}

// gridSoup returns triangles with corners on a small grid, where ties abound;
// corners at one place are one corner.
func gridSoup(rng *rand.Rand, n, steps int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for z := range steps {
		for y := range steps {
			for x := range steps {
				m.Verts = append(m.Verts, geom.Vec{float64(x), float64(y), float64(z)})
			}
		}
	}
	for range n {
		m.Tris = append(m.Tris, [3]int32{int32(rng.IntN(len(m.Verts))), int32(rng.IntN(len(m.Verts))), int32(rng.IntN(len(m.Verts)))})
	}
	return m
}

// TestSelfCrossingsAgainstPlainLoop: all pairs in rational numbers, by another
// way (cutting one triangle with the other's plane, then with its three sides).
func TestSelfCrossingsAgainstPlainLoop(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 0))
	yes, flat := 0, 0
	for trial := range trials(24, 400) {
		m := gridSoup(rng, 16, 2+trial%3)
		if trial%4 == 3 { // all in one plane, and not along an axis
			for i, v := range m.Verts {
				m.Verts[i] = geom.Vec{v[0], v[1], v[0] - 2*v[1]}
			}
		}
		crosses := map[[2]int]bool{}
		for i := range m.Tris {
			for j := i + 1; j < len(m.Tris); j++ {
				if sharedCorners(&m.Tris[i], &m.Tris[j]).count == 3 {
					continue
				}
				if plainCrossing(m, i, j) {
					crosses[[2]int{i, j}] = true
					if trial%4 == 3 {
						flat++
					}
				}
			}
		}
		yes += len(crosses)
		count, first, err := SelfCrossings(context.Background(), bvh.Build(m))
		if err != nil || count != len(crosses) {
			t.Fatalf("trial %d: %d pairs cross (%v), plain loop %d", trial, count, err, len(crosses))
		}
		for i, p := range first {
			if !crosses[[2]int{p.TriA, p.TriB}] {
				t.Fatalf("trial %d: triangles %d and %d do not cross", trial, p.TriA, p.TriB)
			}
			if i > 0 && (p.TriA < first[i-1].TriA || p.TriA == first[i-1].TriA && p.TriB <= first[i-1].TriB) {
				t.Fatal("places out of order")
			}
			for _, tri := range []int{p.TriA, p.TriB} {
				x, y, z := m.Corners(tri)
				if d := bvh.OnTriangle(p.At, &bvh.Triangle{x, y, z}).Sub(p.At).Len(); d > 1e-12 {
					t.Fatalf("trial %d: place %v lies %g off triangle %d", trial, p, d, tri)
				}
			}
		}
	}
	if yes < 200 || flat < 20 {
		t.Errorf("only %d pairs crossed, %d of them in one plane", yes, flat)
	}
}

// With more places than are given, the first ones by triangle are.
func TestFirstSelfCrossings(t *testing.T) {
	m := tangle(rand.New(rand.NewPCG(52, 0)), 150, 10, 5)
	tree := bvh.Build(m)
	var want []Place
	for i := range m.Tris {
		for j := i + 1; j < len(m.Tris); j++ {
			a, b := cornersOf(tree, i), cornersOf(tree, j)
			if at, yes := insidesMeet(&a, &b, commonCorners{}); yes {
				want = append(want, Place{i, j, at})
			}
		}
	}
	count, first, err := SelfCrossings(context.Background(), tree)
	if err != nil || count != len(want) || count < 5*MaxPlaces || !slices.Equal(first, want[:MaxPlaces]) {
		t.Errorf("%d pairs, %d places (%v); plain loop %d pairs", count, len(first), err, len(want))
	}
}

// ratVec is a point in rational numbers.
type ratVec [3]*big.Rat

func ratOf(v geom.Vec) (r ratVec) {
	for k := range v {
		r[k] = new(big.Rat).SetFloat64(v[k])
	}
	return r
}

func (v ratVec) sub(o ratVec) (r ratVec) {
	for k := range v {
		r[k] = new(big.Rat).Sub(v[k], o[k])
	}
	return r
}

func (v ratVec) cross(o ratVec) (r ratVec) {
	for k := range v {
		l, m := (k+1)%3, (k+2)%3
		r[k] = new(big.Rat).Sub(new(big.Rat).Mul(v[l], o[m]), new(big.Rat).Mul(v[m], o[l]))
	}
	return r
}

func (v ratVec) dot(o ratVec) *big.Rat {
	sum := new(big.Rat)
	for k := range v {
		sum.Add(sum, new(big.Rat).Mul(v[k], o[k]))
	}
	return sum
}

// toward returns v + s·(o−v).
func (v ratVec) toward(o ratVec, s *big.Rat) (r ratVec) {
	d := o.sub(v)
	for k := range v {
		r[k] = new(big.Rat).Add(v[k], new(big.Rat).Mul(s, d[k]))
	}
	return r
}

// clip cuts the convex outline to the side of the plane where n·(x−at) >= 0.
func clip(outline []ratVec, at, n ratVec) (out []ratVec) {
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		sp, sq := p.sub(at).dot(n), q.sub(at).dot(n)
		if sp.Sign() >= 0 {
			out = append(out, p)
		}
		if sp.Sign()*sq.Sign() < 0 {
			out = append(out, p.toward(q, new(big.Rat).Quo(sp, new(big.Rat).Sub(sp, sq))))
		}
	}
	return out
}

// plainCrossing is insidesMeet in rational numbers: the part of triangle i on
// both sides of the plane of j and within j's sides, and the middle of that part.
func plainCrossing(m *mesh.Mesh, i, j int) bool {
	corners := func(tri int) []ratVec {
		x, y, z := m.Corners(tri)
		return []ratVec{ratOf(x), ratOf(y), ratOf(z)}
	}
	a, b := corners(i), corners(j)
	na, nb := a[1].sub(a[0]).cross(a[2].sub(a[0])), b[1].sub(b[0]).cross(b[2].sub(b[0]))
	if na.dot(na).Sign() == 0 || nb.dot(nb).Sign() == 0 {
		return false
	}
	coplanar := true
	for _, p := range a {
		coplanar = coplanar && p.sub(b[0]).dot(nb).Sign() == 0
	}
	if coplanar && na.dot(nb).Sign() < 0 {
		return false
	}
	part := a
	if !coplanar {
		minus := ratVec{new(big.Rat).Neg(nb[0]), new(big.Rat).Neg(nb[1]), new(big.Rat).Neg(nb[2])}
		part = clip(clip(a, b[0], nb), b[0], minus)
	}
	for k := range 3 {
		if len(part) > 0 {
			part = clip(part, b[k], nb.cross(b[(k+1)%3].sub(b[k])))
		}
	}
	if len(part) == 0 {
		return false
	}
	mid := ratOf(geom.Vec{}) // the mean lies inside both exactly if anything of the part does
	for _, p := range part {
		for k := range mid {
			mid[k].Add(mid[k], new(big.Rat).Quo(p[k], big.NewRat(int64(len(part)), 1)))
		}
	}
	inside := func(t []ratVec, n ratVec) bool {
		for k := range 3 {
			if n.cross(t[(k+1)%3].sub(t[k])).dot(mid.sub(t[k])).Sign() <= 0 {
				return false
			}
		}
		return true
	}
	return inside(a, na) && inside(b, nb)
}

// Solids that touch do not cross; solids set into each other do, flush ones too.
func TestSelfCrossingsByConstruction(t *testing.T) {
	cube := block(geom.Vec{0, 0, 0}, geom.Vec{10, 10, 10}, 2)
	at := func(x, y, z float64) *mesh.Mesh { return leaned(cube, geom.Shift(geom.Vec{x, y, z})) }
	for _, c := range []struct {
		name    string
		other   *mesh.Mesh
		crosses bool
	}{
		{"face to face", at(10, 0, 0), false},
		{"face to face, slid", at(10, 3, 4), false},
		{"edge to edge", at(10, 10, 0), false},
		{"edge on face", leaned(cube, geom.Pose{R: geom.Turn(geom.Vec{0, 0, math.Pi / 4}), T: geom.Vec{5, 10, 0}}), false},
		{"apart", at(11, 0, 0), false},
		{"within", block(geom.Vec{2, 2, 2}, geom.Vec{8, 8, 8}, 1), false},
		{"set in", at(7, 6, 3), true},
		{"set in, flush", at(7, 0, 0), true},
		{"by a hair", at(10-1e-12, 3, 4), true},
	} {
		count, _, err := SelfCrossings(context.Background(), bvh.Build(joined(cube, c.other)))
		if err != nil || (count > 0) != c.crosses {
			t.Errorf("%s: %d pairs cross (%v), want any: %v", c.name, count, err, c.crosses)
		}
	}
}

func TestSelfCrossingsRefusals(t *testing.T) {
	if _, _, err := SelfCrossings(context.Background(), bvh.Build(&mesh.Mesh{})); !errors.Is(err, ErrEmpty) {
		t.Errorf("empty mesh: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := SelfCrossings(ctx, bvh.Build(block(geom.Vec{}, geom.Vec{1, 1, 1}, 1))); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
