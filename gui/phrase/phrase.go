package phrase

import (
	"fmt"
	"os"
	"sync"
)

// current is the catalogue of this start, made at the first text. Read-only.
var current = sync.OnceValue(func() Catalogue { return For(Language(os.Getenv)) })

// Of returns a text of the window in the language of this start.
func Of(english string) string { return current().Of(english) }

// F fills a text of the window as fmt.Sprintf does, in the language of this
// start.
func F(format string, args ...any) string { return fmt.Sprintf(current().Of(format), args...) }
