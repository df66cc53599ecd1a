package layout

import "aftbay/geom"

// Format and Version are what a layout file must say of itself.
const (
	Format  = "aftbay-layout"
	Version = 1
)

// Document is a whole layout as plain data, in file units: mm, degrees, °C,
// kg, s. It holds nothing computed. Absent optional objects are nil.
type Document struct {
	Format       string        `json:"format"`
	Version      int           `json:"version"`
	Title        string        `json:"title"`
	Notes        string        `json:"notes,omitempty"`
	Parts        []Part        `json:"parts"`
	Groups       []Group       `json:"groups,omitempty"`
	Joined       [][2]string   `json:"joined,omitempty"` // pairs of part names whose contact is intended
	Rules        []Rule        `json:"rules,omitempty"`
	Vehicle      *Vehicle      `json:"vehicle,omitempty"`
	HalfShafts   []HalfShaft   `json:"half_shafts,omitempty"`
	ShaftLines   []ShaftLine   `json:"shaft_lines,omitempty"`
	Drop         *Drop         `json:"drop,omitempty"`
	RearView     *RearView     `json:"rear_view,omitempty"`
	Heat         *Heat         `json:"heat,omitempty"`
	Spots        []Spot        `json:"spots,omitempty"`
	Routes       []Route       `json:"routes,omitempty"`
	Decisions    []Decision    `json:"decisions,omitempty"`
	Measurements []Measurement `json:"measurements,omitempty"`
}

// Part is one envelope: a mesh with a place, a role and its properties.
type Part struct {
	Name            string        `json:"name"`
	Role            string        `json:"role"`
	Mesh            string        `json:"mesh"`                // path inside the folder, with /
	MeshUnit        string        `json:"mesh_unit,omitempty"` // mm (default), cm, m, in
	TurnDeg         geom.Vec      `json:"turn_deg,omitzero"`   // about fixed X, then Y, then Z
	MoveMM          geom.Vec      `json:"move_mm,omitzero"`
	Group           string        `json:"group,omitempty"`
	ToleranceMM     float64       `json:"tolerance_mm,omitempty"` // position, 3 sigma, any direction
	MassKg          *float64      `json:"mass_kg,omitempty"`
	DensityKgM3     *float64      `json:"density_kg_m3,omitempty"` // mean, of the closed envelope
	Material        string        `json:"material,omitempty"`
	Emissivity      *float64      `json:"emissivity,omitempty"`       // 0..1
	InnerEmissivity *float64      `json:"inner_emissivity,omitempty"` // open sheets only, 0..1
	LimitDegC       *Limit        `json:"limit_degC,omitempty"`
	Thermal         *Thermal      `json:"thermal,omitempty"`
	Fluid           string        `json:"fluid,omitempty"` // row of the ignition table: what leaks if it leaks
	Growth          *Growth       `json:"growth,omitempty"`
	Alternatives    []Alternative `json:"alternatives,omitempty"`
	Notes           string        `json:"notes,omitempty"`
}

// Limit is what a part stands, °C; nil means not given.
type Limit struct {
	ContinuousDegC *float64 `json:"continuous,omitempty"`
	PeakDegC       *float64 `json:"peak,omitempty"`
	Like           string   `json:"like,omitempty"`   // cable class letter, material or row of the limit table that gives what is absent
	Source         string   `json:"source,omitempty"` // of the figures given here
	Notes          string   `json:"notes,omitempty"`
}

// Thermal is what the heat balance of a part needs beyond its shape.
type Thermal struct {
	HeldDegC       *float64   `json:"held_degC,omitempty"`
	HeldAlong      *HeldAlong `json:"held_along,omitempty"`
	HeldOffK       *float64   `json:"held_off_K,omitempty"` // ± on it; the study's source_K without
	PowerW         float64    `json:"power_W,omitempty"`
	FilmWM2K       *float64   `json:"film_W_m2K,omitempty"` // replaces the correlation
	HeatCapacityJK *float64   `json:"heat_capacity_J_K,omitempty"`
	Mount          *Mount     `json:"mount,omitempty"`
	LengthMM       *float64   `json:"length_mm,omitempty"`    // characteristic length of the film
	ThicknessMM    *float64   `json:"thickness_mm,omitempty"` // wall, for the heat capacity after key-off
	Notes          string     `json:"notes,omitempty"`
}

// HeldAlong is a temperature that runs straight from one point to another
// (vehicle axes, design pose) and is constant beyond the ends.
type HeldAlong struct {
	FromMM   geom.Vec `json:"from_mm"`
	ToMM     geom.Vec `json:"to_mm"`
	FromDegC float64  `json:"from_degC"`
	ToDegC   float64  `json:"to_degC"`
	Notes    string   `json:"notes,omitempty"`
}

// Mount is a heat path to another part.
type Mount struct {
	To    string  `json:"to"` // part name
	WK    float64 `json:"W_K"`
	Notes string  `json:"notes,omitempty"`
}

// Growth is expansion about an anchor in vehicle axes:
// scale 1 + PerK·(ToDegC − FromDegC).
type Growth struct {
	AnchorMM geom.Vec `json:"anchor_mm"`
	PerK     float64  `json:"per_K"`
	FromDegC float64  `json:"from_degC"`
	ToDegC   float64  `json:"to_degC"`
	Notes    string   `json:"notes,omitempty"`
}

// Decision is what the review settled about one finding.
type Decision struct {
	Finding string `json:"finding"`         // finding id
	State   string `json:"state,omitempty"` // open (when empty), accepted, rejected, closed
	Owner   string `json:"owner,omitempty"`
	Due     string `json:"due,omitempty"` // yyyy-mm-dd
	Notes   string `json:"notes,omitempty"`
	// History is what was settled when, the oldest first; the last entry is what
	// holds now.
	History []Settled `json:"history,omitempty"`
}

// Settled is what was settled about a finding on one day.
type Settled struct {
	Date  string `json:"date,omitempty"`  // yyyy-mm-dd; empty: not known
	State string `json:"state,omitempty"` // empty: taken back
	Owner string `json:"owner,omitempty"` // then
	Due   string `json:"due,omitempty"`
	Notes string `json:"notes,omitempty"`
}

// Settled returns what holds now, without a date.
func (d *Decision) Settled() Settled {
	return Settled{State: d.State, Owner: d.Owner, Due: d.Due, Notes: d.Notes}
}
