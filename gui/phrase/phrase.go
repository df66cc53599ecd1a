package phrase

import (
	"os"
	"runtime/debug"
	"sync"

	"aftbay/geom/say"
)

// window is the program that speaks the user's language. All others, baycheck
// and tests among them, stay English: their columns and words are read by
// programs.
const window = "aftbay/cmd/aftbay"

// current is the catalogue of this start, made at the first text. Read-only.
var current = sync.OnceValue(func() Catalogue {
	if info, ok := debug.ReadBuildInfo(); !ok || info.Path != window {
		return Catalogue{}
	}
	return For(Language(os.Getenv))
})

// Of returns a text of the window in the language of this start.
func Of(english string) string { return current().Of(english) }

// F fills a text of the window as fmt.Sprintf does, in the language of this
// start; so are texts and errors among the arguments.
func F(format string, args ...any) string { return Say(say.F(format, args...)) }

// Say returns what a calculation says in the language of this start.
func Say(text say.Text) string { return text.In(Of) }

// Err returns an error's words in the language of this start.
func Err(err error) string { return say.Err(err, Of) }

// Word returns one of the words that layouts and results are made of, a verdict,
// a state, a role, in the language of this start. Other words stay as they are.
func Word[T ~string](word T) string { return current().word(string(word)) }

// All returns what calculations say, each in the language of this start.
func All(texts []say.Text) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = Say(t)
	}
	return out
}
