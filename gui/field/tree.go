package field

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// Last is the step that stands for the item after the last of a list.
const Last = "-"

// Steps returns the keys and numbers of a path.
func Steps(path string) []string {
	if path == "" {
		return nil
	}
	return strings.Split(strings.TrimPrefix(path, "/"), "/")
}

// Parent returns the path of what holds a path, and the last step.
func Parent(path string) (parent, step string) {
	i := strings.LastIndexByte(path, '/')
	if i < 0 {
		return "", ""
	}
	return path[:i], path[i+1:]
}

// Under reports whether a path is another one or lies below it.
func Under(path, above string) bool {
	return path == above || strings.HasPrefix(path, above+"/")
}

// Tree returns a document as plain values.
func Tree(doc *layout.Document) (any, error) {
	data, err := json.Marshal(doc)
	if err != nil {
		return nil, say.Errorf("values of the layout: %w", err)
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var tree any
	if err := dec.Decode(&tree); err != nil {
		return nil, say.Errorf("values of the layout: %w", err)
	}
	return tree, nil
}

// Get returns the value at a path, nil if there is none.
func Get(tree any, path string) any {
	for _, step := range Steps(path) {
		switch at := tree.(type) {
		case map[string]any:
			tree = at[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(at) {
				return nil
			}
			tree = at[i]
		default:
			return nil
		}
	}
	return tree
}

// Set returns the tree with a value at a path; nil takes out what stands there,
// and with it the objects that are empty then. Objects and lists on the way are
// made. The given tree stays as it was.
func Set(tree any, path string, value any) (any, error) {
	return set(tree, Root(), Steps(path), path, value)
}

func set(tree any, s *Spec, steps []string, path string, value any) (any, error) {
	if len(steps) == 0 {
		return value, nil
	}
	switch {
	case s == nil:
		return nil, say.Errorf("%s: the layout has no such place", path)
	case s.Kind == List || s.Kind == Lines || s.Kind == Points:
		list, _ := tree.([]any)
		return setItem(list, s, steps, path, value)
	case s.Kind == Object:
		if s.pair() {
			pair, _ := tree.([]any)
			return setPair(pair, s, steps, value)
		}
		object, _ := tree.(map[string]any)
		f := s.Field(steps[0])
		below, err := set(object[steps[0]], f, steps[1:], path, value)
		if err != nil {
			return nil, err
		}
		out := make(map[string]any, len(object)+1)
		for k, v := range object {
			out[k] = v
		}
		if out[steps[0]] = below; below == nil || hollow(below) && value == nil && !f.Required {
			delete(out, steps[0])
		}
		return out, nil
	}
	return nil, say.Errorf("%s: the layout has no such place", path)
}

// setItem changes, appends or takes out an item of a list.
func setItem(list []any, s *Spec, steps []string, path string, value any) (any, error) {
	i, err := strconv.Atoi(steps[0])
	if steps[0] == Last {
		i, err = len(list), nil
	}
	if err != nil || i < 0 || i > len(list) {
		return nil, say.Errorf("%s: the list has no such item", path)
	}
	out := slices.Clone(list)
	if len(steps) == 1 && value == nil {
		if i == len(list) {
			return out, nil
		}
		if out = slices.Delete(out, i, i+1); len(out) == 0 && !s.Required {
			return nil, nil
		}
		return out, nil
	}
	if i == len(out) {
		out = append(out, nil)
	}
	out[i], err = set(out[i], s.Of, steps[1:], path, value)
	return out, err
}

// setPair changes one of the two texts of a pair.
func setPair(pair []any, s *Spec, steps []string, value any) (any, error) {
	out := make([]any, len(s.Fields))
	for i := range out {
		out[i] = ""
		if i < len(pair) {
			out[i] = pair[i]
		}
		if s.Fields[i].Key == steps[0] && value != nil {
			out[i] = value
		} else if s.Fields[i].Key == steps[0] {
			out[i] = ""
		}
	}
	return out, nil
}

// hollow reports whether an object or a list holds nothing.
func hollow(value any) bool {
	switch v := value.(type) {
	case map[string]any:
		return len(v) == 0
	case []any:
		return len(v) == 0
	}
	return false
}

func stepOf(i int) string { return strconv.Itoa(i) }
