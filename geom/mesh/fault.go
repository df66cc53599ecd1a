package mesh

import "aftbay/geom/say"

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
	Kind error    // one of the Err… values above
	Byte int64    // offset from the start of the file
	Line int      // 1-based line of an ASCII file; 0 for a binary one
	What say.Text // what was found
	Mend say.Text // what to do about it
}

// Error returns one line: place, kind, finding, remedy.
func (e *ReadError) Error() string { return e.text().String() }

// In returns the same line in the language of a catalogue.
func (e *ReadError) In(of say.Lookup) string { return e.text().In(of) }

func (e *ReadError) text() say.Text {
	place := say.F("byte %d", e.Byte)
	if e.Line > 0 {
		place = say.F("line %d", e.Line)
	}
	return say.F("stl: %s: %v: %s; %s", place, e.Kind, e.What, e.Mend)
}

// Unwrap gives the kind to errors.Is.
func (e *ReadError) Unwrap() error { return e.Kind }
