package layout

import (
	"slices"
	"strings"

	"aftbay/geom/say"
)

// SelectorKind is what a selector goes by.
type SelectorKind int

// The kinds, least specific first: a rule on a later kind wins.
const (
	SelectAll SelectorKind = iota
	SelectGroup
	SelectRole
	SelectPart
)

// Selector names a set of parts.
type Selector struct {
	Kind SelectorKind
	Name string // part, role or group; "" for SelectAll
}

// ParseSelector reads role:x, part:x, group:x or *. Whether x exists is not
// checked.
func ParseSelector(text string) (Selector, error) {
	if text == "*" {
		return Selector{Kind: SelectAll}, nil
	}
	kind, name, _ := strings.Cut(text, ":")
	if name != "" && name == strings.Trim(name, " \t\n\v\f\r") {
		switch kind {
		case "group":
			return Selector{SelectGroup, name}, nil
		case "role":
			return Selector{SelectRole, name}, nil
		case "part":
			return Selector{SelectPart, name}, nil
		}
	}
	return Selector{}, Fault{
		What: say.F("%q is no selector", clip(text)),
		Mend: say.Of("write role:WORD, part:NAME, group:NAME or *"),
	}
}

// String returns the selector as the file writes it.
func (s Selector) String() string {
	switch s.Kind {
	case SelectGroup:
		return "group:" + s.Name
	case SelectRole:
		return "role:" + s.Name
	case SelectPart:
		return "part:" + s.Name
	}
	return "*"
}

// Roles returns the roles that have default rules. A part may have any other
// word for its role; it then falls under * alone.
func Roles() []string { return slices.Clone(roles[:]) }

// roles are those that have default rules. Read-only.
var roles = [...]string{
	"engine", "transaxle", "exhaust", "intake", "oil tank", "coil", "sensor", "harness", "hose", "fuel",
	"coolant", "brake", "body", "deck", "firewall", "suspension", "half-shaft", "wheel", "mount", "shield",
	"sightline", "road",
}
