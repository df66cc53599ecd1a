package field

import (
	"fmt"
	"strings"
)

// shownInSummary is how many values a summary of an item tells at most.
const shownInSummary = 4

// Name returns what an item of a list calls itself: its name, or its first
// values.
func Name(s *Spec, value any) string {
	for _, f := range s.Fields {
		if f.Defines != "" || f.Key == "name" || f.Key == "finding" {
			if text, _ := Get(value, "/"+f.Key).(string); text != "" {
				return text
			}
		}
	}
	return Summary(s, value)
}

// Summary tells an item of a list by its first plain values, with units.
func Summary(s *Spec, value any) string {
	var words []string
	for _, f := range s.Fields {
		if !f.Plain() || f.Kind == Long || f.Kind == Lines || f.Kind == Points {
			continue
		}
		text := strings.Join(Texts(f, Get(value, "/"+f.Key)), " ")
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		if f.Unit != "" {
			text += " " + f.Unit
		}
		if words = append(words, text); len(words) == shownInSummary {
			break
		}
	}
	return strings.Join(words, ", ")
}

// Singular returns what one item of a list is called.
func Singular(s *Spec) string {
	switch {
	case strings.HasSuffix(s.Label, "ies"):
		return strings.TrimSuffix(s.Label, "ies") + "y"
	case s.Label == "joined":
		return "joined pair"
	case strings.HasSuffix(s.Label, "ses") && s.Label != "cases":
		return strings.TrimSuffix(s.Label, "es")
	}
	return strings.TrimSuffix(s.Label, "s")
}

// Place returns a path in words, names in quotes: part "coil 1", thermal, power.
func Place(tree any, path string) string {
	var words []string
	s, at := Root(), ""
	for _, step := range Steps(path) {
		at += "/" + step
		if s == nil {
			break
		}
		if s.Kind != Object {
			word := "a new " + Singular(s)
			if step != Last && s.Of.Kind == Object {
				word = fmt.Sprintf("%s %q", Singular(s), Name(s.Of, Get(tree, at)))
			}
			words[len(words)-1] = word
			s = s.Of
			continue
		}
		if s = s.Field(step); s != nil {
			words = append(words, s.Label)
		}
	}
	return strings.Join(words, ", ")
}
