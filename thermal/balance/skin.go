package balance

import (
	"math"

	"aftbay/thermal"
)

// coupleWM2K is how well a patch of the part's surface is joined to its bulk:
// conductivity over wall. What the layout does not say is taken by role, as for
// the heat capacity.
func (p *part) coupleWM2K() float64 {
	w := p.wallOf()
	return w.solid.ConductivityWMK / math.Max(w.thicknessM, leastWallM)
}

// leastWallM keeps the coupling of a wall without thickness finite.
const leastWallM = 1e-5

// skin is one patch in its balance.
type skin struct {
	emissivity, receivedWM2 float64
	filmWM2K, airK          float64
	coupleWM2K, bulkK       float64
}

// skinSteps of Newton's method reach rounding: the gain falls steadily and
// bends one way, and the search starts above the root.
const skinSteps = 50

// settleK returns the temperature of a patch at which what it absorbs, takes
// from the air and passes to the bulk add up to nothing.
func (s skin) settleK() float64 {
	tempK := math.Max(math.Max(s.bulkK, s.airK), math.Sqrt(math.Sqrt(s.receivedWM2/thermal.StefanBoltzmannWM2K4)))
	for range skinSteps {
		gainWM2 := s.emissivity*(s.receivedWM2-thermal.EmissiveWM2(tempK)) + s.filmWM2K*(s.airK-tempK) + s.coupleWM2K*(s.bulkK-tempK)
		slopeWM2K := 4*s.emissivity*thermal.StefanBoltzmannWM2K4*tempK*tempK*tempK + s.filmWM2K + s.coupleWM2K
		tempK += gainWM2 / slopeWM2K
		if math.Abs(gainWM2) < settledK*slopeWM2K {
			break
		}
	}
	return tempK
}
