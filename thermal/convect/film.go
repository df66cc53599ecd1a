package convect

import "math"

// Kind is the plain shape that stands for a part.
type Kind int

// The shapes that have a correlation.
const (
	UprightPlate  Kind = iota // length: height
	LevelPlate                // length: area over perimeter
	Cylinder                  // level or round body; length: diameter
	UprightColumn             // round, standing; length: height still, diameter in flow
)

// Body is a part as the choice of correlation sees it.
type Body struct {
	Kind    Kind
	LengthM float64 // for still air
	FlowM   float64 // for flow; LengthM where 0
}

// FilmWM2K returns the film coefficient of a body in air: natural and forced
// convection blended, properties at film temperature. Source: method of the
// power sum, Churchill 1977 (from memory).
func (b Body) FilmWM2K(s Stream) float64 {
	air := AirAt((s.SurfaceK + s.AirK) / 2)
	natural, flow := s, s
	natural.LengthM, flow.LengthM = b.LengthM, b.FlowM
	if flow.LengthM == 0 {
		flow.LengthM = b.LengthM
	}
	stillWM2K := b.still(natural.rayleigh(air), air.Prandtl) * air.ConductivityWMK / natural.LengthM
	if s.SpeedMS <= 0 {
		return stillWM2K
	}
	sweptWM2K := b.swept(flow.reynolds(air), air.Prandtl) * air.ConductivityWMK / flow.LengthM
	return blend(stillWM2K, sweptWM2K, b.power())
}

// still returns the Nusselt number in still air.
func (b Body) still(rayleigh, prandtl float64) float64 {
	switch b.Kind {
	case UprightPlate, UprightColumn:
		return VerticalPlate(rayleigh, prandtl)
	case LevelPlate: // both faces swept: one frees its plume, one holds it
		return (LevelPlateRising(rayleigh) + LevelPlateTrapped(rayleigh)) / 2
	default:
		return LevelCylinder(rayleigh, prandtl)
	}
}

// swept returns the Nusselt number in a flow.
func (b Body) swept(reynolds, prandtl float64) float64 {
	if b.Kind == Cylinder || b.Kind == UprightColumn {
		return CylinderAcross(reynolds, prandtl)
	}
	return PlateAlong(reynolds, prandtl)
}

// power returns the exponent of the blend.
func (b Body) power() float64 {
	if b.Kind == Cylinder || b.Kind == UprightColumn {
		return 4
	}
	return 3
}

// blend returns (aⁿ + bⁿ)^(1/n) without overflow. Bare numbers: the power is
// an exponent.
func blend(aWM2K, bWM2K, power float64) float64 {
	big, small := math.Max(aWM2K, bWM2K), math.Min(aWM2K, bWM2K)
	if big <= 0 {
		return 0
	}
	return big * math.Pow(1+math.Pow(small/big, power), 1/power)
}
