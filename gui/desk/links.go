package desk

import (
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/gui/phrase"
)

// Link leads from a page to what it depends on in the layout.
type Link struct{ Label, Path string }

// LinksOf lists the places of the layout that the open page is about: the rule
// of the chosen finding, the case shown, the component searched for, and the part
// that is selected.
func LinksOf(s *State, a *Attention) (list []Link) {
	if s.Doc == nil || s.ReadOnly {
		return nil
	}
	switch a.Page {
	case Fits:
		list = fitLinks(s, a)
	case Lowers:
		list = []Link{{phrase.Of("the drop study"), "/drop"}, {phrase.Of("the car"), "/vehicle"}, {"half-shafts", "/half_shafts"}}
	case Sees:
		list = []Link{{phrase.Of("the rear view"), "/rear_view"}, {"attitudes", "/vehicle"}}
	case Heats:
		list = []Link{{phrase.Of("this case"), caseLink(s, a)}, {phrase.Of("the heat study"), "/heat"}}
	case Mounts:
		list = []Link{{phrase.Of("this component"), studyLink(s, a)}}
	}
	if len(a.Selected) > 0 {
		if path := PathOfPart(s.Doc, a.Selected[0]); path != "" {
			list = append(list, Link{a.Selected[0], path})
		}
	}
	return list
}

func fitLinks(s *State, a *Attention) []Link {
	p := findingOf(s, a.Finding)
	if p == nil {
		return []Link{{phrase.Of("the rules"), "/rules"}}
	}
	list := []Link{{phrase.Of("this rule"), PathOfRule(s.Doc, p)}}
	for _, name := range []string{p.A, p.B} {
		if path := PathOfPart(s.Doc, name); path != "" {
			list = append(list, Link{name, path})
		}
	}
	return list
}

// PathOfRule returns where the rule that decides a finding stands: one of the
// layout, or the list with the built-in ones.
func PathOfRule(doc *layout.Document, p *clearance.Pair) string {
	rules := clearance.Rules(doc)
	own := len(rules) - len(doc.Rules)
	for i := len(doc.Rules) - 1; i >= 0; i-- {
		if rules[own+i].Text().String() == p.Rule.String() && rules[own+i].Source == p.Source {
			return "/rules/" + digits(i)
		}
	}
	return "/rules"
}

func caseLink(s *State, a *Attention) string {
	if s.Doc.Heat != nil && a.Case >= 0 && a.Case < len(s.Doc.Heat.Cases) {
		return "/heat/cases/" + digits(a.Case)
	}
	return "/heat"
}

func studyLink(s *State, a *Attention) string {
	if st := StudyOf(s, a); st != nil {
		for i := range s.Doc.Spots {
			if s.Doc.Spots[i].Name == st.Name {
				return "/spots/" + digits(i)
			}
		}
	}
	return "/spots"
}
