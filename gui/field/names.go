package field

import "strings"

// Uses returns the paths of the texts that name something of a kind by a name,
// in file order of the description.
func Uses(tree any, kind, name string) []string {
	var list []string
	walk(Root(), tree, "", func(s *Spec, path, text string) {
		if _, ok := s.renamed(text, kind, name, ""); ok {
			list = append(list, path)
		}
	})
	return list
}

// Renamed returns the tree in which all that names something by its old name
// says the new one. What is called so itself stays.
func Renamed(tree any, kind, from, to string) (any, error) {
	var err error
	walk(Root(), tree, "", func(s *Spec, path, text string) {
		if next, ok := s.renamed(text, kind, from, to); ok && err == nil {
			tree, err = Set(tree, path, next)
		}
	})
	return tree, err
}

// renamed returns a text with another name in it; ok tells whether the text
// names it.
func (s *Spec) renamed(text, kind, from, to string) (next string, ok bool) {
	switch s.Refers {
	case kind:
		return to, text == from
	case "selector":
		return kind + ":" + to, text == kind+":"+from
	case "finding": // "a ~ b @ state", of package clearance
		pair, state, found := strings.Cut(text, " @ ")
		a, b, two := strings.Cut(pair, " ~ ")
		if !found || !two || kind != "part" || a != from && b != from {
			return text, false
		}
		if a == from {
			a = to
		}
		if b == from {
			b = to
		}
		return a + " ~ " + b + " @ " + state, true
	}
	return text, false
}

// walk visits every text of a value.
func walk(s *Spec, value any, path string, do func(s *Spec, path, text string)) {
	switch v := value.(type) {
	case map[string]any:
		for _, f := range s.Fields {
			if v[f.Key] != nil {
				walk(f, v[f.Key], path+"/"+f.Key, do)
			}
		}
	case []any:
		for i, one := range v {
			of := s.Of
			step := stepOf(i)
			if s.Kind == Object {
				of = s.Field(step)
			}
			if of != nil {
				walk(of, one, path+"/"+step, do)
			}
		}
	case string:
		do(s, path, v)
	}
}
