package layout

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// words turns a path such as /parts/3/thermal/power_W into what a reader looks
// for: parts[3] "coil 1", thermal.power_W. Names are taken from the tree.
func (t *tree) words(path string) string {
	var b strings.Builder
	at := t.root
	named := false // a name was just written: a comma must follow
	for _, step := range strings.Split(strings.TrimPrefix(path, "/"), "/") {
		if step == "" {
			continue
		}
		i, err := strconv.Atoi(step)
		if list, ok := at.([]any); ok || (at == nil && err == nil) {
			fmt.Fprintf(&b, "[%s]", step)
			if at = nil; err == nil && i < len(list) {
				at = list[i]
			}
			if name := nameOf(at); name != "" {
				fmt.Fprintf(&b, " %q", clip(name))
				named = true
			}
			continue
		}
		if named {
			b.WriteString(", ")
		} else if b.Len() > 0 {
			b.WriteString(".")
		}
		named = false
		b.WriteString(printable(clip(step)))
		object, _ := at.(map[string]any)
		at = object[step]
	}
	return b.String()
}

// printable returns a key as it is, or in quotes where it holds what a terminal
// would obey.
func printable(key string) string {
	if strings.ContainsFunc(key, unicode.IsControl) {
		return strconv.Quote(key)
	}
	return key
}

// nameOf returns what an element of a list calls itself, "" if nothing.
func nameOf(v any) string {
	object, _ := v.(map[string]any)
	for _, key := range []string{"name", "finding"} {
		if name, ok := object[key].(string); ok {
			return name
		}
	}
	return ""
}

// resolve puts the faults in file order and their places in words. where is
// the file; "" stands for a document in memory, which has no lines.
func (t *tree) resolve(where string, list []placed) Faults {
	t.look(list)
	t.inOrder(list)
	list = list[:min(len(list), maxFaults)]
	faults := make(Faults, 0, len(list))
	for i, p := range list {
		if i > 0 && p.same(list[i-1]) {
			continue
		}
		place := where
		if line, _ := t.found(p); where != "" && line > 0 && p.path+p.key != "" {
			place = fmt.Sprintf("%s:%d", where, line)
		}
		if words := t.words(p.path); words != "" && place != "" {
			place += ": " + words
		} else if words != "" {
			place = words
		}
		faults = append(faults, Fault{Where: place, What: p.what, Mend: p.mend})
	}
	return faults
}
