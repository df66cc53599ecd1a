package dist

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// cells is a set of unit cubes; the shapes made of them coincide in every way
// shapes can: in faces, edges, corners, with hollows and edges of four faces.
type cells map[[3]int]bool

func randomCells(rng *rand.Rand, n, size int) cells {
	c := cells{}
	for range n {
		c[[3]int{rng.IntN(size), rng.IntN(size), rng.IntN(size)}] = true
	}
	return c
}

// surface returns the faces between cells and no cells, outward.
func (c cells) surface() *mesh.Mesh {
	m := &mesh.Mesh{}
	at := map[[3]int]int32{}
	corner := func(p [3]int) int32 {
		if _, ok := at[p]; !ok {
			at[p] = int32(len(m.Verts))
			m.Verts = append(m.Verts, geom.Vec{float64(p[0]), float64(p[1]), float64(p[2])})
		}
		return at[p]
	}
	for x := range 4 {
		for y := range 4 {
			for z := range 4 {
				if p := [3]int{x, y, z}; c[p] {
					c.addFaces(m, p, corner)
				}
			}
		}
	}
	return m
}

func (c cells) addFaces(m *mesh.Mesh, p [3]int, corner func(p [3]int) int32) {
	for k := range 3 {
		l, o := (k+1)%3, (k+2)%3
		for side := range 2 {
			next := p
			next[k] += 2*side - 1
			if c[next] {
				continue
			}
			var v [4]int32
			for q, d := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				i := p
				i[k] += side
				i[l] += d[0]
				i[o] += d[1]
				v[q] = corner(i)
			}
			if side == 0 {
				v[1], v[3] = v[3], v[1]
			}
			m.Tris = append(m.Tris, [3]int32{v[0], v[1], v[2]}, [3]int32{v[0], v[2], v[3]})
		}
	}
}

// against returns the common volume and the gap of two sets.
func (c cells) against(o cells) (volumeMM3, gapMM float64) {
	best := math.Inf(1)
	for p := range c {
		if o[p] {
			volumeMM3++
		}
		for q := range o {
			var sum float64
			for k := range p {
				d := math.Abs(float64(p[k]-q[k])) - 1
				sum += math.Pow(max(0, d), 2)
			}
			best = min(best, math.Sqrt(sum))
		}
	}
	return volumeMM3, best
}

// Truth: counting cells.
func TestCells(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 0))
	for i := range trials(120, 2000) {
		size := 2 + i%3
		ca, cb := randomCells(rng, 1+rng.IntN(12), size), randomCells(rng, 1+rng.IntN(12), size)
		checkCells(t, rng, ca, cb)
	}
}

func FuzzCells(f *testing.F) {
	f.Add(uint64(1), uint64(2))
	f.Add(uint64(0xffff_ffff), uint64(0xffff_0000_ffff))
	f.Fuzz(func(t *testing.T, a, b uint64) {
		if a == 0 || b == 0 {
			return
		}
		checkCells(t, rand.New(rand.NewPCG(a, b)), cellsOf(a), cellsOf(b))
	})
}

// cellsOf reads 64 bits as the cells of a cube of four.
func cellsOf(bits uint64) cells {
	c := cells{}
	for i := range 64 {
		if bits>>i&1 == 1 {
			c[[3]int{i & 3, i >> 2 & 3, i >> 4}] = true
		}
	}
	return c
}

func checkCells(t *testing.T, rng *rand.Rand, ca, cb cells) {
	t.Helper()
	volumeMM3, gapMM := ca.against(cb)
	ma, mb := ca.surface(), cb.surface()
	p := randomPose(rng, 50)
	for _, c := range []struct{ a, b Body }{
		{
			Body{Tree: bvh.Build(ma), Pose: geom.Identity(), Closed: true},
			Body{Tree: bvh.Build(mb), Pose: geom.Identity(), Closed: true},
		},
		{
			Body{Tree: bvh.Build(leaned(ma, p)), Pose: geom.Identity(), Closed: true},
			Body{Tree: bvh.Build(mb), Pose: p, Closed: true},
		},
	} {
		r, err := Between(context.Background(), c.a, c.b, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if r.Overlap != (volumeMM3 > 0) || !r.Overlap && math.Abs(r.GapMM-gapMM) > r.ErrorMM {
			t.Fatalf("%v and %v: %+v, want volume %g, gap %g", ca, cb, r, volumeMM3, gapMM)
		}
		if !r.Overlap {
			continue
		}
		s := &search{a: c.a.Tree, b: c.b.Tree, toA: bvh.Between(c.a.Tree, c.b.Tree, c.a.Pose, c.b.Pose), reachMM: math.Inf(1)}
		s.run()
		s.slackMM = r.ErrorMM
		contact := s.meet(watch{})
		ka, kb := s.skins(contact, c.a, c.b)
		if v := contact.share(&ka, &kb); !v.ok || math.Abs(v.volumeMM3-volumeMM3) > 1e-10*(1+volumeMM3) {
			t.Fatalf("%v and %v: shared volume %+v, want %g", ca, cb, v, volumeMM3)
		}
	}
}
