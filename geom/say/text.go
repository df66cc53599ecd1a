package say

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Lookup returns the text that a catalogue holds for an English one, the English
// one itself where it holds none.
type Lookup func(english string) string

// Text is a sentence, or a part of one. Its zero value says nothing.
type Text struct {
	format string
	args   []any // numbers, names, and texts and errors that are told too
}

// Of returns a text without anything to fill in.
func Of(english string) Text { return whole(english) }

// F returns a format of package fmt with what fills it. Texts and errors among
// the arguments, with %s, %q or %v, are told in the language that the whole is.
func F(format string, args ...any) Text { return Text{format, args} }

// Name returns a text that is the same in every language: what the user calls a
// thing, a figure with its unit.
func Name(name string) Text { return Text{"%s", []any{name}} }

// Join returns texts one after another, with a sign between them that is the
// same in every language.
func Join(texts []Text, between string) Text {
	args := make([]any, len(texts))
	for i, t := range texts {
		args[i] = t
	}
	sign := strings.ReplaceAll(between, "%", "%%")
	return Text{strings.TrimSuffix(strings.Repeat("%s"+sign, len(texts)), sign), args}
}

// And returns the text with others right behind it.
func (t Text) And(more ...Text) Text {
	return Join(append([]Text{t}, more...), "")
}

// String returns the English text.
func (t Text) String() string { return fmt.Sprintf(plain(t.format), t.args...) }

// In returns the text in the language of a catalogue.
func (t Text) In(of Lookup) string {
	format := t.format
	if Worded(format) {
		format = lookedUp(format, len(t.args) == 0, of)
	}
	args := slices.Clone(t.args)
	for i, a := range args {
		switch a := a.(type) {
		case Text:
			args[i] = a.In(of)
		case error:
			args[i] = Err(a, of)
		}
	}
	return fmt.Sprintf(plain(format), args...)
}

// whole returns the text that says what is given, as it stands.
func whole(english string) Text { return Text{format: strings.ReplaceAll(english, "%", "%%")} }

// lookedUp returns the format that a catalogue holds. Texts that nothing fills
// are kept there as they are read, with single percent signs.
func lookedUp(format string, whole bool, of Lookup) string {
	if !whole {
		return of(format)
	}
	return strings.ReplaceAll(of(strings.ReplaceAll(format, "%%", "%")), "%", "%%")
}

// IsZero reports whether the text says nothing.
func (t Text) IsZero() bool { return t.format == "" }

// MarshalText returns the English text.
func (t Text) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// English returns the English texts of a list.
func English(texts []Text) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = t.String()
	}
	return out
}

// plain returns a format for Sprintf, which knows no errors to wrap.
func plain(format string) string { return strings.ReplaceAll(format, "%w", "%v") }

// Worded reports whether a format has a letter outside its verbs.
func Worded(format string) bool {
	verb := false
	for _, r := range format {
		letter := unicode.IsLetter(r)
		switch {
		case r == '%':
			verb = !verb
		case verb:
			verb = !letter
		case letter:
			return true
		}
	}
	return false
}

// Word returns one of the words that files and results are made of, a state, a
// verdict, a kind: the catalogue holds them all.
func Word[T ~string](word T) Text { return whole(string(word)) }
