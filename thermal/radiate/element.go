package radiate

import (
	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Element is a small piece of a surface, to be looked from by itself.
type Element struct {
	PointMM geom.Vec
	Normal  geom.Vec // unit, on the side that looks
	ID      uint64   // of its random numbers, apart from those of patches
}

// elementStream keeps the random numbers of elements apart from those of the
// patches and their second rays.
const elementStream = 1 << 33

// Elements looks from small elements; it may be used from several goroutines.
type Elements struct {
	r            *Received
	tree         *bvh.RayTree
	sobol        *directions
	circle       *circle
	farMM, offMM float64
	seed         uint64
}

// Elements returns what looks from elements of the scene. The tree is over its
// merged mesh.
func (r *Received) Elements(tree *bvh.RayTree, seed uint64) *Elements {
	sizeMM := r.box.DiagonalMM()
	return &Elements{r: r, tree: tree, sobol: newDirections(), circle: newCircle(), farMM: 2 * sizeMM, offMM: sizeMM * liftShare, seed: seed}
}

// Look returns what an element receives per emitter, reflections included:
// what leaves the patches that its rays meet. A patch tells the mean over its
// area, an element the place itself. ok is false where it lies inside a solid.
// Bare numbers: shares. Cost: one ray into the tree per ray.
func (l *Elements) Look(e Element, rays int) (row []float64, ok bool) {
	row = make([]float64, l.r.Columns)
	about, pts := newAround(e.Normal), newStream(l.sobol, l.seed, e.ID+elementStream)
	origin := e.PointMM.Add(e.Normal.Mul(l.offMM))
	met := map[int32]float64{}
	var order []int32
	away := 0.0
	const most = 128
	var shot [most]bvh.Ray
	var hits [most]bvh.Hit
	var p point
	for done := 0; done < rays; done += most {
		n := min(most, rays-done)
		for k := range shot[:n] {
			pts.next(&p)
			shot[k] = bvh.Ray{Origin: origin, Dir: about.cosineDir(l.circle, unit(p[0]), unit(p[1])), FarMM: l.farMM}
		}
		l.tree.CastAll(shot[:n], hits[:n])
		for _, hit := range hits[:n] {
			if hit.Tri < 0 {
				away++
				continue
			}
			q := l.r.set.OuterOf[hit.Tri]
			if hit.Back {
				q = l.r.set.InnerOf[hit.Tri]
			}
			if q < 0 {
				return nil, false
			}
			if met[q] == 0 {
				order = append(order, q)
			}
			met[q]++
		}
	}
	for _, q := range order {
		l.r.AddLeaving(row, int(q), met[q]/float64(rays))
	}
	row[l.r.Columns-1] += away / float64(rays)
	return row, true
}
