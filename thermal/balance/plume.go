package balance

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/thermal"
	"aftbay/thermal/patch"
)

// Of a plume that does not say so. Common practice, no source.
const (
	usualPlumeMM   = 300
	usualPlumeDegC = 200
)

// plume is the zone above hot parts.
type plume struct {
	st       *study
	hot      []bool // hot[part]
	heightMM float64
}

// plumeOf returns the zone of a case, nil without one.
func (st *study) plumeOf(hc *layout.HeatCase) *plume {
	if hc.Plume == nil || hc.Plume.RiseK == 0 {
		return nil
	}
	p := &plume{st: st, hot: make([]bool, len(st.parts)), heightMM: usualPlumeMM}
	if hc.Plume.HeightMM != nil {
		p.heightMM = *hc.Plume.HeightMM
	}
	fromDegC := float64(usualPlumeDegC)
	if hc.Plume.FromDegC != nil {
		fromDegC = *hc.Plume.FromDegC
	}
	any := false
	for i := range st.parts {
		part := &st.parts[i]
		p.hot[i] = part.held && math.Max(part.heldK, part.hottestK) >= thermal.Kelvin(fromDegC)
		any = any || p.hot[i]
	}
	if !any {
		st.assumed.add(say.F("heat case %q: no plume, no part is held at %g °C or more", hc.Name, fromDegC))
		return nil
	}
	return p
}

// shares returns, per part, the share of its surface that lies in the plume.
// Hot parts feed it and lie outside. A nil plume has none.
func (p *plume) shares(st *study) []float64 {
	out := make([]float64, len(st.parts))
	if p == nil {
		return out
	}
	areasM2 := make([]float64, len(st.parts))
	for k := range st.set.Patches {
		pp := &st.set.Patches[k]
		areasM2[pp.Part] += pp.AreaM2
		if !p.hot[pp.Part] && p.above(pp.CenterMM, pp.Part) {
			out[pp.Part] += pp.AreaM2
		}
	}
	for i := range out {
		if areasM2[i] > 0 {
			out[i] /= areasM2[i]
		}
	}
	return out
}

// shareOf returns the share of a component's surface in the plume; without is
// the part that it stands in for.
func (p *plume) shareOf(set *patch.Set, without int) float64 {
	if p == nil {
		return 0
	}
	var inM2, allM2 float64
	for k := range set.Patches {
		pp := &set.Patches[k]
		allM2 += pp.AreaM2
		if p.above(pp.CenterMM, without) {
			inM2 += pp.AreaM2
		}
	}
	return inM2 / math.Max(allM2, leastAreaM2)
}

// leastAreaM2 keeps a share of no surface finite.
const leastAreaM2 = 1e-30

// above reports whether a hot part stands straight below a point with nothing
// but the part itself between.
func (p *plume) above(point geom.Vec, itself int) bool {
	ray := bvh.Ray{Origin: point, Dir: geom.Vec{0, 0, -1}, FarMM: p.heightMM}
	for {
		hit, ok := p.st.tree.Cast(ray)
		if !ok {
			return false
		}
		if part := int(p.st.set.PartOf[hit.Tri]); part != itself {
			return p.hot[part]
		}
		ray.NearMM = hit.DistMM
	}
}
