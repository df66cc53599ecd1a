package convect

import (
	"math"

	"aftbay/thermal"
)

// Stream is one surface in air, as the correlations see it.
type Stream struct {
	SurfaceK, AirK float64
	LengthM        float64 // characteristic length
	SpeedMS        float64 // of the air; 0 is still
}

// rayleigh returns the Rayleigh number of a surface in air of given properties.
func (s Stream) rayleigh(a Air) float64 {
	l := s.LengthM
	grashof := thermal.GravityMS2 * a.ExpansionPerK * math.Abs(s.SurfaceK-s.AirK) * l * l * l / (a.KinematicM2S * a.KinematicM2S)
	return grashof * a.Prandtl
}

// reynolds returns the Reynolds number of the flow along or across a surface.
func (s Stream) reynolds(a Air) float64 { return s.SpeedMS * s.LengthM / a.KinematicM2S }

// VerticalPlate returns the mean Nusselt number of a vertical plate in still
// fluid over its height, for all Rayleigh numbers to 1e12.
//
// Source: Churchill & Chu 1975a, eq. for the whole range; Lienhard ch. 8.
func VerticalPlate(rayleigh, prandtl float64) float64 {
	root := 0.825 + 0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.492/prandtl, 9.0/16), 8.0/27)
	return root * root
}

// VerticalPlateLaminar returns the same for laminar flow, Rayleigh below 1e9.
//
// Source: Churchill & Chu 1975a, laminar form.
func VerticalPlateLaminar(rayleigh, prandtl float64) float64 {
	return 0.68 + 0.670*math.Pow(rayleigh, 0.25)/math.Pow(1+math.Pow(0.492/prandtl, 9.0/16), 4.0/9)
}

// LevelCylinder returns the mean Nusselt number of a horizontal cylinder in
// still fluid over its diameter, Rayleigh to 1e12.
//
// Source: Churchill & Chu 1975b; Lienhard eq. 8.30.
func LevelCylinder(rayleigh, prandtl float64) float64 {
	root := 0.60 + 0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.559/prandtl, 9.0/16), 8.0/27)
	return root * root
}

// stillPlateNusselt is what a level plate keeps by conduction alone when the
// plume fades; it joins the correlations, which would fall to zero.
const stillPlateNusselt = 0.5 // common practice, no source

// levelPlateLaminar and levelPlateTurbulent are the Rayleigh numbers up to which
// the plume over a level plate is taken as laminar and from which as turbulent:
// textbooks print the one or the other as the limit of both laws, which do not
// meet at either (from memory).
const (
	levelPlateLaminar   = 8e6
	levelPlateTurbulent = 1e7
)

// LevelPlateRising returns the mean Nusselt number of the face of a level plate
// from which the plume rises freely: a hot face up or a cold face down. Its
// length is area over perimeter. Between the two limits the laws are joined by a
// straight line: a step there would leave some plates without a temperature at
// which their flows balance.
//
// Source: the 0.54 and 0.15 laws as Lienhard ch. 8 and other textbooks print
// them, Rayleigh 1e4 to 1e11 (from memory).
func LevelPlateRising(rayleigh float64) float64 {
	laminar, turbulent := 0.54*math.Pow(rayleigh, 0.25), 0.15*math.Cbrt(rayleigh)
	share := min(1, max(0, (rayleigh-levelPlateLaminar)/(levelPlateTurbulent-levelPlateLaminar)))
	return math.Max(laminar+share*(turbulent-laminar), stillPlateNusselt)
}

// LevelPlateTrapped returns the same for the face that holds the plume back: a
// hot face down or a cold face up.
//
// Source: the 0.27 law, Rayleigh 1e5 to 1e10 (from memory).
func LevelPlateTrapped(rayleigh float64) float64 {
	return math.Max(0.27*math.Pow(rayleigh, 0.25), stillPlateNusselt)
}
