package main

import (
	"context"
	"fmt"
	"strconv"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

// lists gives all rules in force and how many pairs each one decides.
func lists(ctx context.Context, c *call) (bool, error) {
	s, folder, err := c.load(ctx)
	if err != nil {
		return false, err
	}
	defer folder.Close()
	if c.into != "" {
		doc := *s.Doc
		doc.Rules = clearance.WrittenOut(&doc)
		if err := layout.SaveAs(c.into, &doc, folder); err != nil {
			return false, err
		}
	}
	book := clearance.RulesInForce(s)
	return false, c.give(book, rulesTable(book, c.csv != ""))
}

// rulesTable shows the rules that hold for some pair, or all of them.
func rulesTable(book *clearance.RuleBook, all bool) desk.Table {
	t := desk.Table{Columns: []desk.Column{
		{Head: "a"},
		{Head: "b"},
		{Head: "state"},
		{Head: "least_mm", Right: true},
		{Head: "decides", Right: true},
		{Head: "applies", Right: true},
		{Head: "from"},
		{Head: "mark"},
		{Head: "source"},
	}}
	idle := 0
	for i := range book.Rules {
		r := &book.Rules[i]
		if r.Applies == 0 && !all {
			idle++
			continue
		}
		t.Rows = append(t.Rows, desk.Row{Cells: []string{
			r.A, r.B, r.State, strconv.FormatFloat(r.LeastMM, 'g', -1, 64),
			strconv.Itoa(r.Decides), strconv.Itoa(r.Applies), origin(r.Rule), markWords(r.Mark), r.Source,
		}})
	}
	n := book.Pairs
	t.Foot = []string{
		"", "applies: pairs of parts that the rule holds for; decides: those where no more specific or later rule takes over",
		fmt.Sprintf("%d pairs of parts: %d under a rule, %d without any, %d joined and not checked", n.All, n.Ruled, n.NoRule, n.Joined),
	}
	for _, s := range n.States {
		t.Foot = append(t.Foot, fmt.Sprintf("  %-12s %d under a rule, %d without", s.State, s.Ruled, s.NoRule))
	}
	for k, r := range book.NoRule {
		if k == shownRoles {
			t.Foot = append(t.Foot, fmt.Sprintf("  and %d more kinds of pair without a rule: see --json", len(book.NoRule)-k))
			break
		}
		t.Foot = append(t.Foot, fmt.Sprintf("  no rule: %s – %s, %d", r.RoleA, r.RoleB, r.Pairs))
	}
	if idle > 0 {
		t.Foot = append(t.Foot, fmt.Sprintf("%d rules hold for no pair of this layout and are not shown: see --csv or --json", idle))
	}
	return t
}

// shownRoles is how many kinds of pair without a rule the table names.
const shownRoles = 10

// origin says where a rule stands.
func origin(r clearance.Rule) string {
	if r.BuiltIn {
		return "built in"
	}
	return "layout"
}

// markWords says how a figure's source was met, with the badge of a habit.
func markWords(mark string) string {
	if mark == clearance.MarkHabit {
		return "habit, no standard"
	}
	return mark
}
