package units

import (
	"math"

	"aftbay/geom/say"
)

// Exact by definition.
const (
	// zeroDegCK is 0 °C in kelvin.
	// Source: SI Brochure, 9th edition, section 2.3.1 (from memory).
	zeroDegCK = 273.15
	// inchMM is the international inch.
	// Source: NIST SP 811, 2008, appendix B.6 (from memory).
	inchMM = 25.4
	// poundKg is the avoirdupois pound.
	// Source: NIST SP 811, 2008, appendix B.6 (from memory).
	poundKg = 0.45359237

	mPerMM = 1e-3
)

// M returns a length in metres.
func M(mm float64) float64 { return mm * mPerMM }

// MM returns a length in millimetres.
func MM(lengthM float64) float64 { return lengthM / mPerMM }

// M2 returns an area in square metres.
func M2(mm2 float64) float64 { return mm2 * (mPerMM * mPerMM) }

// Rad returns an angle in radians.
func Rad(deg float64) float64 { return deg * (math.Pi / 180) }

// Deg returns an angle in degrees.
func Deg(rad float64) float64 { return rad * (180 / math.Pi) }

// K returns an absolute temperature in kelvin.
func K(degC float64) float64 { return degC + zeroDegCK }

// DegC returns an absolute temperature in degrees Celsius.
func DegC(tempK float64) float64 { return tempK - zeroDegCK }

// MeshFactor returns what multiplies the numbers of a mesh file to give mm. An
// empty unit means mm.
func MeshFactor(unit string) (factor float64, err error) {
	switch unit {
	case "", "mm":
		return 1, nil
	case "cm":
		return 10, nil
	case "m":
		return 1000, nil
	case "in":
		return inchMM, nil
	}
	return 0, say.Errorf("mesh unit %q is not known; use mm, cm, m or in", unit)
}
