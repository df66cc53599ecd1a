package clearance

import "aftbay/geom/layout"

// WrittenOut returns the document's rules with the built-in ones written out
// before them, so that they can be edited there: the answers stay the same, and
// a copy, being the later one, wins over what it was copied from. Built-in rules
// that the document already states word for word are not repeated.
func WrittenOut(doc *layout.Document) []layout.Rule {
	own := map[layout.Rule]bool{}
	for _, r := range doc.Rules {
		r.Notes = ""
		own[r] = true
	}
	var out []layout.Rule
	for _, r := range builtIn().Rules {
		plain := layout.Rule{A: r.A, B: r.B, State: r.State, LeastMM: r.LeastMM, Source: r.Source}
		if !own[plain] {
			plain.Notes = r.Note
			out = append(out, plain)
		}
	}
	return append(out, doc.Rules...)
}
