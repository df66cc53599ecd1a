package scene

import (
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// ErrUnknown is what a selector meets that names nothing: errors.Is tells.
var ErrUnknown = say.New("names nothing in this layout")

// Select returns the parts that a selector names, by rising index. A role that
// has default rules, or a group of the layout, may be without parts; any other
// name that no part has is an error that wraps ErrUnknown and names the nearest
// one.
func (s *Scene) Select(selector string) ([]int, error) {
	sel, err := layout.ParseSelector(selector)
	if err != nil {
		return nil, err
	}
	var chosen []int
	for i := range s.Parts {
		if matches(&s.Parts[i], sel) {
			chosen = append(chosen, i)
		}
	}
	if len(chosen) > 0 || s.mayBeEmpty(sel) {
		return chosen, nil
	}
	err = say.Errorf("selector %q %w", selector, ErrUnknown)
	if near, ok := layout.Nearest(sel.Name, s.namesOf(sel.Kind)); ok {
		sel.Name = near
		err = say.Errorf("%w; did you mean %q?", err, sel)
	}
	return nil, err
}

func matches(p *Part, sel layout.Selector) bool {
	switch sel.Kind {
	case layout.SelectPart:
		return p.Name == sel.Name
	case layout.SelectRole:
		return p.Role == sel.Name
	case layout.SelectGroup:
		return p.Group == sel.Name
	}
	return true
}

func (s *Scene) mayBeEmpty(sel layout.Selector) bool {
	switch sel.Kind {
	case layout.SelectAll:
		return true
	case layout.SelectRole:
		return slices.Contains(layout.Roles(), sel.Name)
	case layout.SelectGroup:
		return s.groups[sel.Name] != nil
	}
	return false
}

// namesOf returns the names that a kind of selector may use, each once, in
// the order of the parts.
func (s *Scene) namesOf(kind layout.SelectorKind) []string {
	var list []string
	if kind == layout.SelectRole {
		list = layout.Roles()
	}
	if kind == layout.SelectGroup {
		for _, g := range s.Doc.Groups {
			list = append(list, g.Name)
		}
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		name := p.Name
		switch kind {
		case layout.SelectRole:
			name = p.Role
		case layout.SelectGroup:
			name = p.Group
		}
		if name != "" && !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	return list
}
