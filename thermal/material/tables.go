package material

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"aftbay/geom/say"
)

//go:embed tables.json
var tablesJSON []byte // Read-only.

// Tables are all tables with their sources. Read-only.
type Tables struct {
	Sources    map[string]string // Sources[key]: what a row's source key stands for
	Emissivity []Emissivity
	Solids     []Solid
	Limits     []Limit
	Cables     []CableClass
	Insulation []InsulationClass
	Conditions []Condition
	Ignition   []Ignition
	Flask      []FlaskIgnition
	Burns      []Burn
	OtherBurns []OtherBurn
}

// file is how the embedded JSON is laid out.
type file struct {
	Sources map[string]string `json:"sources"`
	Tables  struct {
		Emissivity []Emissivity      `json:"emissivity"`
		Solids     []Solid           `json:"solids"`
		Limits     []Limit           `json:"limits"`
		Cables     []CableClass      `json:"cable_classes"`
		Insulation []InsulationClass `json:"iec60085"`
		Conditions []Condition       `json:"conditions"`
		Ignition   []Ignition        `json:"fluid_ignition"`
		Flask      []FlaskIgnition   `json:"fluid_ignition_laboratory_AIT"`
		Burns      []Burn            `json:"burn_threshold_bare_metal"`
		OtherBurns []OtherBurn       `json:"burn_threshold_other"`
	} `json:"tables"`
}

// All returns the tables, parsed once. Read-only.
var All = sync.OnceValue(parse)

func parse() *Tables {
	var f file
	if err := json.Unmarshal(tablesJSON, &f); err != nil {
		panic("the embedded material tables must parse: " + err.Error())
	}
	t := f.Tables
	return &Tables{
		Sources: f.Sources, Emissivity: t.Emissivity, Solids: t.Solids, Limits: t.Limits,
		Cables: t.Cables, Insulation: t.Insulation, Conditions: t.Conditions,
		Ignition: t.Ignition, Flask: t.Flask, Burns: t.Burns, OtherBurns: t.OtherBurns,
	}
}

// Origin says in words where a row comes from: its source and its status.
func (t *Tables) Origin(source, status string) string {
	if text, ok := t.Sources[source]; ok && text != status {
		return fmt.Sprintf("%s (%s)", text, status)
	}
	if status == OwnStatus {
		return fmt.Sprintf("%s (%s)", source, status)
	}
	return status
}

// Material is a surface and the solid under it; either may be nil when the
// tables do not know it.
type Material struct {
	Name    string
	Surface *Emissivity
	Solid   *Solid
}

// Find returns the material of a name in the built-in tables.
func Find(name string) (Material, error) { return All().Find(name) }

// Find returns the material of a name in the emissivity or the solids table;
// upper and lower case do not matter. The error names the nearest entry.
func (t *Tables) Find(name string) (Material, error) {
	if s := t.surface(name); s != nil {
		return Material{Name: s.Name, Surface: s, Solid: t.solid(s.Solid)}, nil
	}
	if s := t.solid(name); s != nil {
		return Material{Name: s.Name, Surface: t.surface(s.Surface), Solid: s}, nil
	}
	return Material{}, say.Errorf("material %q is not in the table; the nearest entry is %q", name, nearest(name, t.Names()))
}

func (t *Tables) surface(name string) *Emissivity {
	for i := range t.Emissivity {
		if strings.EqualFold(t.Emissivity[i].Name, name) {
			return &t.Emissivity[i]
		}
	}
	return nil
}

func (t *Tables) solid(name string) *Solid {
	for i := range t.Solids {
		if strings.EqualFold(t.Solids[i].Name, name) {
			return &t.Solids[i]
		}
	}
	return nil
}

// Names returns every name that Find knows, surfaces first.
func (t *Tables) Names() []string {
	var names []string
	for _, e := range t.Emissivity {
		names = append(names, e.Name)
	}
	for _, s := range t.Solids {
		names = append(names, s.Name)
	}
	return names
}

// nearest returns the known name that shares the largest part of its letter
// pairs with the given one; the first at a tie.
func nearest(name string, names []string) string {
	best, bestShare := "", -1.0
	for _, n := range names {
		if share := pairShare(name, n); share > bestShare {
			best, bestShare = n, share
		}
	}
	return best
}

// pairShare returns twice the number of letter pairs that two names share over
// the number of pairs in both, 0..1; a name that begins with the other gets 1
// more than its share.
//
// Source: Dice's coefficient of similarity (L. R. Dice, Ecology 26, 1945).
func pairShare(a, b string) float64 {
	a, b = strings.ToLower(a), strings.ToLower(b)
	pairs := map[string]int{}
	for i := 0; i+2 <= len(a); i++ {
		pairs[a[i:i+2]]++
	}
	shared := 0
	for i := 0; i+2 <= len(b); i++ {
		if pairs[b[i:i+2]] > 0 {
			pairs[b[i:i+2]]--
			shared++
		}
	}
	total := max(len(a)+len(b)-2, 1)
	share := 2 * float64(shared) / float64(total)
	if strings.HasPrefix(b, a) && a != "" {
		share++
	}
	return share
}
