package clearance

import (
	"sort"

	"aftbay/geom/scene"
)

// RuleBook is every rule in force for a layout and what each one decides.
type RuleBook struct {
	Rules   []RuleUse   `json:"rules"` // the built-in ones, then the layout's, in the order in which a tie is settled
	Pairs   PairCount   `json:"pairs"`
	NoRule  []RoleCount `json:"no_rule"` // pairs that no rule decides in any state, by role, the most first
	LeftOut []LeftOut   `json:"left_out"`
}

// RuleUse is a rule with how many pairs it holds for. Of those, it decides the
// ones that no more specific or later rule takes over.
type RuleUse struct {
	Rule
	Applies int `json:"applies"`
	Decides int `json:"decides"`
}

// PairCount counts pairs of parts.
type PairCount struct {
	All    int          `json:"all"`
	Joined int          `json:"joined"`  // contact intended, not checked
	Ruled  int          `json:"ruled"`   // decided in some state
	NoRule int          `json:"no_rule"` // in no state; All = Joined + Ruled + NoRule
	States []StateCount `json:"states"`
}

// StateCount counts the checked pairs of one state.
type StateCount struct {
	State  string `json:"state"`
	Ruled  int    `json:"ruled"`
	NoRule int    `json:"no_rule"`
}

// RoleCount counts pairs by the roles of their parts, RoleA not after RoleB.
type RoleCount struct {
	RoleA string `json:"role_a"`
	RoleB string `json:"role_b"`
	Pairs int    `json:"pairs"`
}

// RulesInForce counts what every rule decides among the pairs of the scene.
// Nothing is measured. Cost: pairs times rules.
func RulesInForce(s *scene.Scene) *RuleBook {
	c := &check{scene: s}
	rules := Rules(s.Doc)
	jobs, unchecked := c.jobs(rules)
	book := &RuleBook{NoRule: []RoleCount{}, LeftOut: Unsaid()}
	book.Pairs = PairCount{All: len(jobs) + len(unchecked), Joined: len(unchecked)}
	for _, r := range rules {
		book.Rules = append(book.Rules, RuleUse{Rule: r})
	}
	for _, state := range states {
		book.Pairs.States = append(book.Pairs.States, StateCount{State: state})
	}
	without := map[[2]string]int{}
	for _, j := range jobs {
		a, b := &s.Parts[j.a], &s.Parts[j.b]
		if book.count(rules, a, b) {
			book.Pairs.Ruled++
			continue
		}
		book.Pairs.NoRule++
		without[[2]string{min(a.Role, b.Role), max(a.Role, b.Role)}]++
	}
	for roles, n := range without {
		book.NoRule = append(book.NoRule, RoleCount{roles[0], roles[1], n})
	}
	sort.Slice(book.NoRule, func(i, j int) bool {
		x, y := book.NoRule[i], book.NoRule[j]
		switch {
		case x.Pairs != y.Pairs:
			return x.Pairs > y.Pairs
		case x.RoleA != y.RoleA:
			return x.RoleA < y.RoleA
		}
		return x.RoleB < y.RoleB
	})
	return book
}

// count adds one pair to the rules that hold for it and reports whether any
// state is decided.
func (book *RuleBook) count(rules []Rule, a, b *scene.Part) (ruled bool) {
	for i := range rules {
		if rules[i].weight(a, b) >= 0 {
			book.Rules[i].Applies++
		}
	}
	for k := range book.Pairs.States {
		count := &book.Pairs.States[k]
		i := winnerIndex(rules, a, b, count.State)
		if i < 0 {
			count.NoRule++
			continue
		}
		count.Ruled++
		book.Rules[i].Decides++
		ruled = true
	}
	return ruled
}
