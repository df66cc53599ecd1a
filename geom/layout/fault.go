package layout

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong with a layout: where, what, and how to mend it.
type Fault struct {
	Where string // file, line and place, such as: layout.json:41: parts[3] "coil 1"
	What  string
	Mend  string // may be empty
}

// Error returns the fault on one line.
func (f Fault) Error() string {
	text := f.What
	if f.Where != "" {
		text = f.Where + ": " + text
	}
	if f.Mend != "" {
		text += "; " + f.Mend
	}
	return text
}

// Faults is everything that is wrong with a layout, in file order. Use
// errors.As to get at the single faults.
type Faults []Fault

// maxShown is how many faults Error writes out: more than a screen helps nobody.
const maxShown = 50

// Error returns one line per fault.
func (f Faults) Error() string {
	lines := make([]string, 0, len(f))
	for i, one := range f {
		if i == maxShown {
			lines = append(lines, fmt.Sprintf("and %d more", len(f)-maxShown))
			break
		}
		lines = append(lines, one.Error())
	}
	return strings.Join(lines, "\n")
}

// asError returns f as an error, nil when there are no faults.
func (f Faults) asError() error {
	if len(f) == 0 {
		return nil
	}
	return f
}
