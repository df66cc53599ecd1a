package radiate

import (
	"math"

	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

const (
	// exactShare is the view factor, as two small patches at their middles would
	// have it, from which the contour form pays: smaller ones are known well
	// enough by rays, and there are many. What the rays found is not asked:
	// picking pairs by it would pick those that the rays overrate.
	exactShare = 0.02
	// mostExact bounds how many pairs are worked out: some 20 µs each.
	mostExact = 3000
	// mostLooks and pairLooks bound how many triangles near such pairs, and near
	// one pair, are looked at closely: some 5 µs each. Where a bay is crowded
	// rays do as well.
	mostLooks = 5000
	pairLooks = 40
	// failedLooks is what a pair with something between it counts: about the usual
	// number, not the true one, which depends on the order within the tree.
	failedLooks = 8
	// exactWeight is how little an exact factor is moved by closing, beside one
	// that is known by rays.
	exactWeight = 1e-4
)

// takeExact puts the contour form in the place of rays for pairs of flat
// patches that see each other whole. It notes them in f.exact and counts them.
func (f *Factors) takeExact(tree *bvh.RayTree) {
	flats := make([]*flat, len(f.Away))
	asked := make([]bool, len(f.Away))
	of := func(p int) *flat {
		if !asked[p] {
			asked[p] = true
			if f.BuriedShare[p] == 0 {
				flats[p] = flatOf(f.Set, &f.Set.Patches[p])
			}
		}
		return flats[p]
	}
	looks := mostLooks
	f.exact = make([]bool, len(f.Value))
	for p := range f.Away {
		for k := f.Start[p]; k < f.Start[p+1] && f.Exact < mostExact; k++ {
			q := int(f.To[k])
			if q <= p || nearShare(&f.Set.Patches[p], &f.Set.Patches[q]) < exactShare {
				continue
			}
			a, b := of(p), of(q)
			if a == nil || b == nil || !a.faces(b) || !b.faces(a) {
				continue
			}
			left := min(looks, pairLooks)
			if !clearBetween(f.Set, tree, a, b, &left) {
				looks = max(0, looks-failedLooks)
				continue
			}
			looks -= min(looks, pairLooks) - left
			back := f.entry(q, p)
			if back < 0 {
				continue
			}
			m2 := exchangeM2(a, b)
			f.Value[k], f.Value[back] = m2/f.Set.Patches[p].AreaM2, m2/f.Set.Patches[q].AreaM2
			f.exact[k], f.exact[back] = true, true
			f.Exact++
		}
	}
}

// nearShare returns the view factor of two patches taken as small at their
// middles, from the smaller one.
func nearShare(p, q *patch.Patch) float64 {
	x, y, z := q.CenterMM[0]-p.CenterMM[0], q.CenterMM[1]-p.CenterMM[1], q.CenterMM[2]-p.CenterMM[2]
	mm2 := x*x + y*y + z*z
	if mm2 == 0 {
		return 0
	}
	along, against := x*p.Normal[0]+y*p.Normal[1]+z*p.Normal[2], x*q.Normal[0]+y*q.Normal[1]+z*q.Normal[2]
	facing := -along * against / mm2
	return facing * max(p.AreaM2, q.AreaM2) / mm2ToM2 / (math.Pi * mm2)
}

// entry returns where row p holds patch q, −1 where it does not.
func (f *Factors) entry(p, q int) int {
	low, high := f.Start[p], f.Start[p+1]
	for low < high {
		if mid := (low + high) / 2; int(f.To[mid]) < q {
			low = mid + 1
		} else {
			high = mid
		}
	}
	if low < f.Start[p+1] && int(f.To[low]) == q {
		return low
	}
	return -1
}

// giveWeight returns how far closing moves entry k: in full where rays know it.
func (f *Factors) giveWeight(k int) float64 {
	if f.exact != nil && f.exact[k] {
		return exactWeight
	}
	return 1
}
