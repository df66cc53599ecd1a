package desk

import "aftbay/gui/phrase"

// Card is one card of the tour: words, and what they speak of.
type Card struct {
	Title, Text string
	Look        func(s *State, a *Attention) // shows it
}

// Tour returns the six cards that lead a newcomer through the demo. They hold on
// any layout: where it has nothing to show, they only tell.
func Tour() []Card {
	return []Card{
		{phrase.Of("Six questions"), phrase.Of("The strip along the top answers six questions about the layout, always for the state that you see. Each answer has a sign: round holds, a triangle comes close, a square misses, a diamond overlaps. A click opens its page at the right."), page(Fits)},
		{phrase.Of("What does not fit"), phrase.Of("The worst finding is shown: the two parts, cut through the place where they come nearest, with the distance. The page lists them all; Control with arrow down goes to the next. Below stand how the gap is used up, the source of the rule, and the decision."), worstFinding},
		{phrase.Of("Move it"), phrase.Of("The part is selected: arrow keys move it by 1 mm, with Shift by 10, with Alt by 0.1; dragged with Control held it comes along with the pointer. Distances follow at once, and Control+Z takes back every step."), worstPart},
		{phrase.Of("Let it down"), phrase.Of("The slider under the scene lowers the powertrain and says what stops it, and where. The page lists every limit, the curves of ground clearance and joint angles, and what the drop buys."), page(Lowers)},
		{phrase.Of("What gets hot, and where else"), phrase.Of("Each part has a low, a nominal and a high temperature and the parts that heat it. Control+5 looks for cooler places to mount a coil: take one, and it stands there. ") + HeatCaution, page(Heats)},
		{phrase.Of("Defend it"), phrase.Of("Control+T puts the findings on the wall, one a slide, and takes decisions as they are spoken. Control+E writes the packet: its numbers are those on the screen. Help tells the keys (F1) and how the numbers are made."), page(Fits)},
	}
}

// page looks at the page of a question.
func page(q Question) func(*State, *Attention) {
	return func(_ *State, a *Attention) { a.Page, a.Finding, a.Selected, a.Rank = q, "", nil, 0 }
}

func worstFinding(s *State, a *Attention) {
	page(Fits)(s, a)
	if r := s.Answers.Fit.Value; r != nil {
		if w := r.Worst(); w != nil {
			a.Finding = w.ID
		}
	}
}

func worstPart(s *State, a *Attention) {
	page(Fits)(s, a)
	if r := s.Answers.Fit.Value; r != nil {
		if w := r.Worst(); w != nil {
			a.Selected = []string{w.A}
		}
	}
}

// Made is one section of the page on how the numbers are made.
type Made struct{ Title, Text string }

// HowMade says how each number is made, how far it can be off, and what it
// rests on.
func HowMade() []Made {
	return []Made{
		{phrase.Of("Clearance, static and hot"), phrase.Of("Exact for the triangles given: every pair of triangles that could be nearest is compared in double precision, crossings by exact arithmetic. The error stands beside each gap, below 0.000001 mm; a mesh file itself holds about seven digits. How far facets may lie off the true surface is estimated beside the gap. One inside the other is told by winding numbers, which closed meshes have; open ones are flagged. Hot scales each part with growth about its anchor.")},
		{phrase.Of("Moving, and all together"), phrase.Of("The least clearance over the whole motion box, by branch and bound with a proven bound, not a sample of corners: the truth lies between the figure less its error and the figure. An overlap on the way is found for certain, its depth is that of the deepest pose tried. All together takes the tolerances of both parts off as a plain sum; the root sum square stands beside it.")},
		{phrase.Of("Rules"), phrase.Of("The most specific rule wins: part over role over group. Every rule shows its source; one without says “habit, no standard”.")},
		{phrase.Of("How low"), phrase.Of("Ground clearance and joint angles have closed forms. A clearance changes by the drop at most, so the walk down can miss nothing but windows narrower than half a millimetre between two overlaps. Tyres are rigid; a mass that is not given is estimated from a density and says so.")},
		{phrase.Of("Rear view"), phrase.Of("Areas of exact outlines in the road's picture as either eye has it by the mirror; the mirror is flat, panes do not bend light. Rules: UN R46 paragraph 15.2.4.1, 49 CFR 571.111 S5.1.1. A check of the geometry, no approval.")},
		{phrase.Of("What gets hot"), phrase.Of("Grey, diffuse surfaces that exchange radiation by view factors from rays, held within 1 % or 0.001 of published closed forms; films of air by published correlations (Churchill and Chu 1975, Churchill and Bernstein 1977; from memory); Stefan–Boltzmann constant of CODATA 2018. One temperature for each part. Low and high move one input at a time by its spread and join the changes by root sum square: the band covers those inputs, not the method. ") + HeatCaution},
		{phrase.Of("Where it can be mounted"), phrase.Of("Places are samples of the hosts' surfaces, so that a small free one may be missed; every place shown was tested exactly for clearance, reach and tool room, and by the heat estimate for temperature.")},
		{phrase.Of("What changed"), phrase.Of("Moves are exact; a change of shape is the largest distance between both surfaces, both ways, and the truth lies within the error beside it.")},
		{phrase.Of("The same everywhere"), phrase.Of("Window, command line and packet print one figure from one source. The same layout gives the same digits on any number of processors.")},
		{phrase.Of("Be careful"), hurts + phrase.Of(" Never work under a raised vehicle or a hanging powertrain that is not on stands or slings made for it.")},
	}
}
