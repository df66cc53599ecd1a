package balance

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"aftbay/geom/dist"
	"aftbay/geom/say"
	"aftbay/thermal"
	"aftbay/thermal/material"
)

// The kinds of warnings.
const (
	Ignites = "ignition" // a fluid that leaks may ignite on a hot surface near it
	Burns   = "touch"    // skin burns on contact
	Doubts  = "input"    // an input that looks wrong
)

// Warning is what somebody should look at before anybody is hurt, or before a
// figure is believed. It is a reminder, no verdict.
type Warning struct {
	Kind string `json:"kind"`
	Case string `json:"case,omitempty"`
	Part string `json:"part,omitempty"`
	// Of an ignition: the hot part, how far it is, the fluid.
	Near        string   `json:"near,omitempty"`
	DistMM      *float64 `json:"dist_mm,omitempty"`
	Fluid       string   `json:"fluid,omitempty"`
	SurfaceDegC *float64 `json:"surface_degC,omitempty"` // hottest place, high end
	FromDegC    *float64 `json:"from_degC,omitempty"`    // where the warning starts
	Text        say.Text `json:"text"`
	Source      string   `json:"source,omitempty"`
}

const (
	// cautionK is how far below the lowest published ignition a surface is
	// told. Common practice, no source.
	cautionK = 50
	// nearMM: how far a leak is reckoned to reach. Common practice, no source.
	nearMM = 200
)

// usualFluids are taken where the layout names none for a part of the role.
// Common practice, no source. Read-only.
var usualFluids = map[string]string{
	"fuel": "Gasoline 87-92", "oil tank": "Engine oil", "coolant": "Coolant, ethylene glycol 50 %", "brake": "Brake fluid DOT 3",
}

// warn fills in all warnings of a result.
func (st *study) warn(ctx context.Context, r *Result) error {
	r.Warnings = []Warning{}
	if err := st.warnFluids(ctx, r); err != nil {
		return err
	}
	st.warnTouch(r)
	st.warnInputs(r)
	return nil
}

// surface is how hot the hottest place of a part may get, high end: skin and
// band together.
func (ph *PartHeat) surfaceDegC() float64 {
	placeDegC := ph.Temperature.NominalDegC
	for _, p := range []*float64{ph.HottestDegC, ph.skinDegC()} {
		if p != nil {
			placeDegC = math.Max(placeDegC, *p)
		}
	}
	return placeDegC + ph.Temperature.HighDegC - ph.Temperature.NominalDegC
}

func (ph *PartHeat) skinDegC() *float64 {
	if ph.Skin == nil {
		return nil
	}
	return &ph.Skin.PeakDegC
}

// hottest is a part in the case in which its surface is hottest.
type hottest struct {
	surfaceDegC float64
	in          string
}

// hottestOf returns every part's hottest case, by index.
func (st *study) hottestOf(r *Result) []hottest {
	out := make([]hottest, len(st.parts))
	for i := range out {
		out[i].surfaceDegC = math.Inf(-1)
	}
	for k := range r.Cases {
		for i := range r.Cases[k].Parts {
			ph := &r.Cases[k].Parts[i]
			if degC := ph.surfaceDegC(); degC > out[ph.Part].surfaceDegC {
				out[ph.Part] = hottest{degC, r.Cases[k].Name}
			}
		}
	}
	return out
}

// warnFluids finds hot surfaces near what holds a fluid.
func (st *study) warnFluids(ctx context.Context, r *Result) error {
	hot := st.hottestOf(r)
	var list []Warning
	for i := range st.parts {
		p := &st.parts[i]
		name := p.layout.Fluid
		if name == "" {
			name = usualFluids[p.layout.Role]
		}
		if name == "" || p.body.Mesh == nil {
			continue
		}
		fluid, err := st.tables.Fluid(name)
		if err != nil {
			return say.Errorf("part %q: %w", p.name, err)
		}
		if p.layout.Fluid == "" {
			st.assumed.add(say.F("part %q: holds %s, by its role (common practice, no source)", p.name, strings.ToLower(fluid.Fluid)))
		}
		for j := range st.parts {
			if i == j || hot[j].surfaceDegC < fluid.LowDegC-cautionK {
				continue
			}
			distMM, near, err := st.distMM(ctx, i, j)
			if err != nil {
				return err
			}
			if near {
				list = append(list, st.ignition(i, j, fluid, hot[j], distMM))
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Warning) int {
		return cmp.Compare(*b.SurfaceDegC-*b.FromDegC, *a.SurfaceDegC-*a.FromDegC)
	})
	r.Warnings = append(r.Warnings, list...)
	return nil
}

// distMM returns how far two parts are apart, and whether that is near.
func (st *study) distMM(ctx context.Context, i, j int) (gapMM float64, near bool, err error) {
	body := func(p *part) dist.Body {
		return dist.Body{Tree: p.body.Tree, Pose: p.body.Pose, Closed: p.body.Closed}
	}
	if st.parts[i].body.Tree == nil || st.parts[j].body.Tree == nil {
		return 0, false, nil
	}
	d, err := dist.Between(ctx, body(&st.parts[i]), body(&st.parts[j]), dist.Options{EnoughMM: nearMM})
	return d.GapMM, !d.AtLeast, err
}

func (st *study) ignition(i, j int, fluid *material.Ignition, at hottest, distMM float64) Warning {
	from := fluid.LowDegC - cautionK
	surface := at.surfaceDegC
	return Warning{
		Kind: Ignites, Case: at.in, Part: st.parts[i].name, Near: st.parts[j].name, DistMM: &distMM, Fluid: fluid.Fluid,
		SurfaceDegC: &surface, FromDegC: &from, Source: st.tables.Origin(fluid.Source, fluid.Status),
		Text: say.F("%s: if %s leaks onto %s, %.0f mm away, it may ignite: up to %.0f °C in %s, seen to ignite on hot surfaces from %.0f °C (to %.0f °C), told from %d K below.",
			st.parts[i].name, strings.ToLower(fluid.Fluid), st.parts[j].name, distMM, surface, at.in, fluid.LowDegC, fluid.HighDegC, cautionK),
	}
}

// warnTouch tells, case by case, how much burns whoever touches it.
func (st *study) warnTouch(r *Result) {
	for k := range r.Cases {
		c := &r.Cases[k]
		count, still := 0, 0
		var worst *PartHeat
		for i := range c.Parts {
			ph := &c.Parts[i]
			ph.Burn = st.burnOf(ph)
			if ph.Burn == nil || ph.Burn.ContactS > quickS {
				continue
			}
			count++
			if worst == nil || ph.surfaceDegC() > worst.surfaceDegC() {
				worst = ph
			}
			if ph.EndDegC != nil && *ph.EndDegC >= ph.Burn.FromDegC {
				still++
			}
		}
		if worst == nil {
			continue
		}
		surface, from := worst.surfaceDegC(), worst.Burn.FromDegC
		w := Warning{Kind: Burns, Case: c.Name, Part: worst.Name, SurfaceDegC: &surface, FromDegC: &from, Source: worst.Burn.Source}
		w.Text = say.F("%s: %d of %d parts may burn skin within a second of contact; hottest %s, up to %.0f °C.", c.Name, count, len(c.Parts), worst.Name, surface)
		if c.After != "" {
			w.Text = say.F("%s At the end %d of them still do.", w.Text, still)
		}
		r.Warnings = append(r.Warnings, w)
	}
}

// quickS is a contact too short to draw back from.
const quickS = 1

// conductsWMK parts metals from plastics and rubbers. Common practice, no source.
const conductsWMK = 5

// burnOf returns the shortest contact that may burn skin, nil where none does.
func (st *study) burnOf(ph *PartHeat) *Burn {
	metal := st.parts[ph.Part].wallOf().solid.ConductivityWMK >= conductsWMK
	return st.tables.BurnAt(ph.surfaceDegC(), metal)
}

// Burn is the contact with a surface that burns skin.
type Burn = material.Contact

// warnInputs tells what looks wrong in what was given.
func (st *study) warnInputs(r *Result) {
	warn := func(in, part string, text say.Text) {
		r.Warnings = append(r.Warnings, Warning{Kind: Doubts, Case: in, Part: part, Text: text})
	}
	heated := false
	buried := st.buriedShares()
	for i := range st.parts {
		p := &st.parts[i]
		heated = heated || p.held || p.props.PowerW > 0
		if p.body.Mesh == nil {
			continue
		}
		if p.held && !p.body.Closed && p.layout.InnerEmissivity == nil {
			warn("", p.name, say.F("%s: held hot, but its mesh is open: it radiates from its outside only. Close the mesh, or give inner_emissivity if it is a sheet.", p.name))
		}
		if buried[i] > whollyShare {
			warn("", p.name, say.F("%s: lies inside another solid: nothing radiates to it or from it. Check its place or the envelope around it.", p.name))
		}
	}
	if !heated && len(r.Cases) > 0 {
		warn("", "", say.Of("No part is held at a temperature or has power of its own: nothing heats the bay but its air and surroundings."))
	}
	for k := range r.Cases {
		sol := r.Cases[k].solved
		airDegC := thermal.Celsius(sol.at(0, 0).around.AirK)
		if ph := beyondSteel(r.Cases[k].Parts); ph != nil {
			warn(r.Cases[k].Name, ph.Name, say.F("%s: %.0f °C in %s, more than steel stands before it melts: check held temperatures, powers and films.", ph.Name, ph.Temperature.NominalDegC, r.Cases[k].Name))
		}
		for i := range r.Cases[k].Parts {
			if ph := &r.Cases[k].Parts[i]; ph.LimitDegC != nil && *ph.LimitDegC < airDegC {
				warn(r.Cases[k].Name, ph.Name, say.F("%s: its limit of %.0f °C lies below the air of %s, %.0f °C: no place can keep it. Check the figure.", ph.Name, *ph.LimitDegC, r.Cases[k].Name, airDegC))
			}
		}
	}
}

// meltsDegC is where carbon steels begin to melt at the latest. From memory.
const meltsDegC = 1500

// beyondSteel returns the hottest part where that is too hot to be true, else
// nil.
func beyondSteel(parts []PartHeat) *PartHeat {
	var worst *PartHeat
	for i := range parts {
		if degC := parts[i].Temperature.NominalDegC; degC > meltsDegC && (worst == nil || degC > worst.Temperature.NominalDegC) {
			worst = &parts[i]
		}
	}
	return worst
}

// whollyShare of a part's surface inside others: it lies inside.
const whollyShare = 0.99

// buriedShares returns how much of every part's surface lies inside solids.
func (st *study) buriedShares() []float64 {
	out, areasM2 := make([]float64, len(st.parts)), make([]float64, len(st.parts))
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		if pp.Inner {
			continue
		}
		out[pp.Part] += pp.AreaM2 * st.factors.BuriedShare[p]
		areasM2[pp.Part] += pp.AreaM2
	}
	for i := range out {
		if areasM2[i] > 0 {
			out[i] /= areasM2[i]
		}
	}
	return out
}
