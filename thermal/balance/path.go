package balance

import (
	"context"
	"math"

	"aftbay/geom/layout"
	"aftbay/thermal"
)

// path is a component's temperature over time in one variation of a case; a
// standing case has one point.
type path struct {
	st     *study
	v      *View
	by     variation
	hc     *layout.HeatCase
	soak   bool
	frames []frame

	plumeShare float64
	timesS     []float64
	tempsK     []float64
}

// frame is the scene at one moment, as a component feels it.
type frame struct {
	emittedWM2 []float64 // per emitter column
	tempsK     []float64 // per part
	around     thermal.Ambient
}

// frameStepS is the step at which the scene is sampled for components: short
// beside the minutes in which a component warms. Common practice, no source.
const frameStepS = 10

// framesOf returns the scene's moments in a case and variation, computed once
// per solution.
func (st *study) framesOf(sol *solution, k int) []frame {
	sol.framesOnce.Do(func() {
		sol.frames = make([][]frame, len(sol.variations))
		for i := range sol.variations {
			sol.frames[i] = st.frames(sol, i)
		}
	})
	return sol.frames[k]
}

func (st *study) frames(sol *solution, k int) []frame {
	if sol.curves == nil {
		now := sol.states[k]
		return []frame{{emittedWM2: st.emitted(sol.columns, now), tempsK: now.tempsK, around: now.around}}
	}
	c := sol.curves[k]
	steps := int(math.Ceil(c.EndS() / frameStepS))
	var out []frame
	for i := range steps + 1 {
		timeS := math.Min(float64(i)*frameStepS, c.EndS())
		now := sol.at(k, timeS)
		out = append(out, frame{emittedWM2: st.emitted(sol.columns, now), tempsK: now.tempsK, around: now.around})
	}
	return out
}

// follow settles a component in a standing case, or steps it through a soak
// from where it settled before.
func (st *study) follow(ctx context.Context, sol *solution, k int, v *View) (*path, error) {
	p := &path{st: st, v: v, by: sol.variations[k], hc: sol.hc, soak: sol.curves != nil, frames: st.framesOf(sol, k), plumeShare: sol.plume.shareOf(v.set, v.without)}
	if !p.soak {
		k, err := p.settle(ctx)
		p.timesS, p.tempsK = []float64{0}, []float64{k}
		return p, err
	}
	before, err := st.follow(ctx, sol.from, k, v)
	if err != nil {
		return nil, err
	}
	p.timesS, p.tempsK = []float64{0}, []float64{before.tempsK[len(before.tempsK)-1]}
	net, around := p.network(0)
	gainW := net.Flows(0, []float64{p.tempsK[0], p.hostK(0)}, around).NetW()
	for i := 1; i < len(p.frames); i++ {
		gainW = p.step(i, math.Min(frameStepS, sol.curves[k].EndS()-p.timesS[i-1]), gainW)
	}
	return p, nil
}

// network returns the component as node 0 and its host as node 1, in frame i.
// What the scene sends is a power of node 0.
func (p *path) network(i int) (*thermal.Network, thermal.Ambient) {
	v := p.v
	emissivity := v.outer.moved(p.by, false)
	f := &p.frames[i]
	var onWM2 float64
	for c, share := range v.meanShare {
		onWM2 += share * f.emittedWM2[c]
	}
	node := thermal.Node{
		Name: v.component.Name, PowerW: emissivity * v.areaM2 * onWM2, FilmAreaM2: v.filmAreaM2, PlumeShare: p.plumeShare,
		Film: filmOf(v.component.Thermal, v.film, p.hc, p.by.film()), CapacityJK: v.capacityJK,
	}
	if !p.soak {
		node.PowerW += v.component.Thermal.PowerW
	}
	net := &thermal.Network{
		Nodes:  []thermal.Node{node, {Name: "host", Held: true}},
		FromM2: [][]float64{{0, 0}, {0, 0}}, FromAroundM2: []float64{0, 0},
		EmitM2: []float64{emissivity * v.areaM2 * (1 - v.selfShare), 0},
	}
	if v.mountTo >= 0 {
		wk := v.component.Thermal.Mount.WK
		net.MountWK = [][]float64{{0, wk}, {wk, 0}}
	}
	return net, f.around
}

// hostK returns the host's temperature in frame i; the air's without a host.
func (p *path) hostK(i int) float64 {
	if p.v.mountTo < 0 {
		return p.frames[i].around.AirK
	}
	return p.frames[i].tempsK[p.v.mountTo]
}

func (p *path) settle(ctx context.Context) (tempK float64, err error) {
	net, around := p.network(0)
	out, err := Settle(ctx, net, []float64{around.AirK, p.hostK(0)}, around)
	if err != nil {
		return 0, err
	}
	return out[0], nil
}

// step appends the temperature after one implicit step of second order (the
// trapezoidal rule), found by Newton's method. gainW is the net flow at the
// start of the step; that at its end is returned.
func (p *path) step(i int, stepS, gainW float64) (endW float64) {
	last := p.tempsK[i-1]
	net, around := p.network(i)
	share := stepS / (2 * p.v.capacityJK)
	row := make([]float64, 2)
	temps := []float64{last + 2*share*gainW, p.hostK(i)}
	temps[0] = math.Max(leastK, math.Min(last+mostGuessK, math.Max(last-mostGuessK, temps[0])))
	for range 20 {
		endW = net.Flows(0, temps, around).NetW()
		miss := temps[0] - last - share*(gainW+endW)
		if math.Abs(miss) < stepSettledK {
			break
		}
		net.SlopesWK(0, temps, around, row)
		temps[0] = math.Max(leastK, temps[0]-miss/(1-share*row[0]))
	}
	p.timesS, p.tempsK = append(p.timesS, p.timesS[i-1]+stepS), append(p.tempsK, temps[0])
	return endW
}

const (
	// mostGuessK bounds the first guess of a step: a component of next to no
	// capacity would leap.
	mostGuessK = 20
	// stepSettledK is where the search of a step ends: the errors of all steps of
	// an hour together stay under a thousandth of a kelvin.
	stepSettledK = 1e-6
)

// peakAt returns the frame of the highest temperature.
func (p *path) peakAt() int {
	best := 0
	for i, k := range p.tempsK {
		if k > p.tempsK[best] {
			best = i
		}
	}
	return best
}

func (p *path) peakK() float64 { return p.tempsK[p.peakAt()] }

func (p *path) emittedWM2(i int) []float64 { return p.frames[i].emittedWM2 }
