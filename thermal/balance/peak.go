package balance

import (
	"cmp"
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/thermal"
	"aftbay/thermal/radiate"
)

// The hottest place of a part is looked for on its hottest patches: a patch
// tells the mean over itself, by the rays it has. Common practice, no source.
const (
	peakPatches  = 2 // of a case
	peakPlaces   = 4 // of a patch: its largest triangles
	peakHalvings = 3 // of the edges of the triangle with the best place
	peakRays     = 256
	peakSureRays = 2048 // of the place that is taken
)

// place is a place on a part where its peak may be.
type place struct {
	patch   int
	corners [3]geom.Vec // about it
	element radiate.Element
	row     []float64 // Bare numbers: what it receives per emitter, shares; nil inside a solid
}

// found is what the cases of one part share.
type found struct {
	on   map[int][]place    // on[patch]
	from map[geom.Vec]place // where the search from a place ends
}

// sharpen replaces the peaks of irradiation and skin, means over a patch, by
// those of places on the hottest patches.
func (st *study) sharpen(ctx context.Context, r *Result) error {
	look := st.received.Elements(st.tree, st.seed)
	return geom.Each(ctx, st.options.Workers, len(st.parts), nil, func(i int) error {
		if st.parts[i].body.Mesh == nil || st.parts[i].held {
			return nil
		}
		found := found{on: map[int][]place{}, from: map[geom.Vec]place{}}
		for k := range r.Cases {
			c := &r.Cases[k]
			for at := range c.Parts { // looks at no part whole: others write their own beside
				if c.Parts[at].Part == i {
					st.sharpenPart(&c.Parts[at], c.solved, look, &found)
				}
			}
		}
		return nil
	})
}

// sharpenPart sets the peaks of a part in one case. Bare numbers: rows are shares.
func (st *study) sharpenPart(ph *PartHeat, sol *solution, look *radiate.Elements, known *found) {
	now := sol.start()
	if ph.PeakTimeS != nil {
		now = sol.at(0, *ph.PeakTimeS)
	}
	emittedWM2 := st.emitted(sol.columns, now)
	onWM2 := func(row []float64) (sumWM2 float64) {
		for c, share := range row {
			sumWM2 += share * emittedWM2[c]
		}
		return sumWM2
	}
	patches := slices.Clone(st.sums.patches[ph.Part])
	slices.SortStableFunc(patches, func(a, b int) int {
		return cmp.Compare(onWM2(st.received.Row(b)), onWM2(st.received.Row(a)))
	})
	var best place
	for _, p := range patches[:min(peakPatches, len(patches))] {
		if known.on[p] == nil {
			known.on[p] = st.placesOn(p, look)
		}
		for k := range known.on[p] {
			if one := &known.on[p][k]; one.row != nil && (best.row == nil || onWM2(one.row) > onWM2(best.row)) {
				best = *one
			}
		}
	}
	if best.row == nil {
		return
	}
	start := best.element.PointMM
	if last, ok := known.from[start]; ok { // the cases hardly differ in where it leads
		best = last
	} else {
		best = st.climb(best, look, onWM2)
		known.from[start] = best
	}
	peakWM2 := onWM2(best.row)
	ph.Irradiation.PeakWM2, ph.Irradiation.PeakAtMM = peakWM2, best.element.PointMM
	skinK := st.skinsOf(sol, ph.Part, now)
	ph.Skin = &Skin{PeakDegC: thermal.Celsius(skinK(best.patch, peakWM2)), PeakAtMM: best.element.PointMM}
}

// climb goes from a place to the hottest one about it, which it looks from by
// more rays. Bare numbers: shares.
func (st *study) climb(best place, look *radiate.Elements, onWM2 func(row []float64) float64) place {
	for range peakHalvings {
		quarters := best.quarters(look)
		for k := range quarters {
			if one := &quarters[k]; one.row != nil && onWM2(one.row) > onWM2(best.row) {
				best = *one
			}
		}
	}
	sure := best.element
	sure.ID += uint64(len(st.parts)) // other rays: those that found the place flatter it
	if row, ok := look.Look(sure, peakSureRays); ok {
		best.row = row
	}
	return best
}

// placesOn returns the places of a patch with what they receive.
func (st *study) placesOn(p int, look *radiate.Elements) []place {
	pp := &st.set.Patches[p]
	tris := slices.Clone(pp.Tris)
	slices.SortStableFunc(tris, func(a, b int32) int { return cmp.Compare(st.set.TriM2[b], st.set.TriM2[a]) })
	var out []place
	for _, t := range tris[:min(peakPlaces, len(tris))] {
		a, b, c := st.set.Mesh.Corners(int(t))
		normal := b.Sub(a).Cross(c.Sub(a))
		if normal.Len() == 0 {
			continue
		}
		if normal = normal.Normalize(); pp.Inner {
			normal = normal.Mul(-1)
		}
		out = append(out, placeIn([3]geom.Vec{a, b, c}, place{patch: p, element: radiate.Element{Normal: normal, ID: uint64(pp.Part)}}, look))
	}
	return out
}

// placeIn returns the middle of a triangle with what it receives.
func placeIn(corners [3]geom.Vec, like place, look *radiate.Elements) place {
	like.corners = corners
	like.element.PointMM = corners[0].Add(corners[1]).Add(corners[2]).Mul(1.0 / 3)
	like.row, _ = look.Look(like.element, peakRays)
	return like
}

// quarters returns the middles of the outer quarters of the triangle about a
// place; its own is that of the inner one. By the same rays, so that places are
// told apart and not their rays; the triangle about the place shrinks.
func (p *place) quarters(look *radiate.Elements) []place {
	a, b, c := p.corners[0], p.corners[1], p.corners[2]
	ab, bc, ca := a.Add(b).Mul(0.5), b.Add(c).Mul(0.5), c.Add(a).Mul(0.5)
	p.corners = [3]geom.Vec{ab, bc, ca}
	var out []place
	for _, corners := range [][3]geom.Vec{{a, ab, ca}, {ab, b, bc}, {ca, bc, c}} {
		out = append(out, placeIn(corners, *p, look))
	}
	return out
}
