package field

import (
	"slices"
	"strings"

	"aftbay/gui/phrase"
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

// Said returns all words of the descriptions: labels, help lines, what items and
// numbers are called.
func Said() []string {
	var out []string
	Root().each(func(s *Spec) {
		out = append(append(out, s.Label, s.Help, s.One), s.Parts...)
	})
	slices.Sort(out)
	return slices.Compact(out)
}

// told puts a description into the language of this start.
func told(s *Spec) {
	s.Label, s.Help, s.One = phrase.Word(s.Label), phrase.Word(s.Help), phrase.Word(s.One)
	for i := range s.Parts {
		s.Parts[i] = phrase.Word(s.Parts[i])
	}
}

// each visits a description and all below it.
func (s *Spec) each(visit func(*Spec)) {
	visit(s)
	if s.Of != nil {
		s.Of.each(visit)
	}
	for _, f := range s.Fields {
		f.each(visit)
	}
}

// singular returns what one item of a list is called in English.
func singular(s *Spec) string {
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
			word := phrase.F("a new %s", s.One)
			if step != Last && s.Of.Kind == Object {
				word = phrase.F("%s %q", s.One, Name(s.Of, Get(tree, at)))
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
