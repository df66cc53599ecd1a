package desk

import (
	"strings"

	"aftbay/geom/layout"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// layoutNode is the name of the node for what the layout itself says; the tree's
// root has the empty one.
const layoutNode = "/"

// Nodes returns the paths below a node of the editor's tree; "" is its root.
func (e *Editor) Nodes(node string) []string {
	if e.tree == nil {
		return nil
	}
	if node == "" {
		list := []string{layoutNode}
		for _, f := range field.Root().Fields {
			if !f.Plain() {
				list = append(list, "/"+f.Key)
			}
		}
		return list
	}
	s := field.At(node)
	if s == nil || node == layoutNode {
		return nil
	}
	var list []string
	if s.Kind == field.List {
		items, _ := field.Get(e.tree, node).([]any)
		for i := range items {
			list = append(list, node+"/"+digits(i))
		}
		return list
	}
	top := !strings.Contains(node[1:], "/")
	for _, f := range s.Fields {
		at := node + "/" + f.Key
		if f.Kind == field.List && (top || field.Get(e.tree, at) != nil) {
			list = append(list, at)
		}
	}
	return list
}

// NodeLabel names a node of the tree.
func (e *Editor) NodeLabel(node string) string {
	if node == layoutNode {
		return phrase.Of("The layout")
	}
	s := field.At(node)
	if s == nil {
		return ""
	}
	if s.Label == "" {
		return itemName(node, s, field.Get(e.tree, node))
	}
	label := capital(s.Label)
	if items, _ := field.Get(e.tree, node).([]any); s.Kind == field.List && len(items) > 0 {
		label += " (" + digits(len(items)) + ")"
	}
	return label
}

// NodePath returns what a node opens; NodeOf the node of what is open.
func NodePath(node string) string {
	if node == layoutNode {
		return ""
	}
	return node
}

// NodeOf returns the node that shows a path in the tree: its own, or that of
// what holds it.
func NodeOf(path string) string {
	if path == "" {
		return layoutNode
	}
	if parent, step := field.Parent(path); step == field.Last {
		return parent
	}
	for at := path; at != ""; at = parentOf(at) {
		parent := field.At(parentOf(at))
		if s := field.At(at); s.Kind == field.List || parent.Kind == field.List || parentOf(at) == "" {
			return at
		}
	}
	return layoutNode
}

// PartAt returns the part or route that is open, "" if something else is.
func (e *Editor) PartAt() string {
	steps := field.Steps(e.at)
	if len(steps) < 2 || steps[0] != "parts" && steps[0] != "routes" || steps[1] == field.Last {
		return ""
	}
	name, _ := field.Get(e.tree, "/"+steps[0]+"/"+steps[1]+"/name").(string)
	return name
}

// PathOfPart returns where the layout describes a part or a route, "" if it does
// not.
func PathOfPart(doc *layout.Document, name string) string {
	for i := range doc.Parts {
		if doc.Parts[i].Name == name {
			return "/parts/" + digits(i)
		}
	}
	for i := range doc.Routes {
		if doc.Routes[i].Name == name {
			return "/routes/" + digits(i)
		}
	}
	return ""
}
