package balance

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom/layout"
)

// spread is how far the inputs may be off.
type spread struct {
	sourceK, emissivity     float64
	leastFactor, mostFactor float64 // of films
	airK                    float64
}

// usualSpread is taken where the layout gives none. Common practice, no source.
var usualSpread = spread{sourceK: 50, emissivity: 0.1, leastFactor: 0.5, mostFactor: 1.5, airK: 20} // Read-only.

// spreadOf returns the layout's spread, the usual one where it is silent.
func spreadOf(s *layout.Spread) spread {
	out := usualSpread
	if s == nil {
		return out
	}
	if s.SourceK != nil {
		out.sourceK = *s.SourceK
	}
	if s.Emissivity != nil {
		out.emissivity = *s.Emissivity
	}
	if s.Film != nil {
		out.leastFactor, out.mostFactor = s.Film[0], s.Film[1]
	}
	if s.AirK != nil {
		out.airK = *s.AirK
	}
	return out
}

// variation moves one input; the zero value moves none.
type variation struct {
	sourceK          float64
	sourceEmissivity float64 // added to that of held parts
	ownEmissivity    float64 // added to that of all others
	filmFactor       float64 // 0 stands for 1
	airK             float64
}

// inputs are what is moved one at a time, each both ways.
const inputs = 5

// variations returns the nominal state first, then each input moved down and
// up.
func (s spread) variations() []variation {
	return []variation{
		{},
		{sourceK: -s.sourceK},
		{sourceK: s.sourceK},
		{sourceEmissivity: -s.emissivity},
		{sourceEmissivity: s.emissivity},
		{ownEmissivity: -s.emissivity},
		{ownEmissivity: s.emissivity},
		{filmFactor: s.leastFactor},
		{filmFactor: s.mostFactor},
		{airK: -s.airK},
		{airK: s.airK},
	}
}

// movesEmissivity reports whether the exchange of radiation changes.
func (v variation) movesEmissivity() bool { return v.sourceEmissivity != 0 || v.ownEmissivity != 0 }

// The emissivities that a variation may reach: no surface is a perfect mirror
// or black. One that is given outside stays as given.
const (
	leastEmissivity = 0.01
	mostEmissivity  = 0.99
)

// moved returns an emissivity moved by a variation.
func (v variation) moved(emissivity float64, held bool) float64 {
	by := v.ownEmissivity
	if held {
		by = v.sourceEmissivity
	}
	if by == 0 {
		return emissivity
	}
	least, most := math.Min(leastEmissivity, emissivity), math.Max(mostEmissivity, emissivity)
	return math.Max(least, math.Min(most, emissivity+by))
}

// film returns the factor on films.
func (v variation) film() float64 {
	if v.filmFactor == 0 {
		return 1
	}
	return v.filmFactor
}

// band joins one figure per variation, nominal first, by the root of the
// squares of the changes.
func band(tempsK []float64) (lowK, highK float64) {
	var down, up float64 // K²
	nominalK := tempsK[0]
	for i := range inputs {
		a, b := tempsK[1+2*i]-nominalK, tempsK[2+2*i]-nominalK
		least, most := math.Min(0, math.Min(a, b)), math.Max(0, math.Max(a, b))
		down += least * least
		up += most * most
	}
	return nominalK - math.Sqrt(down), nominalK + math.Sqrt(up)
}

// inputNames are what the variations move, in their order. Read-only.
var inputNames = [inputs]string{"temperature of held parts", "emissivity of held parts", "emissivity of all others", "film", "air"}

// effects returns what every input does, the largest first, from one figure per
// variation, nominal first.
func effects(tempsK []float64) []Effect {
	out := make([]Effect, 0, inputs)
	for i, name := range inputNames {
		a, b := tempsK[1+2*i]-tempsK[0], tempsK[2+2*i]-tempsK[0]
		out = append(out, Effect{Input: name, DownK: math.Min(0, math.Min(a, b)), UpK: math.Max(0, math.Max(a, b))})
	}
	slices.SortStableFunc(out, func(a, b Effect) int { return cmp.Compare(b.UpK-b.DownK, a.UpK-a.DownK) })
	return out
}
