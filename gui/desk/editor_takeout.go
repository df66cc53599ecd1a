package desk

import (
	"slices"
	"strconv"
	"strings"

	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// Named returns the paths of all texts in the layout that name the open item.
func (e *Editor) Named() []string {
	s := field.At(e.at)
	if s == nil {
		return nil
	}
	var list []string
	for _, f := range s.Fields {
		name, _ := field.Get(e.tree, e.at+"/"+f.Key).(string)
		if f.Defines == "" || name == "" {
			continue
		}
		for _, use := range field.Uses(e.tree, f.Defines, name) {
			if !field.Under(use, e.at) {
				list = append(list, use)
			}
		}
	}
	return list
}

// TakeOutAll returns the changes that take out the open item with all that names
// it: list items that cannot do without the name go, other fields are emptied.
func (e *Editor) TakeOutAll() []Change {
	goes := map[string]bool{e.at: true}
	for _, use := range e.Named() {
		goes[e.victim(use)] = true
	}
	paths := sortedKeys(goes)
	// From the end of each list, so that the numbers before stay right.
	slices.SortFunc(paths, func(a, b string) int { return comparePaths(b, a) })
	var changes []Change
	for i, p := range paths {
		if inside := slices.ContainsFunc(paths, func(above string) bool { return above != p && field.Under(p, above) }); inside {
			continue
		}
		changes = append(changes, Change{Path: paths[i]})
	}
	return changes
}

// victim returns what has to go where a text names something that goes: the text
// itself, or the object around it that needs it.
func (e *Editor) victim(use string) string {
	for at := use; ; {
		s, parent := field.At(at), parentOf(at)
		above := field.At(parent)
		if above == nil || above.Kind == field.Lines || above.Kind == field.List {
			return at
		}
		if s == nil || !s.Required {
			return at
		}
		at = parent
	}
}

// comparePaths orders paths step by step, numbers by their value.
func comparePaths(a, b string) int {
	sa, sb := field.Steps(a), field.Steps(b)
	for i := range min(len(sa), len(sb)) {
		na, errA := strconv.Atoi(sa[i])
		nb, errB := strconv.Atoi(sb[i])
		if errA == nil && errB == nil && na != nb {
			return na - nb
		}
		if c := strings.Compare(sa[i], sb[i]); c != 0 && (errA != nil || errB != nil) {
			return c
		}
	}
	return len(sa) - len(sb)
}

// TakeOutText labels taking out with all that names it.
func TakeOutText(places int) string {
	if places == 1 {
		return phrase.Of("Take out with 1 place that names it")
	}
	return phrase.Of("Take out with ") + digits(places) + phrase.Of(" places that name it")
}
