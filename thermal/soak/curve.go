package soak

import (
	"math"
	"slices"
)

// Curve is the temperature of every node over time: values and slopes at the
// steps, a cubic between them.
type Curve struct {
	TimesS     []float64   // rising, first 0
	TempsK     [][]float64 // TempsK[step][node]
	RatesKPerS [][]float64 // RatesKPerS[step][node]
}

func (c *Curve) add(timeS float64, tempsK, ratesKPerS []float64) {
	c.TimesS = append(c.TimesS, timeS)
	c.TempsK = append(c.TempsK, slices.Clone(tempsK))
	c.RatesKPerS = append(c.RatesKPerS, slices.Clone(ratesKPerS))
}

// From returns the curve moved so that it starts at other temperatures: a first
// guess at how the nodes would go from there.
func (c *Curve) From(startK []float64) *Curve {
	out := &Curve{TimesS: c.TimesS, RatesKPerS: c.RatesKPerS}
	for _, tempsK := range c.TempsK {
		moved := slices.Clone(tempsK)
		for i := range moved {
			moved[i] += startK[i] - c.TempsK[0][i]
		}
		out.TempsK = append(out.TempsK, moved)
	}
	return out
}

// EndS returns the last time.
func (c *Curve) EndS() float64 { return c.TimesS[len(c.TimesS)-1] }

// AtK returns the temperature of a node at a time; before the start and after
// the end it is that of the nearest.
func (c *Curve) AtK(node int, timeS float64) float64 {
	k, _ := slices.BinarySearch(c.TimesS, timeS)
	switch {
	case k == 0:
		return c.TempsK[0][node]
	case k == len(c.TimesS):
		return c.TempsK[k-1][node]
	}
	t := (timeS - c.TimesS[k-1]) / (c.TimesS[k] - c.TimesS[k-1])
	return c.piece(node, k).at(t)
}

// cubic is a stretch of a curve, t from 0 to 1.
type cubic struct {
	fromK, toK           float64
	fromSlopeK, toSlopeK float64 // change over the stretch at its ends' slopes
}

// piece returns the stretch that ends at step k.
func (c *Curve) piece(node, k int) cubic {
	h := c.TimesS[k] - c.TimesS[k-1]
	return cubic{
		fromK: c.TempsK[k-1][node], toK: c.TempsK[k][node],
		fromSlopeK: h * c.RatesKPerS[k-1][node], toSlopeK: h * c.RatesKPerS[k][node],
	}
}

func (p cubic) at(t float64) float64 {
	u := 1 - t
	return u*u*(1+2*t)*p.fromK + t*t*(1+2*u)*p.toK + t*u*u*p.fromSlopeK - t*t*u*p.toSlopeK
}

// tops returns where the stretch is level, 0 < t < 1. Bare numbers: shares of
// the stretch.
func (p cubic) tops() []float64 {
	rise := p.toK - p.fromK
	// Derivative: a·t² + b·t + c.
	a := 3 * (p.fromSlopeK + p.toSlopeK - 2*rise)
	b := 6*rise - 4*p.fromSlopeK - 2*p.toSlopeK
	c := p.fromSlopeK
	var out []float64
	keep := func(t float64) {
		if t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	if root := b*b - 4*a*c; root >= 0 {
		q := -(b + math.Copysign(math.Sqrt(root), b)) / 2
		if a != 0 {
			keep(q / a)
		}
		if q != 0 {
			keep(c / q)
		}
	}
	return out
}

// Peak is the highest temperature of a node and when it is met first.
type Peak struct{ TimeS, TempK float64 }

// Peak returns the peak of a node.
func (c *Curve) Peak(node int) Peak {
	best := Peak{TempK: c.TempsK[0][node]}
	see := func(timeS, tempK float64) {
		if tempK > best.TempK {
			best = Peak{TimeS: timeS, TempK: tempK}
		}
	}
	for k := 1; k < len(c.TimesS); k++ {
		p := c.piece(node, k)
		for _, t := range p.tops() {
			see(c.TimesS[k-1]+t*(c.TimesS[k]-c.TimesS[k-1]), p.at(t))
		}
		see(c.TimesS[k], c.TempsK[k][node])
	}
	return best
}

// cutsPerStep is into how many straight pieces a step is cut to find the time
// above a limit.
const cutsPerStep = 16

// AboveS returns for how long a node is above a limit.
func (c *Curve) AboveS(node int, limitK float64) float64 {
	var sumS float64
	for k := 1; k < len(c.TimesS); k++ {
		p := c.piece(node, k)
		cutS := (c.TimesS[k] - c.TimesS[k-1]) / cutsPerStep
		from := p.at(0) - limitK
		for i := 1; i <= cutsPerStep; i++ {
			to := p.at(float64(i)/cutsPerStep) - limitK
			switch {
			case from > 0 && to > 0:
				sumS += cutS
			case from > 0 || to > 0:
				sumS += cutS * math.Max(from, to) / math.Abs(from-to)
			}
			from = to
		}
	}
	return sumS
}
