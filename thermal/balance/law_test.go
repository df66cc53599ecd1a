package balance

import (
	"math"
	"testing"

	"aftbay/geom/layout"
)

// Second law: without power of its own no part is hotter than the hottest
// source or the air, none colder than the coldest, in any case, whatever the
// emissivities; heat in is heat out to 0.1 %.
func TestSecondLawAndBalance(t *testing.T) {
	for _, emissivity := range []float64{0.05, 0.5, 0.95} {
		heat := bayHeat()
		heat.Spread = noSpread()
		bodies := bay(t)
		for i := range bodies {
			bodies[i].part.Emissivity = new(emissivity)
			if bodies[i].part.Thermal != nil {
				bodies[i].part.Thermal.PowerW = 0
			}
		}
		bodies = append(bodies, body{layout.Part{Name: "plate", MoveMM: [3]float64{0, 300, 0}, Emissivity: new(emissivity)}, brick([3]float64{300, 5, 300})})
		r := solve(t, stand(t, heat, bodies...))
		for k := range r.Cases {
			c := &r.Cases[k]
			for i := range c.Parts {
				degC := c.Parts[i].Temperature.NominalDegC
				if degC > 800+1e-6 || degC < 45-1e-6 { // the pipe's hot end; the air it settles at
					t.Errorf("emissivity %g, %s: %s at %g °C", emissivity, c.Name, c.Parts[i].Name, degC)
				}
				if skin := c.Parts[i].Skin.PeakDegC; skin > 800+1e-6 {
					t.Errorf("emissivity %g, %s: skin of %s at %g °C", emissivity, c.Name, c.Parts[i].Name, skin)
				}
			}
			if c.After == "" && math.Abs(c.SuppliedW-c.TakenW) > 1e-3*c.TakenW {
				t.Errorf("emissivity %g, %s: supplied %g W, taken %g W", emissivity, c.Name, c.SuppliedW, c.TakenW)
			}
		}
	}
}

// The ways of heat of every part add up to its net flow, and the shares of its
// sources to 1, straight and thrown back together.
func TestLoadsAddUp(t *testing.T) {
	r := solve(t, stand(t, bayHeat(), bay(t)...))
	for k := range r.Cases {
		for i := range r.Cases[k].Parts {
			p := &r.Cases[k].Parts[i]
			l := p.Loads
			sumW := l.DirectW + l.ReflectedW + l.ConvectedW + l.ConductedW + l.OwnW + l.RadiatedW
			if math.Abs(sumW-p.NetW) > 1e-9*math.Abs(l.RadiatedW)+1e-9 || l.RadiatedW > 0 || l.DirectW < 0 || l.ReflectedW < -1e-9*l.DirectW {
				t.Errorf("%s: loads %+v, net %g W", p.Name, l, p.NetW)
			}
			for _, f := range p.From {
				if math.Abs(f.DirectShare+f.ReflectedShare-f.Share) > 1e-12 || f.DirectShare < 0 || f.ReflectedShare < -1e-9 {
					t.Errorf("%s: %+v", p.Name, f)
				}
			}
		}
	}
}

// Without a heat case no ray is shot, unless the factors are asked for.
func TestNoCaseNoRays(t *testing.T) {
	s := stand(t, &layout.Heat{}, bay(t)...)
	r := solve(t, s)
	if r.Rays != 0 || len(r.Cases) != 0 || r.Factors() != nil || r.Caution == "" {
		t.Errorf("%+v", r)
	}
	with, err := Run(t.Context(), s, Options{Factors: true}, nil)
	if err != nil || with.Rays == 0 || len(with.Factors()) == 0 {
		t.Errorf("%v, %+v", err, with)
	}
}
