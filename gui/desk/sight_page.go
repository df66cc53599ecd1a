package desk

import (
	"aftbay/geom/clearance"
	"aftbay/geom/units"
)

// SightPage lists what stands in or near the sight-line keep-out, and says what
// this page does not answer yet.
func SightPage(s *State) (t Table, sentences []string) {
	t = Table{Columns: []Column{text("part"), text("keep-out"), number("free mm"), text("state")}}
	r := s.Answers.Fit.Value
	if r == nil {
		return t, []string{"Computing …"}
	}
	for _, p := range Pressing(r) {
		if p.RoleA != "sightline" && p.RoleB != "sightline" || p.Verdict == clearance.NoRule {
			continue
		}
		part, keep := p.A, p.B
		if p.RoleA == "sightline" {
			part, keep = p.B, p.A
		}
		t.Rows = append(t.Rows, Row{
			Cells:   []string{part, keep, units.NumberMM(p.ClearanceMM), p.State},
			Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B},
		})
	}
	first := "Keep-out solid of the sight line: " + sightLine(r).answer + "."
	if len(t.Rows) == 0 {
		first = "No part has the role sightline: draw the region that must stay free as a solid, give it that role, and it is checked here."
	}
	return t, []string{
		first,
		"Not computed yet: what each eye sees of the road in the mirror, the share lost, and the nearest road point. The keep-out solid stands in for it.",
	}
}
