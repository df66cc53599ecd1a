package convect

import "math"

// Air holds the properties of dry air at one temperature and one atmosphere.
type Air struct {
	DensityKgM3     float64
	ViscosityPaS    float64 // dynamic
	ConductivityWMK float64
	HeatJKgK        float64 // at constant pressure
	KinematicM2S    float64
	Prandtl         float64
	ExpansionPerK   float64
}

const (
	pressurePa     = 101325 // standard atmosphere, CGPM 1954
	gasJKgK        = 287.05 // dry air, from memory
	viscosityPaS   = 1.716e-5
	viscosityK     = 110.4 // Sutherland's constant of viscosity
	conductWMK     = 0.0241
	conductK       = 194.0 // Sutherland's constant of conductivity
	sutherlandRefK = 273.15
)

// AirAt returns the properties of air at a temperature, within about 3 % of
// printed tables from 250 to 1000 K.
//
// Source: Sutherland's law with the constants of White, Viscous Fluid Flow
// (from memory); ideal gas; heat capacity by a fourth-degree fit (from memory).
func AirAt(filmK float64) Air {
	share := filmK / sutherlandRefK
	rise := share * math.Sqrt(share)
	a := Air{
		DensityKgM3:     pressurePa / (gasJKgK * filmK),
		ViscosityPaS:    viscosityPaS * rise * (sutherlandRefK + viscosityK) / (filmK + viscosityK),
		ConductivityWMK: conductWMK * rise * (sutherlandRefK + conductK) / (filmK + conductK),
		HeatJKgK:        1047.6 + filmK*(-0.3726+filmK*(9.45e-4+filmK*(-6.02e-7+filmK*1.2858e-10))),
		ExpansionPerK:   1 / filmK,
	}
	a.KinematicM2S = a.ViscosityPaS / a.DensityKgM3
	a.Prandtl = a.ViscosityPaS * a.HeatJKgK / a.ConductivityWMK
	return a
}
