package desk

import (
	"fmt"

	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

func sayDrop(r *drop.Result) []said {
	if r.WindowMM != nil && r.Binding.High != nil {
		return []said{{fmt.Sprintf("%s to %s; then %s", units.NumberMM(r.WindowMM[0]), units.FormatMM(r.WindowMM[1]), afterColon(r.Binding.High.Sentence)), r.Verdict}}
	}
	return []said{{DropSentence(r), r.Verdict}}
}

func sayHeat(r *balance.Result) []said {
	over, worst, in := hottest(r)
	if worst == nil {
		return []said{{"no part has a temperature limit", ""}}
	}
	answer := fmt.Sprintf("%s %s to %s (%s), limit %s", worst.Name, units.NumberDegC(worst.Temperature.LowDegC),
		units.FormatDegC(worst.Temperature.HighDegC), in, units.FormatDegC(*worst.LimitDegC))
	if over > 0 {
		answer = fmt.Sprintf("%d over; worst %s", over, answer)
	}
	return []said{{answer, worst.Verdict}}
}

// hottest returns the part nearest to or furthest over its limit in any case,
// the name of that case, and how many parts are over theirs in some case.
func hottest(r *balance.Result) (over int, worst *balance.PartHeat, in string) {
	hot := map[string]bool{}
	for k := range r.Cases {
		for i := range r.Cases[k].Parts {
			p := &r.Cases[k].Parts[i]
			if p.Verdict == balance.Over {
				hot[p.Name] = true
			}
			if p.MarginK != nil && (worst == nil || compareHeat(*p, *worst) < 0) {
				worst, in = p, r.Cases[k].Name
			}
		}
	}
	return len(hot), worst, in
}

func saySpots(r *spot.Result) []said {
	if len(r.Studies) == 0 {
		return []said{{"the layout seeks no place", ""}}
	}
	answer, verdict := "", balance.OK
	for i := range r.Studies {
		st := &r.Studies[i]
		if i > 0 {
			answer += "; "
		}
		if len(st.Spots) == 0 {
			answer += st.Name + ": no place found"
			verdict = "short"
			continue
		}
		if st.Spots[0].Verdict == balance.Close && verdict == balance.OK {
			verdict = balance.Close
		}
		answer += fmt.Sprintf("%s: on %s", st.Name, st.Spots[0].Host)
		if t := st.Spots[0].Temperature; t != nil {
			answer += " at " + units.FormatDegC(t.NominalDegC)
		}
	}
	return []said{{answer, verdict}}
}
