package desk

import (
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/gui/report"
	"aftbay/thermal/material"
)

// basis says what the answers rest on and what they leave out.
func (b *packer) basis(m *report.Model) error {
	b.unchecked(m)
	b.assumptions(m)
	b.sources(m)
	m.Cautions = reportCautions()
	return nil
}

func (b *packer) unchecked(m *report.Model) {
	r := b.s.Answers.Fit.Value
	if r == nil {
		return
	}
	for _, u := range r.Unchecked {
		if strings.HasPrefix(u.Reason.String(), "joined") {
			m.Joined = append(m.Joined, report.Joined{PartA: u.A, PartB: u.B})
			continue
		}
		m.Unchecked = append(m.Unchecked, report.Unchecked{What: u.A + " to " + u.B, State: u.State, Reason: phrase.Say(u.Reason)})
	}
	if n := r.Count()[clearance.NoRule]; n > 0 {
		m.Unchecked = append(m.Unchecked, report.Unchecked{What: phrase.F("%d pairs", n), State: "static", Reason: phrase.Of("measured, but no rule asks for a clearance")})
	}
	for i := range b.s.Scene.Parts {
		if p := &b.s.Scene.Parts[i]; !p.Closed {
			m.Unchecked = append(m.Unchecked, report.Unchecked{What: p.Name, Reason: phrase.Say(p.OpenText()) + phrase.Of(", so nothing can be found inside it")})
		}
	}
}

func (b *packer) assumptions(m *report.Model) {
	m.Assumptions = append(m.Assumptions,
		phrase.Of("Envelopes are rigid triangles as exported; fasteners, tool room and flexible parts count only where they are modelled."),
		phrase.Of("Findings that pass with room to spare are in findings.csv and findings.xlsx; the report lists those nearest to their limit."),
		phrase.Of("Temperatures: grey diffuse surfaces, one temperature for each part, air temperature and speed as given. ")+report.Estimate,
	)
	if d := b.s.Answers.Drop.Value; d != nil {
		m.Assumptions = append(m.Assumptions, phrase.All(d.Notes)...)
		if len(d.Mass.Missing) > 0 {
			m.Assumptions = append(m.Assumptions, phrase.Of("Without a mass, left out of the centre of gravity: ")+strings.Join(d.Mass.Missing, ", "))
		}
	}
	if h := b.s.Answers.Heat.Value; h != nil {
		m.Assumptions = append(m.Assumptions, phrase.All(h.Assumed)...)
	}
	if sp := b.s.Answers.Spots.Value; sp != nil {
		for i := range sp.Studies {
			for _, what := range sp.Studies[i].Assumed {
				m.Assumptions = append(m.Assumptions, sp.Studies[i].Name+": "+phrase.Say(what))
			}
		}
	}
	if notes := b.s.Doc.Notes; notes != "" {
		m.Assumptions = append(m.Assumptions, notes)
	}
}

// sources lists where the rules' figures come from, each text once.
func (b *packer) sources(m *report.Model) {
	seen := map[string]bool{}
	add := func(what, source string) {
		if source == "" || seen[source] {
			return
		}
		seen[source] = true
		m.Sources = append(m.Sources, report.Source{For: what, Text: source, Mark: markOf(source)})
	}
	for i := range m.Findings {
		if f := &m.Findings[i]; f.Source != "" {
			add("clearance, "+f.RoleA+" to "+f.RoleB, f.Source)
		}
	}
	m.Sources = append(m.Sources,
		report.Source{For: "radiation", Text: phrase.Of("Stefan–Boltzmann constant, CODATA 2018"), Mark: report.Seen},
		report.Source{For: phrase.Of("films of air"), Text: phrase.Of("Churchill & Chu 1975, Churchill & Bernstein 1977, flat-plate forms as in Lienhard & Lienhard, A Heat Transfer Textbook"), Mark: report.Memory},
		report.Source{For: phrase.Of("tolerance stacks"), Text: phrase.Of("Scholz, Tolerance stack analysis methods, 1995 (second-hand)"), Mark: report.Seen},
	)
}

func markOf(source string) report.Mark {
	switch {
	case clearance.IsHabit(source) || strings.Contains(source, "common practice"):
		return report.Habit
	case strings.Contains(source, "memory"):
		return report.Memory
	}
	return report.Seen
}

// reportCautions are the standing ones with the figures of the material tables.
func reportCautions() []report.Caution {
	list := report.StandingCautions()
	t := material.All()
	for _, b := range t.Burns {
		list[0].Rows = append(list[0].Rows, report.CautionRow{
			What: phrase.Of("bare smooth metal, contact ") + b.Contact, Range: b.Temperatures + " °C", From: t.Origin(b.Source, b.Status),
		})
	}
	for _, f := range t.Ignition {
		list[1].Rows = append(list[1].Rows, report.CautionRow{
			What:  f.Fluid,
			Range: units.NumberDegC(f.LowDegC) + " to " + units.FormatDegC(f.HighDegC),
			Note:  joined(phrase.Of("range over published hot-surface tests"), f.HighNote), From: t.Origin(f.Source, f.Status),
		})
	}
	return list
}
