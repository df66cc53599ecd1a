package drop

import (
	"aftbay/geom"
	"aftbay/geom/layout"
)

// gravityMS2 is standard gravity, ISO 80000-3.
const gravityMS2 = 9.80665

// CGAt returns the vehicle's centre of gravity after a part of its mass moved
// by the given shift: (m/M)·shift further.
func CGAt(cg geom.Vec, massKg, movedKg float64, shift geom.Vec) geom.Vec {
	return cg.Add(shift.Mul(movedKg / massKg))
}

// LoadTransferN returns the load that goes from the inner to the outer wheels
// of the whole car in a steady turn: m·a·h/t, with the centre of gravity h
// above the ground and the track t.
func LoadTransferN(massKg, lateralG, heightMM, trackMM float64) float64 {
	return massKg * lateralG * gravityMS2 * heightMM / trackMM
}

// StabilityFactor returns the static stability factor t/2h, a ratio.
//
// Source: NHTSA rollover rating notice, chapter V.
func StabilityFactor(trackMM, heightMM float64) float64 { return trackMM / (2 * heightMM) }

// lateralG returns the vehicle's lateral acceleration for the load transfer, 1
// where not given.
func lateralG(v *layout.Vehicle) float64 {
	if v.LateralG == nil {
		return 1
	}
	return *v.LateralG
}
