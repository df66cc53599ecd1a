package clearance

import (
	"encoding/json"
	"strings"
	"sync"

	"aftbay/assets"
	"aftbay/geom/say"
)

// Marks say how the source of a figure was met.
const (
	MarkSeen       = "seen"        // the source was read
	MarkSecondHand = "second-hand" // quoted by another
	MarkHabit      = "habit"       // custom of the trade, no standard
	MarkDefinition = "definition"  // follows from what the role means
)

// habit is the source line of a figure that no document was found for.
const habit = "common practice, no source"

// LeftOut is a figure known from a source that no pair of roles can say.
type LeftOut struct {
	What   string `json:"what"`
	Source string `json:"source"`
	Why    string `json:"why"`
}

// table is assets/clearance_rules.json.
type table struct {
	About   string    `json:"about"`
	Rules   []Rule    `json:"rules"`
	LeftOut []LeftOut `json:"left_out"`
}

// builtIn is the table of least clearances by role that holds until the file
// says otherwise, read on first use. Read-only.
var builtIn = sync.OnceValue(func() *table {
	t, err := readTable(assets.ClearanceRules)
	if err != nil {
		panic("clearance: the built-in rules do not read: " + err.Error())
	}
	return t
})

func readTable(text string) (*table, error) {
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	var t table
	if err := d.Decode(&t); err != nil {
		return nil, say.Errorf("clearance_rules.json: %w", err)
	}
	for i := range t.Rules {
		t.Rules[i].BuiltIn = true
	}
	return &t, nil
}

// Unsaid returns the figures that the built-in rules leave out, with the reason.
func Unsaid() []LeftOut { return append([]LeftOut(nil), builtIn().LeftOut...) }

// IsHabit reports whether a source line says that the figure is a habit: it is
// empty, says so itself, or stands beside a habit in the built-in table.
func IsHabit(source string) bool {
	if source == "" || strings.HasPrefix(source, habit) {
		return true
	}
	for _, r := range builtIn().Rules {
		if r.Source == source {
			return r.Mark == MarkHabit
		}
	}
	return false
}
