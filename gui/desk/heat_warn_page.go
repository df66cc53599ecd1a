package desk

import (
	"unicode"
	"unicode/utf8"

	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// warningsShown is how many warnings of one kind the page tells when no part is
// chosen; the packet lists all.
const warningsShown = 3

// HeatWarnings tells what could hurt somebody or is not to be believed: of the
// chosen part, or without one the gravest of all.
func HeatWarnings(s *State, a *Attention) []string {
	r := s.Answers.Heat.Value
	if r == nil {
		return nil
	}
	if p := chosenPart(s, a); p != nil {
		return partWarnings(r, p)
	}
	var out []string
	for _, kind := range []string{balance.Doubts, balance.Ignites, balance.Burns} {
		told, more := 0, 0
		for i := range r.Warnings {
			w := &r.Warnings[i]
			if w.Kind != kind || kind == balance.Burns && a.Case < len(r.Cases) && w.Case != r.Cases[a.Case].Name {
				continue
			}
			if told == warningsShown {
				more++
				continue
			}
			told++
			out = append(out, capital(phrase.Say(w.Text)))
		}
		if more > 0 {
			out = append(out, phrase.F("And %d more like these, told with each part and in the packet.", more))
		}
	}
	return out
}

// partWarnings tells of one part: touching it, and fluids on it or in it.
func partWarnings(r *balance.Result, p *balance.PartHeat) []string {
	var out []string
	if b := p.Burn; b != nil {
		out = append(out, phrase.F("Touching it for %s may burn skin: from %.0f °C (%s).", b.Contact, b.FromDegC, b.Source))
	}
	for i := range r.Warnings {
		if w := &r.Warnings[i]; w.Kind != balance.Burns && (w.Part == p.Name || w.Near == p.Name) {
			out = append(out, capital(phrase.Say(w.Text)))
		}
	}
	return out
}

// capital begins a sentence with a capital letter.
func capital(sentence string) string {
	first, size := utf8.DecodeRuneInString(sentence)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + sentence[size:]
}
