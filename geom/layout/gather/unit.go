package gather

import (
	"math"
	"strconv"

	"aftbay/geom/say"
	"aftbay/geom/units"
)

// sizes is how large the largest side of a part of some role usually is.
type sizes struct{ leastMM, mostMM float64 }

// usual are the usual sizes by role. Common practice, no source. Read-only.
var usual = map[string]sizes{
	"engine":     {60, 1200},
	"transaxle":  {60, 1000},
	"exhaust":    {60, 2500},
	"intake":     {60, 1200},
	"oil tank":   {120, 700},
	"coil":       {30, 250},
	"sensor":     {10, 200},
	"harness":    {100, 4000},
	"hose":       {50, 3000},
	"fuel":       {50, 1500},
	"coolant":    {50, 1200},
	"brake":      {30, 3000},
	"body":       {300, 5000},
	"deck":       {400, 2500},
	"firewall":   {500, 2200},
	"suspension": {100, 1500},
	"half-shaft": {80, 1000},
	"wheel":      {350, 900},
	"mount":      {30, 500},
	"shield":     {50, 1500},
	"sightline":  {200, 8000},
	"road":       {1000, 30000},
	RoleOther:    {20, 4000},
}

// meshUnits are the units that a mesh may have, the likeliest first: it is
// taken where two suit alike. Read-only.
var meshUnits = []string{"mm", "m", "in", "cm"}

// The unit that all files together suit must lie this much nearer to the usual
// sizes than a file's own next best before the file gets a unit of its own, and
// two units whose misfit differs by less are told apart by nothing: a factor of
// two, natural logarithm. Common practice, no source.
const clearly = math.Ln2

// mostMisfit is the most by which one file speaks against a unit: a factor of
// eight. One that is in a unit of its own must not outvote the others. Common
// practice, no source.
const mostMisfit = 3 * math.Ln2

// misfit is how far a size lies outside the usual for a role, as the logarithm
// of the factor; 0 inside.
func misfit(role string, sizeMM float64) float64 {
	u, known := usual[role]
	if !known {
		u = usual[RoleOther]
	}
	switch {
	case sizeMM < u.leastMM:
		return math.Log(u.leastMM / sizeMM)
	case sizeMM > u.mostMM:
		return math.Log(sizeMM / u.mostMM)
	}
	return 0
}

// unitsOf proposes a unit for each file from its role and its largest side in
// the file's own unit.
func unitsOf(roles []string, sides []float64) []guess { // Bare numbers: sides are in the unit that is looked for
	all := map[string]float64{} // mean misfit of every unit over all files
	for _, unit := range meshUnits {
		for i, side := range sides {
			all[unit] += min(misfit(roles[i], side*factor(unit)), mostMisfit) / float64(len(sides))
		}
	}
	common, second := bestTwo(all)
	sure := all[second]-all[common] > clearly
	out := make([]guess, len(sides))
	for i, side := range sides {
		own := map[string]float64{}
		for _, unit := range meshUnits {
			own[unit] = misfit(roles[i], side*factor(unit))
		}
		unit, why := common, reason(roles[i], side, common)
		if best, _ := bestTwo(own); own[common]-own[best] > 2*clearly {
			unit, why = best, say.F("%s, unlike the other files", reason(roles[i], side, best))
		} else if !sure {
			why = say.F("%s; %s would suit nearly as well", why, second)
		}
		out[i] = guess{unit, why, sure && unit == common}
	}
	return out
}

// bestTwo returns the units with the least misfit, the likelier first at a tie.
func bestTwo(misfits map[string]float64) (best, second string) {
	for _, unit := range meshUnits {
		switch {
		case best == "" || misfits[unit] < misfits[best]:
			best, second = unit, best
		case second == "" || misfits[unit] < misfits[second]:
			second = unit
		}
	}
	return best, second
}

// reason words why a unit is proposed.
func reason(role string, side float64, unit string) say.Text { // Bare numbers: side is in the unit given
	u, known := usual[role]
	if !known {
		u = usual[RoleOther]
	}
	sizeMM := side * factor(unit)
	verdict := say.Of("suits")
	switch {
	case sizeMM < u.leastMM:
		verdict = say.Of("is small for")
	case sizeMM > u.mostMM:
		verdict = say.Of("is large for")
	}
	what := say.F("role %s", role)
	return say.F("largest side %s: in %s that is %s, which %s %s (usually %g to %g mm)",
		strconv.FormatFloat(side, 'g', 4, 64), unit, units.FormatMM(sizeMM), verdict, what, u.leastMM, u.mostMM)
}

// factor returns mm per unit; the units are those of meshUnits.
func factor(unit string) float64 {
	f, err := units.MeshFactor(unit)
	if err != nil {
		return math.NaN() // not reached: a test walks through meshUnits
	}
	return f
}
