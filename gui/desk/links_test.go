package desk

import (
	"testing"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/gui/field"
)

// TestLinksLeadSomewhere: every link of every page is a place of the layout that
// the editor can open.
func TestLinksLeadSomewhere(t *testing.T) {
	s := maximalState(t)
	for q := range questions {
		a := Attention{Page: Question(q), Selected: []string{s.Doc.Parts[0].Name}}
		for _, l := range LinksOf(s, &a) {
			if l.Label == "" || field.At(l.Path) == nil {
				t.Errorf("%v: %+v leads nowhere", q, l)
			}
		}
	}
	s.ReadOnly = true
	if len(LinksOf(s, &Attention{})) > 0 {
		t.Error("nothing can be edited in a layout that another window has")
	}
}

// TestPathOfRule: the rule that decided a finding, also when an equal one stands
// before it, and the list for a built-in one.
func TestPathOfRule(t *testing.T) {
	doc := &layout.Document{Rules: []layout.Rule{{A: "*", B: "*", LeastMM: 5, Source: "one"}, {A: "*", B: "*", LeastMM: 5, Source: "two"}, {A: "role:fuel", B: "*", LeastMM: 5}}}
	rules := clearance.Rules(doc)
	for k := range doc.Rules {
		r := rules[len(rules)-len(doc.Rules)+k]
		if got, want := PathOfRule(doc, &clearance.Pair{Rule: r.Text(), Source: r.Source}), "/rules/"+digits(k); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if got := PathOfRule(doc, &clearance.Pair{Rule: rules[0].Text(), Source: rules[0].Source}); got != "/rules" {
		t.Errorf("a built-in one: %s", got)
	}
}

func TestThreePointsTellWhatIsNext(t *testing.T) {
	p := ThreePoints{Load: Load{Parts: []string{"lid"}}}
	seen := map[string]bool{}
	for i := range 6 {
		if says := p.Says(); says == "" || seen[says] {
			t.Errorf("before point %d: %q", i, says)
		}
		seen[p.Says()] = true
		if done := p.Add([3]float64{float64(i), 0, 0}); done != (i == 5) {
			t.Errorf("done after %d points: %v", i+1, done)
		}
	}
	from, onto := p.Sets()
	if from[2][0] != 2 || onto[0][0] != 3 {
		t.Errorf("%v %v", from, onto)
	}
}
