package drop

import "aftbay/geom"

// Verdicts of the study.
const (
	OK    = "ok"    // the powertrain as it stands is inside the window
	Close = "close" // inside, with less than 2 mm to either end
	Short = "short" // outside, or there is no window
)

// Result is the answer of the study.
type Result struct {
	Group     string   `json:"group"`
	RangeMM   Window   `json:"range_mm"`
	WindowMM  *Window  `json:"window_mm"`  // the lowest-reaching window of those that hold; nil where nothing fits
	WindowsMM []Window `json:"windows_mm"` // all of them
	// ReachMM is the window that results when limits that no drop of the range
	// meets are set aside; nil where WindowMM is given or nothing is left.
	ReachMM *Window   `json:"reach_mm"`
	Binding Binding   `json:"binding"`
	Limits  []Limit   `json:"limits"`
	Curve   []Point   `json:"curve"`
	Angles  AnglesNow `json:"angles"`
	Mass    Mass      `json:"mass"`
	Verdict string    `json:"verdict"`
	Notes   []string  `json:"notes,omitempty"`
}

// Binding names what stops the group at each end of the window; nil where only
// the studied range ends there.
type Binding struct {
	Low  *Stop `json:"low"`
	High *Stop `json:"high"`
}

// Stop is one end of the window.
type Stop struct {
	Limit    string  `json:"limit"`
	DropMM   float64 `json:"drop_mm"`
	Sentence string  `json:"sentence"`
}

// Limit is one thing that can stop the group.
type Limit struct {
	Name      string   `json:"name"`
	Kind      string   `json:"kind"`       // clearance, ground, departure, ramp, half-shaft, plunge
	MostMM    *float64 `json:"most_mm"`    // largest drop at which it holds; nil where none does
	WindowsMM []Window `json:"windows_mm"` // all drops of the range at which it holds
	Reached   bool     `json:"reached"`    // false: it holds up to the end of the range
	Source    string   `json:"source,omitempty"`

	event string // what happens there, for the sentence
}

// Point is the state of things at one drop.
type Point struct {
	DropMM        float64            `json:"drop_mm"`
	GroundMM      map[string]float64 `json:"ground_mm"` // by attitude, square to the road, whole car
	DeckMM        *float64           `json:"deck_mm"`   // least clearance to role deck
	HalfShafts    []ShaftAngles      `json:"half_shaft_deg"`
	DepartureDeg  *float64           `json:"departure_deg"`
	RampDeg       *float64           `json:"ramp_deg"`
	SeenShare     *float64           `json:"seen_share"` // nil: not computed by this study
	CGMM          *geom.Vec          `json:"cg_mm"`
	LoadTransferN *float64           `json:"load_transfer_N"`
	Stability     *float64           `json:"static_stability_factor"`
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

// Mass sums the group; parts without a mass are named, not guessed.
type Mass struct {
	GroupKg float64  `json:"group_kg"`
	Missing []string `json:"missing,omitempty"`
}
