package desk

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"aftbay/gui/field"
)

// Draft opens an item that a list does not have yet; like is the path of one to
// start from, "" for none.
func (e *Editor) Draft(list, like string) {
	at := list + "/" + field.Last
	e.forget(at)
	base := any(map[string]any{})
	if like != "" {
		base = field.Get(e.tree, like)
		if s := field.At(at); s != nil && s.Field("name") != nil {
			name, _ := field.Get(base, "/name").(string)
			if other, err := renamedCopy(base, e.freeName(list, name)); err == nil {
				base = other
			}
		}
	}
	if e.drafts == nil {
		e.drafts = map[string]any{}
	}
	e.drafts[at] = base
	e.Open(at)
}

func renamedCopy(value any, name string) (any, error) {
	object, ok := value.(map[string]any)
	if !ok {
		return value, nil
	}
	out := maps.Clone(object)
	out["name"] = name
	return out, nil
}

// freeName returns a name for a copy that nothing of its kind has.
func (e *Editor) freeName(list, name string) string {
	taken := map[string]bool{}
	for _, at := range []string{list, "/parts", "/routes"} {
		items, _ := field.Get(e.tree, at).([]any)
		for _, one := range items {
			other, _ := field.Get(one, "/name").(string)
			taken[other] = true
		}
	}
	return freeName(name, taken)
}

// freeName returns a name for a copy: "coil 1 copy", "coil 1 copy 2".
func freeName(name string, taken map[string]bool) string {
	next := name + " copy"
	for n := 2; taken[next]; n++ {
		next = name + " copy " + digits(n)
	}
	return next
}

// Tries returns what to put into the layout when a field is done: first all that
// is typed about the open object, which may fit only together, then this field
// alone. It is empty while something cannot be read or nothing is typed.
func (e *Editor) Tries(path string) [][]Change {
	if draft := e.draftOf(path); draft != "" {
		return nil // put in as a whole: AddDraft
	}
	var all []Change
	readable := true
	for _, p := range slices.Sorted(maps.Keys(e.typed)) {
		if !field.Under(p, e.at) || e.draftOf(p) != "" {
			continue
		}
		value, err := field.Parse(field.At(p), e.typed[p])
		readable = readable && err == nil
		if err == nil {
			all = append(all, Change{p, value})
		}
	}
	var tries [][]Change
	if readable && len(all) > 1 {
		tries = append(tries, all)
	}
	for _, c := range all {
		if c.Path == path {
			tries = append(tries, []Change{c})
		}
	}
	return tries
}

// All returns what is typed about the open object as far as it can be read: what
// is checked while typing.
func (e *Editor) All() []Change {
	if e.draftOf(e.at) != "" {
		if c, ok := e.AddDraft(); ok {
			return []Change{c}
		}
		return nil
	}
	var all []Change
	for _, p := range slices.Sorted(maps.Keys(e.typed)) {
		if value, err := field.Parse(field.At(p), e.typed[p]); err == nil && field.Under(p, e.at) && e.draftOf(p) == "" {
			all = append(all, Change{p, value})
		}
	}
	return all
}

// EditName names an edit by the place that it changes.
func (e *Editor) EditName(path string) string { return field.Place(e.tree, path) }

// draftOf returns the item still to come that a path lies in, "" for none.
func (e *Editor) draftOf(path string) string {
	for draft := range e.drafts {
		if field.Under(path, draft) {
			return draft
		}
	}
	return ""
}

// AddDraft returns the change that puts the open item still to come into its
// list; ok is false while something typed in it cannot be read.
func (e *Editor) AddDraft() (c Change, ok bool) {
	draft := e.draftOf(e.at)
	if draft == "" {
		return c, false
	}
	list, _ := field.Parent(draft)
	items, _ := field.Get(e.tree, list).([]any)
	at := list + "/" + digits(len(items))
	tree := e.tree
	var err error
	if tree, err = field.Set(tree, at, e.drafts[draft]); err != nil {
		return c, false
	}
	for _, p := range slices.Sorted(maps.Keys(e.typed)) {
		if !field.Under(p, draft) {
			continue
		}
		value, err := field.Parse(field.At(p), e.typed[p])
		if err != nil {
			return c, false
		}
		if tree, err = field.Set(tree, at+strings.TrimPrefix(p, draft), value); err != nil {
			return c, false
		}
	}
	return Change{draft, field.Get(tree, at)}, true
}

// Told notes how changes ended: what fits is not typed any more, what does not
// is told at its fields.
func (e *Editor) Told(changes []Change, err error) {
	if err == nil {
		for _, c := range changes {
			if _, step := field.Parent(c.Path); step == field.Last {
				e.added(c.Path)
				continue
			}
			delete(e.typed, c.Path)
			delete(e.faults, c.Path)
		}
		return
	}
	e.Doubt(err)
}

// added opens the item that was still to come, now that it is in its list.
func (e *Editor) added(draft string) {
	list, _ := field.Parent(draft)
	e.forget(draft)
	items, _ := field.Get(e.tree, list).([]any)
	e.at = list
	if len(items) > 0 {
		e.Open(list + "/" + digits(len(items)-1))
	}
}

// DoubtTyped is Doubt while something is being typed: what is missing yet is not
// complained of.
func (e *Editor) DoubtTyped(err error) { e.doubt(err, true) }

// Doubt shows what speaks against what is typed, beside it.
func (e *Editor) Doubt(err error) { e.doubt(err, false) }

func (e *Editor) doubt(err error, soft bool) {
	if e.faults == nil {
		e.faults = map[string]string{}
	}
	for path, text := range byPath(err) {
		if draft := e.draftOf(e.at); draft != "" { // checked at the end of its list
			list, _ := field.Parent(draft)
			items, _ := field.Get(e.tree, list).([]any)
			path = moved(path, list+"/"+digits(len(items)), draft)
		}
		if _, typed := e.typed[path]; typed || !soft {
			e.faults[path] = text
		}
	}
}

// NoDoubt forgets what spoke against fields that can be read.
func (e *Editor) NoDoubt() {
	for path := range e.faults {
		texts, typed := e.typed[path]
		if !typed {
			delete(e.faults, path)
			continue
		}
		if _, err := field.Parse(field.At(path), texts); err == nil {
			delete(e.faults, path)
		}
	}
}

// Shift returns the change that moves an item up or down in its list; ok is
// false at its end.
func (e *Editor) Shift(path string, by int) (c Change, ok bool) {
	list, step := field.Parent(path)
	items, _ := field.Get(e.tree, list).([]any)
	i, err := strconv.Atoi(step)
	if err != nil || i < 0 || i >= len(items) || i+by < 0 || i+by >= len(items) {
		return c, false
	}
	out := slices.Clone(items)
	out[i], out[i+by] = out[i+by], out[i]
	return Change{list, out}, true
}
