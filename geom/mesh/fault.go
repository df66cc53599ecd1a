package mesh

import (
	"fmt"

	"aftbay/geom/say"
)

// Kinds of refusal, for errors.Is.
var (
	ErrEmpty     = say.New("no facets")
	ErrNotSTL    = say.New("not an STL file")
	ErrTruncated = say.New("file is cut short")
	ErrNumber    = say.New("not a number")
	ErrTooLarge  = say.New("too large")
)

// ReadError says what is wrong with an STL file, where, and how to mend it.
type ReadError struct {
	Kind error  // one of the Err… values above
	Byte int64  // offset from the start of the file
	Line int    // 1-based line of an ASCII file; 0 for a binary one
	What string // what was found
	Mend string // what to do about it
}

// Error returns one line: place, kind, finding, remedy.
func (e *ReadError) Error() string {
	place := fmt.Sprintf("byte %d", e.Byte)
	if e.Line > 0 {
		place = fmt.Sprintf("line %d", e.Line)
	}
	return fmt.Sprintf("stl: %s: %v: %s; %s", place, e.Kind, e.What, e.Mend)
}

// Unwrap gives the kind to errors.Is.
func (e *ReadError) Unwrap() error { return e.Kind }
