package balance

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/convect"
	"aftbay/thermal/material"
	"aftbay/thermal/patch"
	"aftbay/thermal/radiate"
)

// study is what all cases of a layout share.
type study struct {
	options Options
	heat    layout.Heat
	parts   []part
	set     *patch.Set
	tree    *bvh.RayTree
	factors *radiate.Factors
	spread  spread
	assumed notes
	tables  *material.Tables

	emission radiate.Emission
	received *radiate.Received
	absorbed *radiate.Absorbed
	along    []int // along[k]: part of emitter column len(parts)+k
	alongOf  []int // alongOf[part]: its second column, −1 for none
	seed     uint64
	sums     *sums // of received; nil until an answer asks
}

// part is one node with all that does not change from case to case.
type part struct {
	name         string
	layout       *layout.Part
	props        layout.Thermal // zero where the layout says nothing
	body         patch.Body
	outer, inner surface
	stands       stands
	tables       *material.Tables
	held         bool
	heldK        float64 // fourth-power mean where it varies
	heldOffK     float64 // how far that may be off
	hottestK     float64
	capacityJK   float64 // 0 until a soak asks
	areaM2       float64 // of one side
	film         convect.Body
	filmAreaM2   float64
	mountTo      int // −1 for none
}

// newStudy reads the scene, shoots the rays and solves the exchange.
func newStudy(ctx context.Context, s *scene.Scene, o Options, progress geom.Progress) (*study, error) {
	st := &study{options: o, spread: usualSpread}
	if s.Doc.Heat != nil {
		st.heat = *s.Doc.Heat
		st.spread = spreadOf(s.Doc.Heat.Spread)
	}
	if sp := st.heat.Spread; sp == nil || sp.SourceK == nil || sp.Emissivity == nil || sp.Film == nil || sp.AirK == nil || sp.SurroundingsK == nil {
		u := usualSpread
		st.assumed.add(say.F("spread where the layout gives none: held temperatures ±%g K, emissivities from low to high of the material, else ±%g, films ×%g to ×%g, air ±%g K, surroundings ±%g K (common practice, no source)",
			u.sourceK, u.emissivity, u.leastFactor, u.mostFactor, u.airK, u.surroundingsK))
	}
	var err error
	if st.tables, err = material.For(s.Doc); err != nil {
		return nil, err
	}
	if err := st.read(ctx, s); err != nil {
		return nil, err
	}
	if err := st.cut(); err != nil {
		return nil, err
	}
	st.tree = bvh.BuildRays(st.set.Mesh)
	ro := radiate.Options{Workers: o.Workers, Seed: 1}
	if st.heat.Rays != nil {
		ro.Rays = *st.heat.Rays
	}
	if o.Coarse {
		ro.Rays, ro.Quick = coarseRays, true
	}
	if st.heat.Seed != nil {
		ro.Seed = *st.heat.Seed
	}
	st.seed = ro.Seed
	if o.Prev != nil && o.Prev.study != nil {
		ro.Prev = o.Prev.study.factors
	}
	st.options.Prev = nil // or every answer would hold all before it
	if st.factors, err = radiate.Trace(ctx, st.set, st.tree, ro, progress); err != nil {
		return nil, err
	}
	st.exposed()
	st.emission = st.emissionOf(variation{})
	exchange := radiate.Exchange
	if o.Coarse {
		exchange = radiate.ExchangeQuick
	}
	if st.received, err = exchange(ctx, st.factors, st.emission, o.Workers); err != nil {
		return nil, err
	}
	st.absorbed = radiate.Absorb(st.received)
	return st, nil
}

// cut makes the patches.
func (st *study) cut() error {
	bodies := make([]patch.Body, len(st.parts))
	for i := range st.parts {
		bodies[i] = st.parts[i].body
		bodies[i].InnerRadiates, bodies[i].Source = st.parts[i].radiatesInside(), st.parts[i].isSource()
	}
	po := patch.Options{MostPatches: st.options.MostPatches, Extra: len(st.options.Extra), Workers: st.options.Workers}
	if st.options.Coarse {
		po.MostPatches, po.MostBlocks, po.Even = coarsePatches, coarseBlocks, true
	}
	if st.heat.PatchMM != nil {
		po.EdgeMM = *st.heat.PatchMM
	}
	var err error
	if st.set, err = patch.Build(bodies, po); err != nil {
		return err
	}
	st.profile()
	return nil
}

// profile sets the mean temperature of parts that are held along a line.
func (st *study) profile() {
	st.alongOf = make([]int, len(st.parts))
	fourth, areaM2 := make([]float64, len(st.parts)), make([]float64, len(st.parts))
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		pt := &st.parts[pp.Part]
		if pt.props.HeldAlong == nil || pp.Inner {
			continue
		}
		k := pt.alongK(pp.CenterMM)
		fourth[pp.Part] += pp.AreaM2 * k * k * k * k
		areaM2[pp.Part] += pp.AreaM2
		pt.hottestK = math.Max(pt.hottestK, k)
	}
	for i := range st.parts {
		st.alongOf[i] = -1
		if st.parts[i].props.HeldAlong != nil && areaM2[i] > 0 {
			st.parts[i].heldK = math.Sqrt(math.Sqrt(fourth[i] / areaM2[i]))
			st.alongOf[i] = len(st.parts) + len(st.along)
			st.along = append(st.along, i)
		}
	}
}

// alongK returns the given temperature of a part at a vehicle point.
func (p *part) alongK(point geom.Vec) float64 {
	a := p.props.HeldAlong
	// The line is given for the design pose; the part may stand elsewhere now.
	point = scene.PoseOf(p.layout).After(p.body.Pose.Inverse()).Point(point)
	line := a.ToMM.Sub(a.FromMM)
	t := point.Sub(a.FromMM).Dot(line) / line.Dot(line)
	t = math.Max(0, math.Min(1, t))
	return thermal.Kelvin(a.FromDegC + t*(a.ToDegC-a.FromDegC))
}

// exposed sets the surface that air sweeps: all radiating sides less what lies
// inside other solids.
func (st *study) exposed() {
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		pt := &st.parts[pp.Part]
		if !pp.Blind {
			pt.filmAreaM2 += pp.AreaM2 * (1 - st.factors.BuriedShare[p])
		}
	}
}

// sourceK parts the hot parts, about which all else is cut finer, from those
// that are merely held, such as an engine. Common practice, no source.
const sourceK = 500

// heldAtK returns the temperature at which a part is held in a variation.
func (p *part) heldAtK(v variation) float64 { return p.heldK + v.heldSide*p.heldOffK }

// isSource reports whether a part is held hot.
func (p *part) isSource() bool {
	if a := p.props.HeldAlong; a != nil {
		return thermal.Kelvin(math.Max(a.FromDegC, a.ToDegC)) >= sourceK
	}
	return p.held && p.heldK >= sourceK
}

// radiatesInside reports whether a sheet's inner side takes part.
func (p *part) radiatesInside() bool { return !p.body.Closed && p.layout.InnerEmissivity != nil }

// emissionOf returns what the patches radiate, emissivities moved by a
// variation.
func (st *study) emissionOf(v variation) radiate.Emission {
	n := len(st.set.Patches)
	e := radiate.Emission{
		Columns: len(st.parts) + len(st.along), Column: make([]int32, n), Second: make([]int32, n),
		Emissivity: make([]float64, n), SecondWeight: make([]float64, n),
	}
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		pt := &st.parts[pp.Part]
		e.Column[p], e.Second[p] = int32(pp.Part), int32(st.alongOf[pp.Part])
		side := pt.outer
		if pp.Inner {
			side = pt.inner
		}
		if !pp.Blind {
			e.Emissivity[p] = side.moved(v, pt.held)
		}
		if e.Second[p] >= 0 {
			ratio := pt.alongK(pp.CenterMM) / pt.heldK
			e.SecondWeight[p] = ratio * ratio * ratio * ratio
		}
	}
	return e
}

// emitted returns σT⁴ for every emitter column: parts, parts held along a line,
// surroundings; use says which of them radiate in a case. Bare numbers: W/m².
func (st *study) emitted(use columns, now state) []float64 {
	out := make([]float64, st.received.Columns)
	for i, k := range now.tempsK {
		c := i
		if use == profiled && st.alongOf[i] >= 0 {
			c = st.alongOf[i]
		}
		out[c] = thermal.EmissiveWM2(k)
	}
	out[len(out)-1] = thermal.EmissiveWM2(now.around.SurroundingsK)
	return out
}

// receivedWM2 returns the irradiation of every patch.
func (st *study) receivedWM2(emittedWM2 []float64) []float64 {
	out := make([]float64, len(st.set.Patches))
	for p := range out {
		for c, share := range st.received.Row(p) {
			out[p] += share * emittedWM2[c]
		}
	}
	return out
}
