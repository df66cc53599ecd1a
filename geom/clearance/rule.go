package clearance

import (
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// Rule is a least clearance that holds for a selection of pairs in one state.
type Rule struct {
	A       string  `json:"a"` // selector
	B       string  `json:"b"`
	State   string  `json:"state"`
	LeastMM float64 `json:"least_mm"`
	Source  string  `json:"source"`
	Mark    string  `json:"mark"`           // MarkSeen ...; in a rule of the layout MarkHabit or ""
	Note    string  `json:"note,omitempty"` // what the source says besides
	BuiltIn bool    `json:"built_in"`
}

// Text names the rule in one line: "role:exhaust – role:fuel, 50 mm, static".
func (r Rule) Text() say.Text {
	text := say.F("%s – %s, %g mm, %s", r.A, r.B, r.LeastMM, say.Word(r.State))
	if r.BuiltIn {
		return say.F("%s (built in)", text)
	}
	return text
}

// Rules returns the built-in rules followed by those of the document.
func Rules(doc *layout.Document) []Rule {
	rules := append([]Rule(nil), builtIn().Rules...)
	for _, r := range doc.Rules {
		state := r.State
		if state == "" {
			state = layout.StateStatic
		}
		own := Rule{A: r.A, B: r.B, State: state, LeastMM: r.LeastMM, Source: r.Source, Note: r.Notes}
		if IsHabit(r.Source) {
			own.Mark = MarkHabit
		}
		rules = append(rules, own)
	}
	return rules
}

// Specificity of a selector's match, higher wins.
const (
	noMatch = iota - 1
	anything
	byGroup
	byRole
	byPart
)

// matches returns how specifically the selector picks the part, or noMatch.
func matches(selector string, p *scene.Part) int {
	if selector == "*" {
		return anything
	}
	kind, name, _ := strings.Cut(selector, ":")
	switch {
	case kind == "part" && name == p.Name:
		return byPart
	case kind == "role" && name == p.Role:
		return byRole
	case kind == "group" && name == p.Group && name != "":
		return byGroup
	}
	return noMatch
}

// weight ranks the rule for a pair, either way round: the more specific side
// counts first, then the other; negative where the rule does not apply.
func (r *Rule) weight(a, b *scene.Part) int {
	one := sideWeight(matches(r.A, a), matches(r.B, b))
	two := sideWeight(matches(r.A, b), matches(r.B, a))
	return max(one, two)
}

func sideWeight(a, b int) int {
	if a == noMatch || b == noMatch {
		return -1
	}
	return max(a, b)*(byPart+1) + min(a, b)
}

// winner returns the rule that decides for the pair in the state, or nil.
func winner(rules []Rule, a, b *scene.Part, state string) *Rule {
	if i := winnerIndex(rules, a, b, state); i >= 0 {
		return &rules[i]
	}
	return nil
}

// winnerIndex is the place of the winner, negative without one.
func winnerIndex(rules []Rule, a, b *scene.Part, state string) int {
	best, bestWeight := -1, -1
	for i := range rules {
		if rules[i].State != state {
			continue
		}
		if w := rules[i].weight(a, b); w >= 0 && w >= bestWeight {
			best, bestWeight = i, w
		}
	}
	return best
}

// Least returns the least clearance that rules ask for between two parts in a
// state; ok is false where none decides.
func Least(rules []Rule, a, b *scene.Part, state string) (leastMM float64, ok bool) {
	r := winner(rules, a, b, state)
	if r == nil {
		return 0, false
	}
	return r.LeastMM, true
}
