package phrase

import (
	"fmt"
	"os"
	"runtime/debug"
	"sync"
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
// start.
func F(format string, args ...any) string { return fmt.Sprintf(current().Of(format), args...) }
