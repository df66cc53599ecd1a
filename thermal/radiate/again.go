package radiate

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/thermal/patch"
)

// What a ray met, where it was no patch.
const (
	metNothing = -1
	metBuried  = -2 // it started inside a solid
)

// before is what an earlier trace of nearly the same scene leaves to be used
// again: a ray whose end still stands, and whose way crosses no box of a part
// that moved, ends where it did.
type before struct {
	hits  [][]int32 // hits[patch now][ray], patches as numbered now; nil where moved
	boxes []geom.Box
}

// moved stands for what stood where it does no more.
const moved = -3

// beforeOf compares a set with that of an earlier trace; nil where nothing can
// be used again.
func beforeOf(set *patch.Set, prev *Factors, o Options, sizeMM float64) *before {
	if prev == nil || prev.hits == nil || prev.options != o.kept() || prev.sizeMM != sizeMM {
		return nil
	}
	old := prev.Set
	was, is := firstPatches(old), firstPatches(set)
	b := &before{hits: make([][]int32, len(set.Patches))}
	renumbered := make([]int32, len(old.Patches))
	for i := range renumbered {
		renumbered[i] = moved
	}
	parts, before := len(set.EdgesMM), len(old.EdgesMM)
	var same []int
	for p := range max(parts, before) {
		if p < parts && p < before && samePart(old, set, p, was, is) {
			same = append(same, p)
			for k := range is[p+1] - is[p] {
				renumbered[was[p]+k] = int32(is[p] + k)
			}
			continue
		}
		if p < before {
			b.addBox(old, p)
		}
		if p < parts {
			b.addBox(set, p)
		}
	}
	for _, p := range same {
		for k := range is[p+1] - is[p] {
			b.hits[is[p]+k] = renumber(prev.hits[was[p]+k], renumbered)
		}
	}
	return b
}

// renumber returns hits with the patches' present numbers.
func renumber(hits, renumbered []int32) []int32 {
	out := make([]int32, len(hits))
	for i, to := range hits {
		if to >= 0 {
			to = renumbered[to]
		}
		out[i] = to
	}
	return out
}

// firstPatches returns the number of each part's first patch, and one more than
// the last. A part's patches follow one another.
func firstPatches(set *patch.Set) []int {
	out := make([]int, len(set.EdgesMM)+1)
	for i := range set.Patches {
		out[set.Patches[i].Part+1]++
	}
	for p := range set.EdgesMM {
		out[p+1] += out[p]
	}
	return out
}

// kept is what two traces must have in common besides the scene.
func (o Options) kept() Options { return Options{Rays: o.Rays, Seed: o.Seed, Quick: o.Quick} }

// samePart reports whether a part stands where it stood, cut as it was; was and
// is are the firstPatches of both.
func samePart(old, now *patch.Set, part int, was, is []int) bool {
	from, to := old.FirstOf[part], old.FirstOf[part+1]
	start, end := now.FirstOf[part], now.FirstOf[part+1]
	if end-start != to-from || is[part+1]-is[part] != was[part+1]-was[part] {
		return false
	}
	shift := int32(is[part] - was[part])
	for k := range end - start {
		if old.OuterOf[from+k]+shift != now.OuterOf[start+k] {
			return false
		}
		if inner := old.InnerOf[from+k]; inner >= 0 && inner+shift != now.InnerOf[start+k] || inner < 0 && now.InnerOf[start+k] >= 0 {
			return false
		}
		a, b := old.Mesh.Tris[from+k], now.Mesh.Tris[start+k]
		for c := range 3 {
			if old.Mesh.Verts[a[c]] != now.Mesh.Verts[b[c]] {
				return false
			}
		}
	}
	return true
}

// addBox adds the box of a part, where it has a surface.
func (b *before) addBox(set *patch.Set, part int) {
	box := geom.EmptyBox()
	for _, t := range set.Mesh.Tris[set.FirstOf[part]:set.FirstOf[part+1]] {
		for _, v := range t {
			box = box.Grow(set.Mesh.Verts[v])
		}
	}
	if !box.IsEmpty() {
		b.boxes = append(b.boxes, box)
	}
}

// hitsOf returns what the rays of a patch met, where the patch itself has not
// moved and no part that moved holds or held any of it; nil otherwise.
func (b *before) hitsOf(set *patch.Set, i int, rays int, offMM float64) []int32 {
	if b == nil || len(b.hits[i]) != rays {
		return nil
	}
	box := geom.EmptyBox()
	for _, t := range set.Patches[i].Tris {
		for _, v := range set.Mesh.Tris[t] {
			box = box.Grow(set.Mesh.Verts[v])
		}
	}
	for k := range b.boxes {
		if box.GapMM(b.boxes[k]) <= 2*offMM {
			return nil
		}
	}
	return b.hits[i]
}

// stands reports whether a ray that met something before meets it again.
func (b *before) stands(met int32, origin, dir geom.Vec) bool {
	if met == moved {
		return false
	}
	for k := range b.boxes {
		if crosses(&b.boxes[k], origin, dir) {
			return false
		}
	}
	return true
}

// boxSlack widens the box test over rounding, as a ratio.
const boxSlack = 1e-9

// crosses reports whether a ray may meet a box: never a false no.
func crosses(box *geom.Box, origin, dir geom.Vec) bool {
	in, out := 0.0, math.Inf(1)
	for k := range 3 {
		if dir[k] == 0 {
			if origin[k] < box.Min[k] || origin[k] > box.Max[k] {
				return false
			}
			continue
		}
		a, b := (box.Min[k]-origin[k])/dir[k], (box.Max[k]-origin[k])/dir[k]
		in, out = max(in, min(a, b)), min(out, max(a, b))
	}
	return in <= out+boxSlack*(1+math.Abs(in))
}

// steady rounds a size up to a power of two, so that a part that moves a little
// does not change how every ray starts.
func steady(sizeMM float64) float64 {
	if !(sizeMM > 0) {
		return 0
	}
	_, exp := math.Frexp(sizeMM)
	return math.Ldexp(1, exp)
}

// remember keeps what the rays of all patches met.
func remember(tallies []tally) [][]int32 {
	out := make([][]int32, len(tallies))
	for i := range tallies {
		out[i] = slices.Clip(tallies[i].hits)
	}
	return out
}
