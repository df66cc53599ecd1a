package desk

import (
	"slices"
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
	"aftbay/thermal/material"
)

// OptionsOf returns what a field may well say: what its text names in the layout
// or the tables. Other texts are allowed where the reader of the file allows
// them.
func OptionsOf(s *State, f *field.Spec) []string {
	if f.Kind == field.Choice {
		return f.Choices
	}
	refers := f.Refers
	if f.Of != nil && f.Kind == field.Lines {
		refers = f.Of.Refers
	}
	if s.Doc == nil {
		return nil
	}
	switch refers {
	case "part":
		return partNames(s.Doc)
	case "group":
		return groupNames(s.Doc)
	case "role":
		return roleNames(s.Doc)
	case "selector":
		return selectors(s.Doc)
	case "mesh":
		return s.Doc.Meshes()
	case "case":
		return caseNames(s.Doc)
	case "attitude":
		return attitudeNames(s.Doc)
	case "finding":
		return failingIDs(s)
	}
	return tableNames(s.Doc, refers)
}

// tableNames returns the rows of a table of package material.
func tableNames(doc *layout.Document, refers string) (list []string) {
	t, err := material.For(doc)
	if err != nil {
		t = material.All()
	}
	switch refers {
	case "material":
		list = t.Names()
	case "fluid":
		for i := range t.Ignition {
			list = append(list, t.Ignition[i].Fluid)
		}
	case "limit":
		for i := range t.Limits {
			list = append(list, t.Limits[i].Item)
		}
		for i := range t.Cables {
			list = append(list, t.Cables[i].Letter)
		}
	}
	return distinct(list)
}

func partNames(doc *layout.Document) (list []string) {
	for i := range doc.Parts {
		list = append(list, doc.Parts[i].Name)
	}
	for i := range doc.Routes {
		list = append(list, doc.Routes[i].Name)
	}
	return list
}

func groupNames(doc *layout.Document) (list []string) {
	for i := range doc.Groups {
		list = append(list, doc.Groups[i].Name)
	}
	for i := range doc.Parts {
		list = append(list, doc.Parts[i].Group)
	}
	return distinct(list)
}

func roleNames(doc *layout.Document) []string {
	list := layout.Roles()
	for i := range doc.Parts {
		list = append(list, doc.Parts[i].Role)
	}
	return distinct(list)
}

func selectors(doc *layout.Document) []string {
	list := []string{"*"}
	for _, role := range roleNames(doc) {
		list = append(list, "role:"+role)
	}
	for _, group := range groupNames(doc) {
		list = append(list, "group:"+group)
	}
	for _, part := range partNames(doc) {
		list = append(list, "part:"+part)
	}
	return list
}

func caseNames(doc *layout.Document) (list []string) {
	if doc.Heat != nil {
		for i := range doc.Heat.Cases {
			list = append(list, doc.Heat.Cases[i].Name)
		}
	}
	return list
}

func attitudeNames(doc *layout.Document) (list []string) {
	if doc.Vehicle != nil {
		for i := range doc.Vehicle.Attitudes {
			list = append(list, doc.Vehicle.Attitudes[i].Name)
		}
	}
	return list
}

// failingIDs returns the findings that ask for a decision.
func failingIDs(s *State) (list []string) {
	if r := s.Answers.Fit.Value; r != nil {
		for i := range r.Pairs {
			if v := r.Pairs[i].Verdict; v == clearance.Overlap || v == clearance.Short || v == clearance.Close {
				list = append(list, r.Pairs[i].ID)
			}
		}
	}
	return list
}

// distinct keeps the first of equal texts and none that is empty.
func distinct(list []string) []string {
	seen := map[string]bool{"": true}
	return slices.DeleteFunc(list, func(one string) bool {
		had := seen[one]
		seen[one] = true
		return had
	})
}

// Matching returns the options that hold what is typed, those that begin with it
// first, most of them at most.
func Matching(options []string, typed string, most int) []string {
	typed = strings.ToLower(strings.TrimSpace(typed))
	var first, then []string
	for _, o := range options {
		switch low := strings.ToLower(o); {
		case strings.HasPrefix(low, typed):
			first = append(first, o)
		case strings.Contains(low, typed):
			then = append(then, o)
		}
	}
	out := append(first, then...)
	return out[:min(len(out), most)]
}

// builtIn adds the built-in rules, each with a way to write it into the layout
// where it can be changed.
func (b *formBuilder) builtIn() {
	rules := clearance.Rules(b.s.Doc)
	b.add(FormItem{Kind: ListLine, Path: BuiltInRules, Label: phrase.Of("Built-in rules"), Help: phrase.Of("They hold where the layout's own do not. Take one over to change it: a rule of the layout wins over a built-in one that is as specific.")})
	for i := range rules {
		if r := rules[i]; r.BuiltIn {
			r.BuiltIn = false // the list says so
			b.add(FormItem{Kind: OfferLine, Path: BuiltInRules + "/" + digits(i), Depth: 1, Label: phrase.Say(r.Text()), Help: r.Source})
		}
	}
}

// BuiltInRules is the path of the built-in rules in a form; they are no part of
// the layout.
const BuiltInRules = "built-in"

// TakeOver writes one built-in rule into the layout, where it can be changed.
func (d *Desk) TakeOver(path string) error {
	return d.Edit(phrase.Of("take over a built-in rule"), func(doc *layout.Document) error {
		rules := clearance.Rules(doc)
		for i := range rules {
			if r := &rules[i]; r.BuiltIn && path == BuiltInRules+"/"+digits(i) {
				doc.Rules = append(doc.Rules, layout.Rule{A: r.A, B: r.B, State: r.State, LeastMM: r.LeastMM, Source: r.Source, Notes: r.Note})
			}
		}
		return nil
	})
}

// GroupNames lists the groups of a state.
func GroupNames(s *State) []string {
	if s.Doc == nil {
		return nil
	}
	return groupNames(s.Doc)
}
