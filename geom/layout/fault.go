package layout

import "aftbay/geom/say"

// Fault is one thing wrong with a layout: where, what, and how to mend it.
type Fault struct {
	Where string // file, line and place, such as: layout.json:41: parts[3] "coil 1"
	What  say.Text
	Mend  say.Text // may be empty
}

// Error returns the fault on one line.
func (f Fault) Error() string {
	return f.text().String()
}

// In returns the fault on one line in the language of a catalogue.
func (f Fault) In(of say.Lookup) string { return f.text().In(of) }

func (f Fault) text() say.Text {
	text := f.What
	if f.Where != "" {
		text = say.F("%s: %s", f.Where, text)
	}
	if !f.Mend.IsZero() {
		text = say.F("%s; %s", text, f.Mend)
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
	return f.text().String()
}

// In returns one line per fault in the language of a catalogue.
func (f Faults) In(of say.Lookup) string { return f.text().In(of) }

func (f Faults) text() say.Text {
	lines := make([]say.Text, 0, len(f))
	for i, one := range f {
		if i == maxShown {
			lines = append(lines, say.F("and %d more", len(f)-maxShown))
			break
		}
		lines = append(lines, one.text())
	}
	return say.Join(lines, "\n")
}

// asError returns f as an error, nil when there are no faults.
func (f Faults) asError() error {
	if len(f) == 0 {
		return nil
	}
	return f
}
