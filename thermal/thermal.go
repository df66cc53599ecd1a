package thermal

// StefanBoltzmannWM2K4 is the Stefan–Boltzmann constant.
//
// Source: CODATA 2018 recommended value, 5.670374419e-8 W/(m²·K⁴).
const StefanBoltzmannWM2K4 = 5.670374419e-8

// ZeroCelsiusK is 0 °C in kelvin.
//
// Source: definition of the degree Celsius, SI Brochure, 9th edition.
const ZeroCelsiusK = 273.15

// GravityMS2 is the acceleration of fall used for natural convection.
//
// Source: standard acceleration of free fall, CGPM 1901.
const GravityMS2 = 9.80665

// Caution stands beside every heat figure.
const Caution = "Estimate for comparing positions. Not a release. Measure before use."

// Validation says what the heat figures were held against, and what not.
const Validation = "No measured validation yet: held against published closed forms and worked examples only."

// EmissiveWM2 returns what a black surface radiates, W/m².
func EmissiveWM2(surfaceK float64) float64 {
	t2 := surfaceK * surfaceK
	return StefanBoltzmannWM2K4 * t2 * t2
}

// Kelvin returns the absolute temperature of a reading in °C.
func Kelvin(readingDegC float64) float64 { return readingDegC + ZeroCelsiusK }

// Celsius returns the reading in °C of an absolute temperature.
func Celsius(absoluteK float64) float64 { return absoluteK - ZeroCelsiusK }
