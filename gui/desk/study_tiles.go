package desk

import (
	"strings"

	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

func sayDrop(r *drop.Result) []said {
	if r.WindowMM != nil && r.Binding.High != nil {
		return []said{{phrase.F("%s to %s; then %s", units.NumberMM(r.WindowMM[0]), units.FormatMM(r.WindowMM[1]), phrase.Say(r.Binding.High.Event)), r.Verdict}}
	}
	return []said{{DropSentence(r), r.Verdict}}
}

func sayHeat(r *balance.Result) []said {
	n := judge(r.Cases)
	if n.worst == nil {
		return []said{{phrase.Of("no part has a temperature limit"), ""}}
	}
	answer := phrase.F("%s %s (%s)", n.worst.Name, n.worst.Temperature.Against(*n.worst.LimitDegC), n.in)
	if n.over > 0 {
		answer = phrase.F("%d over; worst %s", n.over, answer)
	}
	return []said{{answer, n.worst.Verdict}}
}

func saySpots(r *spot.Result) []said {
	if len(r.Studies) == 0 {
		return []said{{phrase.Of("the layout seeks no place"), ""}}
	}
	answer, verdict, none := "", balance.OK, phrase.Of("no place found")
	if r.Refining {
		answer, none = firstResults, phrase.Of("no place yet")
	}
	for i := range r.Studies {
		st := &r.Studies[i]
		if i > 0 {
			answer += "; "
		}
		if len(st.Spots) == 0 {
			answer += st.Name + ": " + none
			verdict = "short"
			continue
		}
		if st.Spots[0].Verdict == balance.Close && verdict == balance.OK {
			verdict = balance.Close
		}
		answer += phrase.F("%s: on %s", st.Name, st.Spots[0].Host)
		if t := st.Spots[0].Temperature; t != nil {
			answer += " at " + units.FormatDegC(t.NominalDegC)
		}
	}
	if r.Refining {
		verdict = "" // better places may follow, or these turn out worse
	}
	return []said{{answer, verdict}}
}

// firstResults leads an answer that is not the last word. Read-only.
var firstResults = phrase.Of("first results: ")

// spotsTile is dimmed and without a verdict until the search is through.
func spotsTile(a *Answers) Tile {
	t := tileOf(&a.Spots, 0)
	if a.Spots.Rough && a.Spots.Err == nil {
		t.Stale, t.Busy = true, strings.Replace(t.Busy, "coarse", "refining", 1)
	}
	return t
}
