package compare

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// most is how long a value is before it is shortened.
const most = 120

// apart are the keys of a part that are told as moves and changes of shape.
// Read-only.
var apart = []string{"move_mm", "turn_deg", "mesh", "mesh_unit", "name", "points_mm"}

// settings lists what differs in the two files besides shapes and places.
// Decisions, measurements and titles change no figure and are left out.
func settings(old, now *layout.Document) ([]Setting, error) {
	before, err := keysOf(old)
	if err != nil {
		return nil, err
	}
	after, err := keysOf(now)
	if err != nil {
		return nil, err
	}
	var out []Setting
	for _, key := range keys(before, after) {
		switch key {
		case "title", "format", "version", "decisions", "measurements", "notes":
			continue
		case "parts", "routes", "groups":
			list, err := byName(key, before[key], after[key])
			if err != nil {
				return nil, err
			}
			out = append(out, list...)
			continue
		}
		if !bytes.Equal(before[key], after[key]) {
			out = append(out, within(key, before[key], after[key])...)
		}
	}
	return out, nil
}

// object is a JSON object with its values as they are written.
type object map[string]json.RawMessage

func keysOf(doc *layout.Document) (object, error) {
	text, err := json.Marshal(doc)
	if err != nil {
		return nil, say.Errorf("compare settings: %w", err)
	}
	var o object
	return o, json.Unmarshal(text, &o)
}

// byName compares two lists of named objects, key by key.
func byName(list string, before, after json.RawMessage) ([]Setting, error) {
	was, _, err := named(before)
	if err != nil {
		return nil, err
	}
	is, order, err := named(after)
	if err != nil {
		return nil, err
	}
	var out []Setting
	for _, name := range order {
		old, ok := was[name]
		if !ok {
			continue // told as added
		}
		for _, key := range keys(old, is[name]) {
			if slices.Contains(apart, key) || key == "notes" || bytes.Equal(old[key], is[name][key]) {
				continue
			}
			out = append(out, within(fmt.Sprintf("%s %q: %s", list[:len(list)-1], name, key), old[key], is[name][key])...)
		}
	}
	return out, nil
}

// within goes down to the keys of two objects that differ; what is no object on
// both sides differs as a whole.
func within(where string, before, after json.RawMessage) []Setting {
	var was, is object
	if json.Unmarshal(before, &was) != nil || json.Unmarshal(after, &is) != nil || was == nil || is == nil {
		return []Setting{{where, short(before), short(after)}}
	}
	var out []Setting
	for _, key := range keys(was, is) {
		if key != "notes" && !bytes.Equal(was[key], is[key]) {
			out = append(out, within(where+"."+key, was[key], is[key])...)
		}
	}
	return out
}

func named(text json.RawMessage) (map[string]object, []string, error) {
	out := map[string]object{}
	if text == nil {
		return out, nil, nil
	}
	var list []object
	if err := json.Unmarshal(text, &list); err != nil {
		return nil, nil, say.Errorf("compare settings: %w", err)
	}
	var order []string
	for _, o := range list {
		var name string
		if err := json.Unmarshal(o["name"], &name); err != nil {
			return nil, nil, say.Errorf("compare settings: %w", err)
		}
		out[name], order = o, append(order, name)
	}
	return out, order, nil
}

// keys returns the keys of two objects, sorted.
func keys(a, b object) []string {
	var out []string
	for k := range a {
		out = append(out, k)
	}
	for k := range b {
		if _, ok := a[k]; !ok {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// short returns a value as it is written; of a long list how long it is.
func short(value json.RawMessage) say.Text {
	var list []json.RawMessage
	if len(value) > most && json.Unmarshal(value, &list) == nil {
		return say.F("%d entries", len(list))
	}
	runes := []rune(string(value))
	if len(runes) > most {
		return say.F("%s…", string(runes[:most]))
	}
	return say.Name(string(runes))
}

// tables lists the groups whose named positions differ, which may lie in a file
// of their own.
func tables(old, now *scene.Scene) []Setting {
	var out []Setting
	for i := range now.Doc.Groups {
		name := now.Doc.Groups[i].Name
		before, after := old.Positions(name), now.Positions(name)
		if !slices.Equal(before, after) {
			out = append(out, Setting{
				fmt.Sprintf("group %q: named positions", name),
				say.F("%d", len(before)), say.F("%d", len(after)),
			})
		}
	}
	return out
}
