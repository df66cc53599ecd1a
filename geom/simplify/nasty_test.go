package simplify

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

// nasty returns meshes that no sound program would export.
func nasty(rng *rand.Rand) map[string]*mesh.Mesh {
	grid := &mesh.Mesh{} // corners shared at random: edges of many facets, flat and repeated ones
	for i := range 64 {
		grid.Verts = append(grid.Verts, geom.Vec{float64(i & 3), float64(i >> 2 & 3), float64(i >> 4)})
	}
	for range 150 {
		grid.Tris = append(grid.Tris, [3]int32{int32(rng.IntN(64)), int32(rng.IntN(64)), int32(rng.IntN(64))})
	}
	soup := &mesh.Mesh{} // nothing hangs together
	for i := range int32(60) {
		at := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(10)
		for range 3 {
			soup.Verts = append(soup.Verts, at.Add(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}))
		}
		soup.Tris = append(soup.Tris, [3]int32{3 * i, 3*i + 1, 3*i + 2})
	}
	book := &mesh.Mesh{} // five sheets on one spine
	for leaf := range 5 {
		s, c := math.Sincos(float64(leaf))
		page := plain.Sheet(8, 8, func(u, v float64) geom.Vec { return geom.Vec{10 * u * c, 10 * u * s, 10 * v} })
		at := make([]int32, len(page.Verts))
		for i, v := range page.Verts {
			at[i] = int32(len(book.Verts))
			if v[0] == 0 && v[1] == 0 && leaf > 0 {
				at[i] = int32(i)
				continue
			}
			book.Verts = append(book.Verts, v)
		}
		for _, tri := range page.Tris {
			book.Tris = append(book.Tris, [3]int32{at[tri[0]], at[tri[1]], at[tri[2]]})
		}
	}
	strip := plain.Sheet(40, 1, func(u, v float64) geom.Vec { // one-sided
		s, c := math.Sincos(2 * math.Pi * u)
		hs, hc := math.Sincos(math.Pi * u)
		r := 20 + 8*(v-0.5)*hc
		return geom.Vec{r * c, r * s, 8 * (v - 0.5) * hs}
	})
	noise := sphere(20, geom.Vec{})
	for i := range noise.Verts {
		noise.Verts[i] = noise.Verts[i].Mul(1 + 0.02*rng.NormFloat64())
	}
	return map[string]*mesh.Mesh{"grid": grid, "soup": soup, "book": book, "strip": strip, "noise": noise}
}

// Whatever is given, what comes back keeps the promise.
func TestNasty(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 0))
	for range 3 {
		for name, m := range nasty(rng) {
			for _, deviationMM := range []float64{0.02, 0.5, 4, 100} {
				coarse, r, err := To(context.Background(), m, deviationMM)
				if err != nil {
					t.Fatal(err)
				}
				if coarse != m {
					checkWithin(t, fmt.Sprintf("%s, %g mm, %+v", name, deviationMM, r), m, coarse, r, deviationMM)
				}
				if name == "book" && r.After > r.Before/4 {
					t.Errorf("book, %g mm: %+v", deviationMM, r)
				}
			}
		}
	}
}
