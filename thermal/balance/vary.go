package balance

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// spread is how far the inputs may be off.
type spread struct {
	sourceK, emissivity     float64
	leastFactor, mostFactor float64 // of films
	airK, surroundingsK     float64
	// materials: the layout gives no spread of emissivities, so that each
	// material's own low and high are taken.
	materials bool
}

// usualSpread is taken where the layout gives none. Common practice, no source.
// Read-only.
var usualSpread = spread{
	sourceK: 50, emissivity: 0.1, leastFactor: 0.5, mostFactor: 1.5, airK: 20, surroundingsK: 20, materials: true,
}

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
		out.emissivity, out.materials = *s.Emissivity, false
	}
	if s.Film != nil {
		out.leastFactor, out.mostFactor = s.Film[0], s.Film[1]
	}
	if s.AirK != nil {
		out.airK = *s.AirK
	}
	if s.SurroundingsK != nil {
		out.surroundingsK = *s.SurroundingsK
	}
	return out
}

// variation moves inputs; the zero value moves none.
type variation struct {
	// How held temperatures stand between their low (−1), given (0) and high (1)
	// figures. Bare numbers: a share.
	heldSide float64
	// Where the emissivities of held parts and of all others stand between
	// their low (−1), nominal (0) and high (1) figures. Bare numbers: shares.
	sourceSide, ownSide float64
	filmFactor          float64 // 0 stands for 1
	airK, surroundingsK float64
}

// inputs are what is moved one at a time, each both ways.
const inputs = 6

// inputNames are what the variations move, in their order. Read-only.
var inputNames = [inputs]say.Text{
	say.Of("temperature of held parts"), say.Of("emissivity of held parts"), say.Of("emissivity of all others"), say.Of("film"), say.Of("air"), say.Of("surroundings"),
}

// variations returns the nominal state first, then each input moved down and
// up.
func (s spread) variations() []variation {
	return []variation{
		{},
		{heldSide: -1},
		{heldSide: 1},
		{sourceSide: -1},
		{sourceSide: 1},
		{ownSide: -1},
		{ownSide: 1},
		{filmFactor: s.leastFactor},
		{filmFactor: s.mostFactor},
		{airK: -s.airK},
		{airK: s.airK},
		{surroundingsK: -s.surroundingsK},
		{surroundingsK: s.surroundingsK},
	}
}

// movesEmissivity reports whether the exchange of radiation changes.
func (v variation) movesEmissivity() bool { return v.sourceSide != 0 || v.ownSide != 0 }

// The emissivities that a variation may reach: no surface is a perfect mirror
// or black. One that is given outside stays as given.
const (
	leastEmissivity = 0.01
	mostEmissivity  = 0.99
)

// surface is the emissivity of one side with how far it may be off.
type surface struct{ lowEmissivity, emissivity, highEmissivity float64 }

// around returns a surface that may be off by so much either way.
func around(emissivity, byShare float64) surface {
	return surface{
		lowEmissivity:  math.Max(math.Min(leastEmissivity, emissivity), emissivity-byShare),
		emissivity:     emissivity,
		highEmissivity: math.Min(math.Max(mostEmissivity, emissivity), emissivity+byShare),
	}
}

// moved returns the emissivity in a variation.
func (s surface) moved(v variation, held bool) float64 {
	side := v.ownSide
	if held {
		side = v.sourceSide
	}
	if side < 0 {
		return s.emissivity + side*(s.emissivity-s.lowEmissivity)
	}
	return s.emissivity + side*(s.highEmissivity-s.emissivity)
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
