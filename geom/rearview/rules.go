package rearview

import (
	"math"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// Names of the rules as the layout file writes them, and of the free field.
const (
	RuleUN   = "UN R46 class I"
	RuleUS   = "US 571.111"
	RuleFree = "free field"
)

// Figures of the rules; the sources stand in the texts of each.
const (
	unNearMM     = 60000.0
	unWidthMM    = 20000.0
	unLeastShare = 0.85
	usNearMM     = 61000.0
	usAngleDeg   = 20.0
	eyesApartMM  = 65.0  // Source: UN R46 para 12.1; the same text seen in a sister UN regulation.
	eyesOverRMM  = 635.0 // Source: as eyesApartMM.
)

// field is the road that must be seen under one rule: a convex polygon in the
// picture, counter-clockwise, with one side on the horizon or a corner there.
type field struct {
	rule       string
	poly       []dot
	near       float64 // Bare numbers: b of its near side
	nearXMM    float64 // of the near side, road frame
	eyeXMM     float64 // of the middle of the eyes, road frame
	leastShare float64
	text       ruleText
}

// ruleText says what a rule asks and how well its clauses are known.
type ruleText struct {
	Asks    say.Text `json:"asks"`
	State   say.Text `json:"load_state"`
	Sources []string `json:"sources"`
}

// strip returns the field between two sides of a road strip that begins at
// nearXMM. farXMM may be +Inf: the horizon.
func strip(midXMM, nearXMM, farXMM, halfMM float64) []dot {
	at := func(xMM, yMM float64) dot {
		if math.IsInf(xMM, 1) {
			return dot{}
		}
		return dot{yMM / (xMM - midXMM), pictureMM / (xMM - midXMM)}
	}
	poly := []dot{at(farXMM, halfMM), at(farXMM, -halfMM), at(nearXMM, -halfMM), at(nearXMM, halfMM)}
	if math.IsInf(farXMM, 1) {
		poly = poly[1:]
	}
	if area2(poly) < 0 {
		for i, j := 0, len(poly)-1; i < j; i, j = i+1, j-1 {
			poly[i], poly[j] = poly[j], poly[i]
		}
	}
	return poly
}

// unField is the strip of UN R46 from the middle of the eyes.
func unField(sight *sight) field {
	nearXMM := sight.eyes[middle].eye[0] + unNearMM
	return field{
		rule: RuleUN, poly: strip(sight.midXMM, nearXMM, math.Inf(1), unWidthMM/2),
		near: pictureMM / (nearXMM - sight.midXMM), nearXMM: nearXMM, eyeXMM: sight.eyes[middle].eye[0], leastShare: unLeastShare,
		text: ruleText{
			Asks:  say.Of("a flat, level road strip 20 m wide about the middle of the car, from 60 m behind the eyes to the horizon, seen by either eye; parts of the car may hide up to 15 % of it, as projected on an upright plane across the car"),
			State: say.Of("running order plus one front passenger of 75 kg"),
			Sources: []string{
				"UN R46 para 15.2.4.1, same text in 71/127/EEC Annex III 5.1-5.2: strip, either eye, load state (read)",
				"2003/97/EC Annex III wording: 15 % (read). It lists head restraints, visors, wipers, heating wires, stop lamp and body parts \"such as\" split-door pillars; counting a deck or engine cover among them is a judgment, no legal finding",
				"Eyes 65 mm apart, 635 mm above the R point: read in a sister UN regulation; paragraph number in R46 from memory",
			},
		},
	}
}

// usField is the wedge of 49 CFR 571.111: 20 degrees about straight back from
// the middle image eye, from 61 m behind the car.
func usField(sight *sight, rearXMM float64) field {
	nearXMM := rearXMM + usNearMM
	near := pictureMM / (nearXMM - sight.midXMM)
	half := math.Tan(units.Rad(usAngleDeg) / 2)
	// A line from the image eye straight back runs at a = y·b/60 m.
	shift := sight.eyes[middle].image[1] * near / pictureMM
	return field{
		rule: RuleUS, poly: []dot{{-half, 0}, {half, 0}, {half + shift, near}, {-half + shift, near}},
		near: near, nearXMM: nearXMM, eyeXMM: sight.eyes[middle].eye[0], leastShare: 1,
		text: ruleText{
			Asks:  say.Of("at least 20 degrees from side to side, from the projected eye point, and level road from no more than 61 m behind the car to the horizon; shares are of the 20 degrees about straight back"),
			State: say.Of("driver and four passengers, or as many as the car seats, 68 kg each"),
			Sources: []string{
				"49 CFR 571.111 S5.1.1: angle, 61 m, load state (read second-hand, in quotations)",
				"Blocking: occupants and head restraints may hide part of it, no share is named (from memory); a part that hides the road is counted as a fail",
				"Eye point: middle of the two eyes given in the layout; the standard names eye reference points for a 95th-percentile male driver (from memory)",
			},
		},
	}
}

// freeField is a strip of the user's own.
func freeField(f *layout.RearField, sight *sight) (field, error) {
	eyeXMM := sight.eyes[middle].eye[0]
	nearXMM, farXMM := eyeXMM+f.NearMM, math.Inf(1)
	if f.FarMM != nil {
		if *f.FarMM <= f.NearMM {
			return field{}, fault("/field", say.Of("far_mm is not beyond near_mm"), say.Of("give a greater far_mm, or leave it out for the horizon"))
		}
		farXMM = eyeXMM + *f.FarMM
	}
	out := field{
		rule: RuleFree, nearXMM: nearXMM, eyeXMM: eyeXMM, leastShare: 1,
		text: ruleText{Asks: say.Of("the road strip that the layout gives"), State: say.Of("as the layout says"), Sources: []string{"the layout"}},
	}
	if f.LeastShare != nil {
		out.leastShare = *f.LeastShare
	}
	if nearXMM-sight.midXMM < leastMM {
		return field{}, fault("/field/near_mm", say.Of("the field begins in front of the image of the eyes"), say.Of("give a greater near_mm"))
	}
	out.poly = strip(sight.midXMM, nearXMM, farXMM, f.WidthMM/2)
	out.near = pictureMM / (nearXMM - sight.midXMM)
	return out, nil
}
