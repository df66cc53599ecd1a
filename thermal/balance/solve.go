package balance

import (
	"context"
	"math"
	"sync"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/thermal"
	"aftbay/thermal/convect"
	"aftbay/thermal/radiate"
	"aftbay/thermal/soak"
)

// columns says which emitters radiate: parts held along a line with their
// profile, or every part at one temperature.
type columns int

const (
	profiled columns = iota
	uniform
)

// state is the temperatures of all parts and what surrounds them.
type state struct {
	tempsK []float64
	around thermal.Ambient
}

// solution is one case for every variation, nominal first.
type solution struct {
	hc         *layout.HeatCase
	columns    columns
	variations []variation
	networks   []*thermal.Network
	states     []state       // standing; in a soak, at its start
	curves     []*soak.Curve // soak only
	air        []airs        // soak only
	from       *solution     // soak only: what it follows
	plume      *plume        // nil without one

	framesOnce sync.Once
	frames     [][]frame // frames[variation]: moments for components
}

// start returns the nominal state, in a soak that of its start.
func (s *solution) start() state { return s.states[0] }

// end returns the state in which a following soak starts.
func (s *solution) end(v int) state {
	if s.curves == nil {
		return s.states[v]
	}
	c := s.curves[v]
	return state{tempsK: c.TempsK[len(c.TempsK)-1], around: s.air[v].at(c.EndS())}
}

// at returns the state of a variation at a time; a standing case has one.
func (s *solution) at(v int, timeS float64) state {
	if s.curves == nil {
		return s.states[v]
	}
	c := s.curves[v]
	timeS = math.Max(0, math.Min(timeS, c.EndS()))
	now := state{tempsK: make([]float64, len(s.states[v].tempsK)), around: s.air[v].at(timeS)}
	for i := range now.tempsK {
		now.tempsK[i] = c.AtK(i, timeS)
	}
	return now
}

// exchanges returns the exchange of radiation in every variation: the nominal
// one, changed where emissivities move by what the coarse solution says.
func (st *study) exchanges(ctx context.Context) ([]*radiate.Absorbed, error) {
	list := st.spread.variations()
	out := make([]*radiate.Absorbed, len(list))
	parts := radiate.ExchangeParts
	if st.options.Coarse {
		parts = st.received.QuickParts
	}
	nominal, err := parts(ctx, st.factors, st.emission, st.options.Workers)
	if err != nil {
		return nil, err
	}
	for i, v := range list {
		out[i] = st.absorbed
		if !v.movesEmissivity() {
			continue
		}
		a, err := parts(ctx, st.factors, st.emissionOf(v), st.options.Workers)
		if err != nil {
			return nil, err
		}
		out[i] = st.absorbed.Moved(nominal, a)
	}
	return out, nil
}

// standing settles every variation of a case.
func (st *study) standing(ctx context.Context, hc *layout.HeatCase, exchange []*radiate.Absorbed) (*solution, error) {
	around, err := aroundOf(hc)
	if err != nil {
		return nil, err
	}
	if hc.AirSpeedMS == nil && hc.FilmWM2K == nil {
		st.assumed.add(say.F("heat case %q: still air, no air_speed_m_s is given", hc.Name))
	}
	sol := &solution{hc: hc, variations: st.spread.variations(), plume: st.plumeOf(hc)}
	shares := sol.plume.shares(st)
	n := len(sol.variations)
	sol.networks, sol.states = make([]*thermal.Network, n), make([]state, n)
	lastK := float64(settledK)
	if st.options.Coarse {
		lastK = coarseSettleK
	}
	settle := func(i int) error {
		v := sol.variations[i]
		here := thermal.Ambient{AirK: around.AirK + v.airK, SurroundingsK: around.SurroundingsK + v.surroundingsK, PlumeK: around.PlumeK}
		net := st.network(hc, v, exchange[i], profiled, shares)
		startK := make([]float64, len(st.parts))
		for k := range st.parts {
			switch {
			case st.parts[k].held:
				startK[k] = st.parts[k].heldAtK(v)
			case i > 0: // the nominal figures are near
				startK[k] = sol.states[0].tempsK[k]
			default:
				startK[k] = (here.AirK + here.SurroundingsK) / 2
			}
		}
		tempsK, err := settleTo(ctx, net, startK, here, lastK)
		sol.networks[i], sol.states[i] = net, state{tempsK: tempsK, around: here}
		return err
	}
	if err := settle(0); err != nil {
		return nil, err
	}
	err = geom.Each(ctx, st.options.Workers, n-1, nil, func(i int) error { return settle(1 + i) })
	return sol, err
}

// aroundOf returns the air and the surroundings of a standing case; either
// stands in for the other.
func aroundOf(hc *layout.HeatCase) (thermal.Ambient, error) {
	air, beyond := hc.AirDegC, hc.SurroundingsDegC
	if air == nil {
		air = beyond
	}
	if beyond == nil {
		beyond = air
	}
	if air == nil {
		return thermal.Ambient{}, say.New("neither air_degC nor surroundings_degC is given: give the temperature of the bay's air")
	}
	return thermal.Ambient{AirK: thermal.Kelvin(*air), SurroundingsK: thermal.Kelvin(*beyond), PlumeK: riseOf(hc)}, nil
}

// riseOf returns how much hotter a case's plume is, 0 without one. Bare numbers: K.
func riseOf(hc *layout.HeatCase) float64 {
	if hc.Plume == nil {
		return 0
	}
	return hc.Plume.RiseK
}

// network links the parts for one case and variation.
func (st *study) network(hc *layout.HeatCase, v variation, a *radiate.Absorbed, use columns, plumeShares []float64) *thermal.Network {
	n := len(st.parts)
	net := &thermal.Network{Nodes: make([]thermal.Node, n), FromM2: make([][]float64, n), FromAroundM2: make([]float64, n), EmitM2: make([]float64, n)}
	mounted := false
	for i := range st.parts {
		p := &st.parts[i]
		net.Nodes[i] = thermal.Node{
			Name: p.name, Held: p.held && use == profiled, FilmAreaM2: p.filmAreaM2,
			Film: filmOf(p.props, p.film, hc, v.film()), CapacityJK: p.capacityJK, PlumeShare: plumeShares[i],
		}
		if use == profiled {
			net.Nodes[i].PowerW = p.props.PowerW
		}
		mounted = mounted || p.mountTo >= 0
		row := a.FromM2[i]
		net.FromM2[i], net.FromAroundM2[i], net.EmitM2[i] = make([]float64, n), row[len(row)-1], a.EmitM2[i]
		copy(net.FromM2[i], row[:n])
		if use != profiled {
			continue
		}
		for j, c := range st.alongOf {
			if c >= 0 {
				net.FromM2[i][j] = row[c]
			}
		}
		if st.alongOf[i] >= 0 {
			net.EmitM2[i] = a.SecondM2[i]
		}
	}
	if mounted {
		net.MountWK = st.mounts()
	}
	return net
}

// mounts returns the conductances between parts. Bare numbers: W/K.
func (st *study) mounts() [][]float64 {
	out := make([][]float64, len(st.parts))
	for i := range out {
		out[i] = make([]float64, len(st.parts))
	}
	for i := range st.parts {
		if to := st.parts[i].mountTo; to >= 0 {
			out[i][to] += st.parts[i].props.Mount.WK
			out[to][i] += st.parts[i].props.Mount.WK
		}
	}
	return out
}

// filmOf returns a part's film: given for the part, given for the case, else by
// correlation; nil where there is none.
func filmOf(props layout.Thermal, body convect.Body, hc *layout.HeatCase, factor float64) func(surfaceK, airK float64) float64 {
	given := props.FilmWM2K
	if given == nil {
		given = hc.FilmWM2K
	}
	if given != nil {
		if *given == 0 {
			return nil
		}
		filmWM2K := *given * factor
		return func(_, _ float64) float64 { return filmWM2K }
	}
	speedMS := 0.0
	if hc.AirSpeedMS != nil {
		speedMS = *hc.AirSpeedMS
	}
	return func(surfaceK, airK float64) float64 {
		// Trial temperatures of the search may lie outside the fits' range.
		surfaceK = math.Max(lowestFitK, math.Min(highestFitK, surfaceK))
		return factor * body.FilmWM2K(convect.Stream{SurfaceK: surfaceK, AirK: airK, SpeedMS: speedMS})
	}
}

// The properties of air are not asked for beyond these temperatures.
const (
	lowestFitK  = 150
	highestFitK = 2000
)
