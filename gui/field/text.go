package field

import (
	"slices"
	"strings"

	"aftbay/geom/say"
)

// Texts returns a plain value as its editor shows it: one text, or one for each
// of Numbers. What is not given is empty.
func Texts(s *Spec, value any) []string {
	switch s.Kind {
	case Number, Whole:
		return []string{numberText(value)}
	case Numbers:
		out := make([]string, len(s.Parts))
		list, _ := value.([]any)
		for i := range min(len(out), len(list)) {
			out[i] = numberText(list[i])
		}
		return out
	case Lines, Points:
		list, _ := value.([]any)
		lines := make([]string, 0, len(list))
		for _, one := range list {
			lines = append(lines, strings.Join(Texts(s.Of, one), "  "))
		}
		return []string{strings.Join(lines, "\n")}
	}
	text, _ := value.(string)
	return []string{text}
}

// Parse returns the value that typed texts stand for, nil for nothing given. The
// error says what cannot be read and how to mend it.
func Parse(s *Spec, texts []string) (value any, err error) {
	if strings.TrimSpace(strings.Join(texts, "")) == "" {
		return nil, nil
	}
	switch s.Kind {
	case Number:
		return parseNumber(texts[0], s.Unit)
	case Whole:
		return parseWhole(texts[0])
	case Numbers:
		return parseNumbers(s, texts)
	case Lines, Points:
		return parseLines(s, texts[0])
	case Choice:
		if !slices.Contains(s.Choices, texts[0]) {
			return nil, say.Errorf("%q is none of %s", texts[0], strings.Join(s.Choices, ", "))
		}
		return texts[0], nil
	case Long:
		return texts[0], nil
	}
	return strings.TrimSpace(texts[0]), nil
}

func parseNumbers(s *Spec, texts []string) (any, error) {
	list := make([]any, len(s.Parts))
	for i, name := range s.Parts {
		text := "0"
		if i < len(texts) && strings.TrimSpace(texts[i]) != "" {
			text = texts[i]
		} else if !s.Zero {
			return nil, say.Errorf("%s is empty; type all of %s, or leave all empty", name, strings.Join(s.Parts, ", "))
		}
		n, err := parseNumber(text, s.Unit)
		if err != nil {
			return nil, say.Errorf("%s: %w", name, err)
		}
		list[i] = n
	}
	return list, nil
}

func parseLines(s *Spec, text string) (any, error) {
	list := []any{}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		texts := []string{line}
		if s.Kind == Points {
			if texts = columns(line); len(texts) != len(s.Of.Parts) {
				return nil, say.Errorf("line %d has %d numbers; type %s on each line, with spaces between", i+1, len(texts), strings.Join(s.Of.Parts, "  "))
			}
		}
		value, err := Parse(s.Of, texts)
		if err != nil {
			return nil, say.Errorf("line %d: %w", i+1, err)
		}
		list = append(list, value)
	}
	return list, nil
}

// columns parts a line of numbers at spaces, semicolons, tabs and commas; a
// comma inside a number is a decimal sign, unless nothing else parts them.
func columns(line string) []string {
	at := func(r rune) bool { return r == ' ' || r == '\t' || r == ';' || r == '[' || r == ']' }
	list := strings.FieldsFunc(line, at)
	if len(list) == 1 {
		return strings.FieldsFunc(list[0], func(r rune) bool { return r == ',' })
	}
	out := list[:0]
	for _, word := range list {
		if word = strings.Trim(word, ","); word != "" {
			out = append(out, word)
		}
	}
	return out
}
