package clearance

import (
	"math"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene/fixture"
)

// TestBuiltInFigures: the figures that published documents give, in their own
// units where those are not mm.
func TestBuiltInFigures(t *testing.T) {
	const inchMM = 25.4 // by definition
	for _, c := range []struct {
		a, b, state, document string
		leastMM               float64
	}{
		{"exhaust", "fuel", "static", "Formula Student rules", 50},
		{"exhaust", "harness", "static", "body-builder manual, Feb 2015, p. 219", 200},
		{"harness", "fuel", "static", "AC 43.13-1B CHG 1, para 11-96 w", 2 * inchMM},
		{"brake", "harness", "static", "workshop page on brake pipes", 10},
		{"brake", "harness", "moving", "workshop page on brake pipes", 25},
		{"hose", "suspension", "static", "steering pipe clearance table, items 1-27", 10},
		{"hose", "body", "static", "steering pipe clearance table, frame side", 15},
		{"brake", "suspension", "static", "items 11, 28, 32-34 (3 to 5 mm)", 3},
		{"engine", "suspension", "static", "Builders' clearance page", 15},
		{"transaxle", "body", "static", "10 to 15 mm", 10},
	} {
		i := slices.IndexFunc(builtIn().Rules, func(r Rule) bool {
			return r.A == "role:"+c.a && r.B == "role:"+c.b && r.State == c.state
		})
		if i < 0 {
			t.Errorf("no rule %s – %s, %s", c.a, c.b, c.state)
			continue
		}
		if r := builtIn().Rules[i]; math.Abs(r.LeastMM-c.leastMM) > 1e-12 || !strings.Contains(r.Source, c.document) {
			t.Errorf("%s from %q, want %g mm from %q", r.Text(), r.Source, c.leastMM, c.document)
		}
	}
}

// TestBuiltInTableIsSound: every row names roles that there are, a state, a
// mark and a source; no pair stands twice in one state; a habit is told by its
// source line and nothing else is.
func TestBuiltInTableIsSound(t *testing.T) {
	seen := map[[3]string]bool{}
	for _, r := range builtIn().Rules {
		for _, selector := range []string{r.A, r.B} {
			if s, err := layout.ParseSelector(selector); err != nil || s.Kind == layout.SelectRole && !slices.Contains(layout.Roles(), s.Name) {
				t.Errorf("%s: %q is no role with rules", r.Text(), selector)
			}
		}
		if !slices.Contains(states, r.State) || r.LeastMM < 0 || !r.BuiltIn || r.Source == "" {
			t.Errorf("unsound: %+v", r)
		}
		if !slices.Contains([]string{MarkSeen, MarkSecondHand, MarkHabit, MarkDefinition}, r.Mark) {
			t.Errorf("%s: mark %q", r.Text(), r.Mark)
		}
		if IsHabit(r.Source) != (r.Mark == MarkHabit) || strings.Contains(r.Source, "second-hand") != (r.Mark == MarkSecondHand) {
			t.Errorf("%s: mark %q beside the source %q", r.Text(), r.Mark, r.Source)
		}
		key := [3]string{min(r.A, r.B), max(r.A, r.B), r.State}
		if seen[key] {
			t.Errorf("%s stands twice", r.Text())
		}
		seen[key] = true
	}
	for _, l := range Unsaid() {
		if l.What == "" || l.Source == "" || l.Why == "" {
			t.Errorf("left out without what, source and why: %+v", l)
		}
	}
	if len(seen) < 35 || len(Unsaid()) == 0 {
		t.Errorf("%d rules, %d left out", len(seen), len(Unsaid()))
	}
}

func TestBrokenTableIsRefused(t *testing.T) {
	for _, text := range []string{"", "{", `{"rules": [{"least": 3}]}`, `{"rules": [{"least_mm": "3"}]}`} {
		if got, err := readTable(text); err == nil || got != nil || !strings.HasPrefix(err.Error(), "clearance_rules.json: ") {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
}

func TestHabits(t *testing.T) {
	for source, want := range map[string]bool{
		"": true, "common practice, no source": true, "common practice, no source: as on the last car": true,
		"our standard 4711": false, "Vehicle workshop page on brake pipes (second-hand, translated)": false,
		"Builders' clearance page, engine to any fixed part such as chassis, cross-member, steering box (habit, no standard)": true,
	} {
		if IsHabit(source) != want {
			t.Errorf("%q: habit %v", source, !want)
		}
	}
}

// TestRulesInForce: six pairs counted by hand. The block's own rule takes its
// pair with the wall from the role's; the pipe's two pairs under built-in rules
// are exhaust – fuel, static and hot; wall – tank has none.
func TestRulesInForce(t *testing.T) {
	doc, meshes := twoBlocks()
	doc.Parts = append(doc.Parts,
		layout.Part{Name: "pipe", Role: "exhaust", Mesh: "pipe.stl", MoveMM: geom.Vec{0, 0, 900}},
		layout.Part{Name: "tank", Role: "fuel", Mesh: "pipe.stl", MoveMM: geom.Vec{0, 0, 1800}},
	)
	meshes["pipe.stl"] = meshes["block.stl"]
	doc.Joined = [][2]string{{"pipe", "block"}}
	doc.Rules = []layout.Rule{
		{A: "part:block", B: "*", LeastMM: 5, Source: "our standard 4711"},
		{A: "role:machine", B: "role:panel", LeastMM: 9},
	}
	s := fixture.Scene(t, doc, meshes)
	book := RulesInForce(s)
	want := PairCount{All: 6, Joined: 1, Ruled: 3, NoRule: 2, States: []StateCount{{"static", 3, 2}, {"hot", 1, 4}, {"moving", 0, 5}, {"all together", 0, 5}}}
	if got := book.Pairs; got.All != want.All || got.Joined != want.Joined || got.Ruled != want.Ruled || got.NoRule != want.NoRule || !slices.Equal(got.States, want.States) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	if none := []RoleCount{{"exhaust", "panel", 1}, {"fuel", "panel", 1}}; !slices.Equal(book.NoRule, none) {
		t.Errorf("without a rule: %+v, want %+v", book.NoRule, none)
	}
	uses := map[string][2]int{}
	for _, r := range book.Rules {
		if r.Applies > 0 {
			uses[r.A+" "+r.B+" "+r.State+" "+r.Mark] = [2]int{r.Applies, r.Decides}
		}
	}
	for key, use := range map[string][2]int{
		"part:block * static ":                      {2, 2}, // wall and tank; the pipe is joined
		"role:machine role:panel static habit":      {1, 0},
		"role:exhaust role:fuel static second-hand": {1, 1},
		"role:exhaust role:fuel hot habit":          {1, 1},
	} {
		if uses[key] != use {
			t.Errorf("%s: applies and decides %v, want %v", key, uses[key], use)
		}
		delete(uses, key)
	}
	if len(uses) > 0 {
		t.Errorf("and also %v", uses)
	}
	agrees(t, book, run(t, s, Options{}))
}

// agrees: what the book says is decided is what the check judged.
func agrees(t *testing.T, book *RuleBook, r *Result) {
	t.Helper()
	judged := map[string]int{}
	for i := range r.Pairs {
		if p := &r.Pairs[i]; p.Rule.String() != "" {
			judged[p.Rule.String()]++
		}
	}
	for i := range book.Rules {
		u := &book.Rules[i]
		if judged[u.Text().String()] != u.Decides {
			t.Errorf("%s: decides %d, judged %d", u.Text(), u.Decides, judged[u.Text().String()])
		}
	}
}

// TestBookOfNothing: an empty layout has rules and no pairs.
func TestBookOfNothing(t *testing.T) {
	book := RulesInForce(fixture.Scene(t, &layout.Document{}, map[string]*mesh.Mesh{}))
	if book.Pairs.All != 0 || len(book.Rules) != len(builtIn().Rules) || book.NoRule == nil || len(book.Pairs.States) != 4 {
		t.Errorf("%+v", book.Pairs)
	}
}
