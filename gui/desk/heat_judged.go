package desk

import (
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// judgedHeat counts the parts of some cases by their worst verdict.
type judgedHeat struct {
	over, nominal, near int               // over their limit; of those, at the nominal figure too; close to it
	worst               *balance.PartHeat // furthest over or nearest to its limit; nil without any limit
	in                  string            // the case of the worst
}

// judge counts how parts stand against their limits.
func judge(cases []balance.Case) judgedHeat {
	var n judgedHeat
	over, nominal, near := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for k := range cases {
		for i := range cases[k].Parts {
			p := &cases[k].Parts[i]
			if p.LimitDegC == nil {
				continue
			}
			switch p.Verdict {
			case balance.Over:
				over[p.Name] = true
				if *p.MarginK < 0 {
					nominal[p.Name] = true
				}
			case balance.Close:
				near[p.Name] = true
			}
			if n.worst == nil || compareHeat(*p, *n.worst) < 0 {
				n.worst, n.in = p, cases[k].Name
			}
		}
	}
	n.over, n.nominal = len(over), len(nominal)
	for name := range near {
		if !over[name] {
			n.near++
		}
	}
	return n
}

// text counts in words.
func (n *judgedHeat) text() string {
	text := phrase.F("%d parts over their limit at the high end", n.over)
	if n.over == 1 {
		text = phrase.Of("1 part over its limit at the high end")
	}
	if n.nominal > 0 {
		text += phrase.F(", %d at the nominal too", n.nominal)
	}
	return text + phrase.F(", %d close", n.near)
}
