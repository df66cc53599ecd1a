package convect

import "math"

// plateTurbulent is the Reynolds number at which the flow along a flat plate
// turns turbulent.
const plateTurbulent = 5e5

// plateOffset is what the mixed law takes off so that it meets the laminar one
// at plateTurbulent. In print it is rounded to 871, which leaves a step of a
// thousandth there, and a plate on that step without a balance.
var plateOffset = 0.037*math.Pow(plateTurbulent, 0.8) - 0.664*math.Sqrt(plateTurbulent) // Read-only.

// PlateAlong returns the mean Nusselt number of a flat plate swept along its
// length, laminar below Reynolds 5e5, mixed above.
//
// Source: Lienhard ch. 7 (from memory): 0.664 Re^1/2 Pr^1/3 and
// (0.037 Re^4/5 − 871) Pr^1/3.
func PlateAlong(reynolds, prandtl float64) float64 {
	if reynolds <= plateTurbulent {
		return 0.664 * math.Sqrt(reynolds) * math.Cbrt(prandtl)
	}
	return (0.037*math.Pow(reynolds, 0.8) - plateOffset) * math.Cbrt(prandtl)
}

// CylinderAcross returns the mean Nusselt number of a cylinder across the flow,
// Reynolds times Prandtl above 0.2.
//
// Source: Churchill & Bernstein 1977; Lienhard ch. 7.
func CylinderAcross(reynolds, prandtl float64) float64 {
	low := 0.62 * math.Sqrt(reynolds) * math.Cbrt(prandtl) / math.Pow(1+math.Pow(0.4/prandtl, 2.0/3), 0.25)
	return 0.3 + low*math.Pow(1+math.Pow(reynolds/282000, 5.0/8), 0.8)
}
