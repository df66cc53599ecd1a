package desk

import (
	"maps"
	"slices"
	"strings"

	"aftbay/geom/layout"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// Editor is what is typed about a layout and not in it yet, and which of its
// objects is open. It belongs to one goroutine. The zero value is of no layout.
type Editor struct {
	at     string // path of the open object or list
	typed  map[string][]string
	faults map[string]string
	opened map[string]bool // optional objects that were asked for
	drafts map[string]any  // what an item still to come starts from
	called string          // name of the open list item, to find it again

	doc  *layout.Document
	tree any
}

// At returns the path of what is open.
func (e *Editor) At() string { return e.at }

// Open opens an object or a list; what is typed elsewhere stays typed.
func (e *Editor) Open(path string) {
	for s := field.At(path); path != "" && (s == nil || s.Plain()); s = field.At(path) {
		path, _ = field.Parent(path)
	}
	e.at = path
	e.called = e.nameAt(path)
}

// See takes a document in: an item that others have moved is found again by its
// name, and what is typed about it follows.
func (e *Editor) See(doc *layout.Document) {
	if doc == e.doc {
		return
	}
	e.doc, e.tree = doc, nil
	if doc == nil {
		*e = Editor{}
		return
	}
	tree, err := field.Tree(doc)
	if err != nil {
		return // the document was read from such values
	}
	e.tree = tree
	e.findAgain()
}

// nameAt returns what the innermost list item of a path is called.
func (e *Editor) nameAt(path string) string {
	item, s := itemOf(path)
	if s == nil {
		return ""
	}
	return field.Name(s, field.Get(e.tree, item))
}

// itemOf returns the path of the innermost list item that a path lies in, and
// its description; nil outside of lists.
func itemOf(path string) (item string, s *field.Spec) {
	for at := path; at != ""; {
		parent, _ := field.Parent(at)
		if list := field.At(parent); list != nil && list.Kind == field.List {
			return at, list.Of
		}
		at = parent
	}
	return "", nil
}

// findAgain opens the item that was open under the place it has now.
func (e *Editor) findAgain() {
	item, s := itemOf(e.at)
	if s == nil || strings.HasSuffix(item, "/"+field.Last) {
		return
	}
	if e.nameAt(e.at) == e.called {
		return
	}
	list, _ := field.Parent(item)
	items, _ := field.Get(e.tree, list).([]any)
	i := slices.IndexFunc(items, func(v any) bool { return field.Name(s, v) == e.called })
	_, was := field.Parent(item)
	switch {
	case i >= 0:
		e.move(item, list+"/"+digits(i))
	case field.Get(e.tree, item) == nil || was == field.Last:
		e.forget(item)
		e.at = list
	}
	e.called = e.nameAt(e.at)
}

// move carries what is typed about one place over to another.
func (e *Editor) move(from, to string) {
	typed, faults := map[string][]string{}, map[string]string{}
	for p, v := range e.typed {
		typed[moved(p, from, to)] = v
	}
	for p, v := range e.faults {
		faults[moved(p, from, to)] = v
	}
	e.typed, e.faults = typed, faults
	e.at = moved(e.at, from, to)
}

func moved(path, from, to string) string {
	if field.Under(path, from) {
		return to + strings.TrimPrefix(path, from)
	}
	return path
}

// Forget drops what is typed at a place and below it.
func (e *Editor) Forget(path string) { e.forget(path) }

// forget drops what is typed at a place and below it.
func (e *Editor) forget(at string) {
	under := func(p string) bool { return field.Under(p, at) }
	maps.DeleteFunc(e.typed, func(p string, _ []string) bool { return under(p) })
	maps.DeleteFunc(e.faults, func(p string, _ string) bool { return under(p) })
	maps.DeleteFunc(e.opened, func(p string, _ bool) bool { return under(p) })
	delete(e.drafts, at)
}

// Type notes what is typed in a field; the fault is what cannot be read of it,
// "" if all can. A field that says what the layout says is not typed in.
func (e *Editor) Type(path string, texts []string) (fault string) {
	s := field.At(path)
	if s == nil {
		return ""
	}
	if e.typed == nil {
		e.typed, e.faults = map[string][]string{}, map[string]string{}
	}
	delete(e.faults, path)
	if slices.Equal(texts, field.Texts(s, e.value(path))) {
		delete(e.typed, path)
		return ""
	}
	e.typed[path] = slices.Clone(texts)
	if _, err := field.Parse(s, texts); err != nil {
		e.faults[path] = phrase.Err(err)
	}
	return e.faults[path]
}

// value returns what the layout, or the draft of an item, has at a path.
func (e *Editor) value(path string) any {
	for draft, base := range e.drafts {
		if field.Under(path, draft) {
			return field.Get(base, strings.TrimPrefix(path, draft))
		}
	}
	return field.Get(e.tree, path)
}

// Unsaid reports whether something is typed that is not in the layout.
func (e *Editor) Unsaid() bool { return len(e.typed) > 0 }

// Give opens an optional object that is not given, to be filled in.
func (e *Editor) Give(path string) {
	if e.opened == nil {
		e.opened = map[string]bool{}
	}
	e.opened[path] = true
}

// Drop forgets what is typed about the open object.
func (e *Editor) Drop() {
	at := e.at
	e.forget(at)
	if parent, step := field.Parent(at); step == field.Last {
		e.at = parent
		e.called = e.nameAt(parent)
	}
}
