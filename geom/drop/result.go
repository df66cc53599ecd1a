package drop

import (
	"aftbay/geom"
	"aftbay/geom/say"
)

// Verdicts of the study.
const (
	OK    = "ok"    // the powertrain as it stands is inside the window
	Close = "close" // inside, with less than 2 mm to either end
	Short = "short" // outside, or there is no window
)

// Kinds of limits.
const (
	KindClearance = "clearance"
	KindDeck      = "deck"
	KindGround    = "ground"
	KindDeparture = "departure"
	KindRamp      = "ramp"
	KindUnderAxle = "under axle"
	KindShaft     = "half-shaft"
	KindPlunge    = "plunge"
	KindLine      = "shaft line"
)

// Names of what is no file and no group of the layout.
const (
	AsItIs   = "as it is"  // a swap without any exchange
	AllParts = "all parts" // the heap of all
)

// Result is the answer of the study.
type Result struct {
	Group     string   `json:"group"`
	RangeMM   Window   `json:"range_mm"`
	WindowMM  *Window  `json:"window_mm"`  // the lowest-reaching window of those that hold; nil where nothing fits
	WindowsMM []Window `json:"windows_mm"` // all of them
	Ends      []Ends   `json:"windows"`    // the same with what stops it at each end
	// ReachMM is the window that results when limits that no drop of the range
	// meets are set aside; nil where WindowMM is given or nothing is left.
	ReachMM *Window    `json:"reach_mm"`
	Binding Binding    `json:"binding"`
	Limits  []Limit    `json:"limits"`
	Curve   []Point    `json:"curve"`
	Angles  AnglesNow  `json:"angles"`
	Buys    []Gain     `json:"buys"`
	Mass    Mass       `json:"mass"`
	Verdict string     `json:"verdict"`
	Notes   []say.Text `json:"notes,omitempty"`
	// SeenNote says why the curve has no seen_share, "" where it has.
	SeenNote say.Text `json:"seen_note,omitzero"`
	Swaps    []Swap   `json:"swaps,omitempty"`
	Map      *Map     `json:"map,omitempty"`

	study *Study
}

// Ends is one window with what stops the group at both of its ends.
type Ends struct {
	WindowMM Window `json:"window_mm"`
	Low      *Stop  `json:"low"`
	High     *Stop  `json:"high"`
}

// Binding names what stops the group at each end of the window; nil where only
// the studied range ends there.
type Binding struct {
	Low  *Stop `json:"low"`
	High *Stop `json:"high"`
}

// Stop is one end of the window.
type Stop struct {
	Limit    say.Text `json:"limit"`
	DropMM   float64  `json:"drop_mm"`
	Sentence say.Text `json:"sentence"`
	Event    say.Text `json:"-"` // what happens there
}

// Limit is one thing that can stop the group.
type Limit struct {
	Name      say.Text `json:"name"`
	Kind      string   `json:"kind"`       // clearance, deck, ground, departure, ramp, under axle, half-shaft, plunge, shaft line
	MostMM    *float64 `json:"most_mm"`    // largest drop at which it holds; nil where none does
	WindowsMM []Window `json:"windows_mm"` // all drops of the range at which it holds
	Reached   bool     `json:"reached"`    // false: it holds up to the end of the range
	Trend     string   `json:"trend"`      // of its margin on the way down: falls, rises, steady, turns; found, not assumed
	Source    say.Text `json:"source,omitzero"`
	Unit      string   `json:"unit"` // of the values: mm or deg
	// Allowed is the value asked for: a least one for clearances, heights and
	// ground angles, else a most one.
	Allowed float64 `json:"allowed"` // Bare numbers: in Unit
	// Values are the values at the drops of the curve, in its order; nil where
	// the value is far above what is asked, or the parts overlap.
	Values []*float64 `json:"values,omitempty"` // Bare numbers: in Unit

	key   string   // Name in English: what tells limits apart
	event say.Text // what happens there, for the sentence
	value func(dropMM float64) float64
}

// Most reports whether the limit's value must not be exceeded, else it is a
// least one.
func (l *Limit) Most() bool {
	return l.Kind == KindShaft || l.Kind == KindPlunge || l.Kind == KindLine
}

// Point is the state of things at one drop.
type Point struct {
	DropMM        float64            `json:"drop_mm"`
	GroundMM      map[string]float64 `json:"ground_mm"` // by attitude, square to the road, whole car
	UnderAxleMM   Axles              `json:"under_axle_mm"`
	DeckMM        *float64           `json:"deck_mm"` // least clearance to role deck
	HalfShafts    []ShaftAngles      `json:"half_shaft_deg"`
	ShaftLines    []LineReading      `json:"shaft_lines,omitempty"`
	DepartureDeg  *float64           `json:"departure_deg"`         // by the tyre tangent
	DepartureText *float64           `json:"departure_contact_deg"` // Bare numbers: deg, textbook short form, from the contact point
	RampDeg       *float64           `json:"ramp_deg"`              // by the tyre tangents
	RampText      *float64           `json:"ramp_contact_deg"`      // Bare numbers: deg, textbook short form
	HighestMM     *float64           `json:"highest_mm"`            // top of the group over the road
	HighestPart   string             `json:"highest_part,omitempty"`
	CrankMM       *float64           `json:"crank_mm"` // height of the crank axis over the road
	Deck          []DeckHeight       `json:"deck_points,omitempty"`
	SeenShare     *float64           `json:"seen_share"` // of the prescribed road, by either eye; nil: see SeenNote
	CGMM          *geom.Vec          `json:"cg_mm"`
	LoadTransferN *float64           `json:"load_transfer_N"`
	Stability     *float64           `json:"static_stability_factor"`
	YawKgM2       *float64           `json:"yaw_inertia_change_kg_m2"` // Bare numbers: kg m²
}

// Axles is one figure for each axle; nil where nothing counts there.
type Axles struct {
	FrontMM *float64 `json:"front"`
	RearMM  *float64 `json:"rear"`
}

// DeckHeight is how low the deck could come down over one place.
type DeckHeight struct {
	Name     string  `json:"name"`
	TopMM    float64 `json:"top_mm"` // highest surface under the deck there, over the road
	Part     string  `json:"part"`
	LeastMM  float64 `json:"least_mm"`  // clearance asked between it and the deck
	LowestMM float64 `json:"lowest_mm"` // lowest underside of the deck there, over the road
}

// Gain is one figure of what the drop buys: as the group stands, at the lowest
// drop that holds, and the change.
type Gain struct {
	What   say.Text `json:"what"`
	Unit   string   `json:"unit"`
	Start  float64  `json:"start"`  // Bare numbers: in Unit
	End    float64  `json:"end"`    // Bare numbers: in Unit
	Change float64  `json:"change"` // Bare numbers: in Unit
}

// AnglesNow are the departure and ramp angles as the group stands.
type AnglesNow struct {
	Departure *AngleText `json:"departure"`
	Ramp      *AngleText `json:"ramp"`
}

// AngleText is an angle in file units; ContactDeg is the textbook short form.
type AngleText struct {
	TangentDeg float64  `json:"tangent_deg"`
	ContactDeg float64  `json:"contact_point_deg"`
	Part       string   `json:"part"`
	PointMM    geom.Vec `json:"point_mm"`
}
