package desk

import (
	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// DropTable lists the limits, the first to stop the group on top.
func DropTable(r *drop.Result) Table {
	t := Table{
		Title:   phrase.Of("How low can it go?"),
		Columns: []Column{text(phrase.Of("limit")), text(phrase.Of("kind")), number("most_mm"), text(phrase.Of("holds")), text(phrase.Of("source"))},
	}
	quiet := 0
	for _, l := range r.Limits {
		if !telling(l, r) {
			quiet++
			continue
		}
		verdict := "ok"
		if l.MostMM == nil || *l.MostMM < 0 {
			verdict = "short"
		} else if r.Binding.High != nil && r.Binding.High.Limit.String() == l.Name.String() {
			verdict = "close"
		}
		t.Rows = append(t.Rows, Row{
			Cells:   []string{phrase.Say(l.Name), l.Kind, optionalMM(l.MostMM), windowsText(l.WindowsMM), phrase.Say(l.Source)},
			Verdict: verdict, Key: l.Name.String(),
		})
	}
	t.Foot = append(append([]string{DropSentence(r)}, otherWindows(r)...), phrase.All(r.Notes)...)
	if quiet > 0 {
		t.Foot = append(t.Foot, phrase.F("%d more clearances hold over the whole range", quiet))
	}
	for _, stop := range []*drop.Stop{r.Binding.Low, r.Binding.High} {
		if stop != nil {
			t.Foot = append(t.Foot, phrase.Say(stop.Sentence))
		}
	}
	if len(r.Mass.Missing) > 0 {
		t.Foot = append(t.Foot, phrase.F("%d parts of the group have no mass and are left out of the centre of gravity", len(r.Mass.Missing)))
	}
	return t
}

// DropSentence says how far the group can go and what stops it.
func DropSentence(r *drop.Result) string {
	switch {
	case r.WindowMM != nil:
		s := phrase.F("%s can go down %s to %s", r.Group, units.NumberMM(r.WindowMM[0]), units.FormatMM(r.WindowMM[1]))
		if r.Binding.High == nil {
			return s + phrase.Of(", the end of the range studied.")
		}
		return phrase.F("%s: then %s.", s, phrase.Say(r.Binding.High.Event))
	case r.ReachMM != nil:
		s := phrase.F("No drop meets every limit; apart from those that fail throughout, %s to %s", units.NumberMM(r.ReachMM[0]), units.FormatMM(r.ReachMM[1]))
		if r.Binding.High != nil {
			s += ": then " + phrase.Say(r.Binding.High.Event)
		}
		return s + "."
	}
	return phrase.F("No drop from %s to %s meets every limit.", units.NumberMM(r.RangeMM[0]), units.FormatMM(r.RangeMM[1]))
}

func windowsText(windows []drop.Window) string {
	if len(windows) == 0 {
		return phrase.Of("at no drop of the range")
	}
	s := ""
	for i, w := range windows {
		if i > 0 {
			s += " and "
		}
		s += units.NumberMM(w[0]) + " to " + units.NumberMM(w[1])
	}
	return s
}

// telling reports whether a limit says something: all but clearances that hold
// over the whole range.
func telling(l drop.Limit, r *drop.Result) bool {
	return l.Kind != drop.KindClearance && l.Kind != drop.KindDeck || len(l.WindowsMM) != 1 || l.WindowsMM[0] != r.RangeMM
}

// holdsAt reports whether a drop lies in one of the windows.
func holdsAt(windows []drop.Window, dropMM float64) bool {
	for _, w := range windows {
		if dropMM >= w[0] && dropMM <= w[1] {
			return true
		}
	}
	return false
}
