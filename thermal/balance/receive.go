package balance

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/thermal"
	"aftbay/thermal/convect"
	"aftbay/thermal/material"
	"aftbay/thermal/patch"
	"aftbay/thermal/radiate"
)

// Component is a small part that is tried in a solved scene. It receives heat;
// the scene does not notice it.
type Component struct {
	Name       string
	Role       string // for what is assumed
	Mesh       *mesh.Mesh
	Pose       geom.Pose
	Closed     bool
	Emissivity *float64       // 0.9 where nil
	Thermal    layout.Thermal // power, film, heat capacity, mount, length
	Limit      *layout.Limit
	Without    string // part that it stands in for and does not see
	Rays       int    // per patch; 256 where 0
}

// View is a component in one place, with what it sees; good for all cases.
type View struct {
	component  Component
	outer      surface
	stands     stands
	set        *patch.Set
	sight      *radiate.Sight
	meanShare  []float64 // per emitter column, over the component's surface
	selfShare  float64
	areaM2     float64
	filmAreaM2 float64
	film       convect.Body
	mountTo    int // −1 for none
	without    int // part that it stands in for, −1 for none
	capacityJK float64
}

const (
	componentRays    = 256
	componentPatches = 24
)

// Look shoots the component's rays into the scene. It fails when a named part
// does not exist.
func (r *Result) Look(c Component) (*View, error) {
	st := r.study
	v := &View{component: c, outer: around(usualEmissivity, st.spread.emissivity), mountTo: -1, without: -1}
	if c.Emissivity != nil {
		v.outer = around(*c.Emissivity, st.spread.emissivity)
	}
	var err error
	if v.stands, err = standsOf(st.tables, c.Limit, ""); err != nil {
		return nil, say.Errorf("component %q: %w", c.Name, err)
	}
	if c.Without != "" {
		if v.without, err = st.partOf(c.Without); err != nil {
			return nil, say.Errorf("component %q: %w", c.Name, err)
		}
	}
	if c.Thermal.Mount != nil {
		if v.mountTo, err = st.partOf(c.Thermal.Mount.To); err != nil {
			return nil, say.Errorf("component %q: mount: %w", c.Name, err)
		}
	}
	po := patch.Options{MostPatches: componentPatches, MostBlocks: 1}
	if st.heat.PatchMM != nil {
		po.EdgeMM = *st.heat.PatchMM
	}
	if v.set, err = patch.Build([]patch.Body{{Name: c.Name, Mesh: c.Mesh, Pose: c.Pose, Closed: c.Closed}}, po); err != nil {
		return nil, err
	}
	ro := radiate.Options{Rays: c.Rays, Seed: 1}
	if ro.Rays == 0 {
		ro.Rays = componentRays
	}
	if st.heat.Seed != nil {
		ro.Seed = *st.heat.Seed
	}
	v.sight = st.received.Look(st.tree, radiate.Guest{Set: v.set, Tree: bvh.BuildRays(v.set.Mesh), Without: v.without}, ro)
	v.film = convect.Choose(outlineOf(c.Mesh, c.Pose, c.Closed, &c.Thermal))
	v.sum(st.received.Columns)
	v.capacityJK = v.heatJK(st.tables)
	return v, nil
}

// partOf returns the index of a part's name.
func (st *study) partOf(name string) (int, error) {
	for i := range st.parts {
		if st.parts[i].name == name {
			return i, nil
		}
	}
	return 0, say.Errorf("no part is called %q", name)
}

// sum averages the sight over the component's outer side.
func (v *View) sum(columns int) {
	v.meanShare = make([]float64, columns)
	for p := range v.set.Patches {
		pp := &v.set.Patches[p]
		if pp.Inner {
			continue
		}
		v.areaM2 += pp.AreaM2
		v.filmAreaM2 += pp.AreaM2 * (1 - v.sight.BuriedShare[p])
		v.selfShare += pp.AreaM2 * v.sight.SelfShare[p]
		for c, share := range v.sight.Share[p] {
			v.meanShare[c] += pp.AreaM2 * share
		}
	}
	if v.areaM2 > 0 {
		v.selfShare /= v.areaM2
		for c := range v.meanShare {
			v.meanShare[c] /= v.areaM2
		}
	}
}

// heatJK returns the component's heat capacity: given, else by role.
func (v *View) heatJK(t *material.Tables) float64 {
	stand := part{layout: &layout.Part{Role: v.component.Role}, props: v.component.Thermal, areaM2: v.areaM2, tables: t}
	return math.Max(stand.heatJK(&notes{}), leastJK)
}

// Receive returns the component's temperature in one case: at rest with the
// scene, or its peak after key-off. A soak starts from the rest in the standing
// case before it.
func (r *Result) Receive(ctx context.Context, caseIndex int, v *View) (PartHeat, error) {
	if caseIndex < 0 || caseIndex >= len(r.Cases) {
		return PartHeat{}, say.Errorf("heat case %d: there are %d", caseIndex, len(r.Cases))
	}
	sol := r.Cases[caseIndex].solved
	ph := PartHeat{Part: -1, Name: v.component.Name, Emissivity: v.outer.emissivity}
	paths := make([]*path, len(sol.variations))
	peaksK := make([]float64, len(sol.variations))
	for k := range sol.variations {
		if err := ctx.Err(); err != nil {
			return PartHeat{}, err
		}
		p, err := r.study.follow(ctx, sol, k, v)
		if err != nil {
			return PartHeat{}, say.Errorf("component %q: %w", v.component.Name, err)
		}
		paths[k] = p
		peaksK[k] = p.peakK()
	}
	ph.temperature(peaksK)
	ph.judge(&v.stands, sol.curves != nil)
	r.study.tell(&ph, sol, paths[0], v)
	return ph, nil
}

// Glance returns the component's nominal temperature in one case, at rest or its
// peak: that of Receive without its band, at a small part of the cost.
func (r *Result) Glance(ctx context.Context, caseIndex int, v *View) (nominalDegC float64, err error) {
	if caseIndex < 0 || caseIndex >= len(r.Cases) {
		return 0, say.Errorf("heat case %d: there are %d", caseIndex, len(r.Cases))
	}
	p, err := r.study.follow(ctx, r.Cases[caseIndex].solved, 0, v)
	if err != nil {
		return 0, say.Errorf("component %q: %w", v.component.Name, err)
	}
	return thermal.Celsius(p.peakK()), nil
}

// tell fills in flows, sources and times from the nominal path.
func (st *study) tell(ph *PartHeat, sol *solution, p *path, v *View) {
	k := p.peakAt()
	emittedWM2 := p.emittedWM2(k)
	ph.shares(st, v.meanShare, nil, emittedWM2)
	for i := range v.set.Patches {
		var onWM2 float64
		for c, share := range v.sight.Share[i] {
			onWM2 += share * emittedWM2[c]
		}
		if onWM2 > ph.Irradiation.PeakWM2 && !v.set.Patches[i].Inner {
			ph.Irradiation.PeakWM2, ph.Irradiation.PeakAtMM = onWM2, v.set.Patches[i].CenterMM
		}
	}
	net, around := p.network(k)
	ph.flows(net, 0, state{tempsK: []float64{p.tempsK[k], p.hostK(k)}, around: around})
	// What the sources send enters the node as a power; tell it as radiation.
	sentW := v.outer.emissivity * v.areaM2 * ph.Irradiation.MeanWM2
	ph.RadiativeW, ph.PowerW = ph.RadiativeW+sentW, ph.PowerW-sentW
	if sol.curves == nil {
		return
	}
	peakS, endDegC := p.timesS[k], thermal.Celsius(p.tempsK[len(p.tempsK)-1])
	ph.PeakTimeS, ph.EndDegC = &peakS, &endDegC
	var aboveS float64
	for i, timeS := range p.timesS {
		ph.Curve = append(ph.Curve, Sample{TimeS: timeS, TemperatureDegC: thermal.Celsius(p.tempsK[i])})
		if i > 0 && ph.LimitDegC != nil && thermal.Celsius(p.tempsK[i]) > *ph.LimitDegC {
			aboveS += timeS - p.timesS[i-1]
		}
	}
	if ph.LimitDegC != nil {
		ph.AboveLimitS = &aboveS
	}
}
