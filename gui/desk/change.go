package desk

import (
	"encoding/json"
	"errors"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// Change puts a value at a path of the layout; nil takes out what stands there.
// Paths and values are those of package field.
type Change struct {
	Path  string
	Value any
}

// Misfits is what speaks against changes.
type Misfits []layout.Misfit

// Error returns one line for each.
func (m Misfits) Error() string {
	lines := make([]string, len(m))
	for i := range m {
		lines[i] = m[i].Error()
	}
	return strings.Join(lines, "\n")
}

// In returns them in the language of a catalogue.
func (m Misfits) In(of say.Lookup) string {
	lines := make([]string, len(m))
	for i := range m {
		lines[i] = say.Err(m[i], of)
	}
	return strings.Join(lines, "\n")
}

// Change makes changes of the layout as one edit. When a name changes, all that
// names it follows. What speaks against them comes back as Misfits, and nothing
// is changed then.
func (d *Desk) Change(name string, changes ...Change) error {
	return d.Edit(name, func(doc *layout.Document) error {
		next, err := changed(doc, changes)
		if err == nil {
			*doc = *next
		}
		return err
	})
}

// ChangeFirst makes the first of several sets of changes that fits; the error is
// that of the last one. It returns which one was made.
func (d *Desk) ChangeFirst(name string, tries [][]Change) (made int, err error) {
	for i, changes := range tries {
		if err = d.Change(name, changes...); err == nil {
			return i, nil
		}
	}
	return -1, err
}

// CheckChanges returns what speaks against changes of a document, nil if nothing
// that can be told without its files.
func CheckChanges(doc *layout.Document, changes ...Change) error {
	_, err := changed(doc, changes)
	return err
}

// changed returns the document after changes.
func changed(doc *layout.Document, changes []Change) (*layout.Document, error) {
	tree, err := field.Tree(doc)
	if err != nil {
		return nil, err
	}
	for _, c := range changes {
		if tree, err = follow(tree, c); err != nil {
			return nil, err
		}
		if tree, err = field.Set(tree, c.Path, c.Value); err != nil {
			return nil, err
		}
	}
	data, err := json.Marshal(tree)
	if err != nil {
		return nil, say.Errorf("values of the layout: %w", err)
	}
	next, misfits, err := layout.Read(data)
	if err == nil && len(misfits) > 0 {
		return nil, Misfits(misfits)
	}
	return next, err
}

// follow renames what names a thing whose name a change replaces.
func follow(tree any, c Change) (any, error) {
	s := field.At(c.Path)
	to, named := c.Value.(string)
	from, _ := field.Get(tree, c.Path).(string)
	if s == nil || s.Defines == "" || !named || to == "" || from == "" || from == to {
		return tree, nil
	}
	return field.Renamed(tree, s.Defines, from, to)
}

// byPath returns what speaks against changes by the path it is about; what has
// none stands under "".
func byPath(err error) map[string]string {
	out := map[string]string{}
	var misfits Misfits
	if !errors.As(err, &misfits) {
		if err != nil {
			out[""] = phrase.Err(err)
		}
		return out
	}
	for _, m := range misfits {
		text := phrase.Say(m.What)
		if !m.Mend.IsZero() {
			text += ": " + phrase.Say(m.Mend)
		}
		if out[m.Path] == "" {
			out[m.Path] = text
		}
	}
	return out
}
