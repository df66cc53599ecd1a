package spot

import (
	"aftbay/geom"
	"aftbay/geom/drop"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// The reasons why a place is refused, in the order of the tests.
const (
	Buried     = "inside a solid"
	NotFlat    = "foot not flat on the host"
	TooFar     = "too far from what it serves"
	Walled     = "behind the firewall from what it serves"
	NearGround = "too near the ground"
	Splashed   = "below the splash line"
	OverFill   = "stands over what must stay free above"
	Overlap    = "overlaps a part"
	TooClose   = "too close to a part"
	NotKept    = "too near to what it must keep from"
	NoTool     = "no way in for the tool"
	NoSwing    = "no room for the tool's handle"
	NoRemoval  = "cannot be pulled off"
	NoLead     = "no way for the lead"
	TooHot     = "over its temperature limit"
)

// reasons in the order of the tests. Read-only.
var reasons = []string{
	Buried, TooFar, Walled, NotFlat, NearGround, Splashed, Overlap, NotKept, OverFill, TooClose, NoTool, NoSwing, NoRemoval, NoLead, TooHot,
}

// Result is the answer for all components of the layout.
type Result struct {
	Spots   []Spot    `json:"spots"`   // of all studies, in their order
	Refused []Refused `json:"refused"` // of all studies, in their order
	Studies []Study   `json:"studies"`
	Joint   *Joint    `json:"joint,omitempty"` // of two components or more
	Caution string    `json:"caution"`
	// Refining: an answer on the way, from few places; better ones follow.
	Refining bool `json:"-"`
}

// Study is the answer for one component.
type Study struct {
	Name        string     `json:"name"`
	Role        string     `json:"role"`
	LimitDegC   *float64   `json:"limit_degC"` // continuous; null without one
	PeakDegC    *float64   `json:"peak_degC"`  // of a soak; null without one
	Replaces    string     `json:"replaces,omitempty"`
	ReachMM     *float64   `json:"reach_mm"` // the most allowed
	Candidates  int        `json:"candidates"`
	Acceptable  int        `json:"acceptable"` // candidates that passed all tests; the best of them are Spots
	Spots       []Spot     `json:"spots"`      // best first
	Refused     []Refused  `json:"refused"`
	Present     *Present   `json:"present"` // null where nothing is replaced
	Sentence    say.Text   `json:"sentence"`
	Assumed     []say.Text `json:"assumed,omitempty"`
	FinestMM    float64    `json:"finest_mm"`     // mean distance of neighbouring candidates in the last round
	FreeAreaMM2 float64    `json:"free_area_mm2"` // estimate of the hosts' surface where its middle may stand
	Changes     []Change   `json:"changes"`       // what would open more places, most first
	Tried       []Tried    `json:"-"`             // every candidate, for pictures
}

// Tried is one candidate and what came of it.
type Tried struct {
	Host    int // index in the scene
	PointMM geom.Vec
	Normal  geom.Vec
	Reason  string // "" where it passed
	// Bare numbers: as Spot.Score; 0 where it was refused.
	Score float64
}

// Change is a single change of the task and what it would open.
type Change struct {
	Change   say.Text `json:"change"`
	Reason   string   `json:"reason"`   // whose refusals it turns
	Opens    int      `json:"opens"`    // of the candidates of the even round
	Of       int      `json:"of"`       // refused for that reason, of the even round
	Estimate bool     `json:"estimate"` // not tested as a place is; the sentence says why
	Sentence say.Text `json:"sentence"`
}

// Spot is one place where the component can be mounted. As a part it would have
// move_mm = PointMM and turn_deg = TurnDeg.
type Spot struct {
	Component   string        `json:"component"`
	Rank        int           `json:"rank"` // within its component, from 1
	Host        string        `json:"host"`
	Group       string        `json:"group,omitempty"` // of the host: it moves along
	PointMM     geom.Vec      `json:"point_mm"`        // of the mounting face's origin
	Normal      geom.Vec      `json:"normal"`
	TurnDeg     geom.Vec      `json:"turn_deg"`
	Temperature *balance.Band `json:"temperature_degC"` // of the worst case; null without a heat study
	WorstCase   string        `json:"worst_case,omitempty"`
	Cases       []CaseHeat    `json:"cases,omitempty"`
	ClearanceMM *float64      `json:"clearance_mm"` // at rest, to the nearest part but the host; null where it is alone
	NearestPart string        `json:"nearest_part,omitempty"`
	// MarginMM is the smallest excess over a least clearance, in any state;
	// null where it is 30 mm or more.
	MarginMM    *float64 `json:"margin_mm"`
	LeastMM     *float64 `json:"least_mm"`
	MarginPart  string   `json:"margin_part,omitempty"`
	MarginState string   `json:"margin_state,omitempty"`
	// ReachMM is the length of the lead, around all that stands between its
	// connector and what it serves; null where it serves nothing.
	ReachMM    *float64 `json:"reach_mm"`
	StraightMM *float64 `json:"straight_mm,omitempty"` // the same through everything
	// SlackMM is how far the served point can move against the host: slack that
	// the lead needs; 0 where both move together.
	SlackMM float64    `json:"slack_mm"`
	LeadMM  []geom.Vec `json:"lead_mm,omitempty"` // corners of the lead, connector first
	Verdict string     `json:"verdict"`           // ok or close
	// Score is the smallest of: margin of the high temperature to its limit
	// over 20 K; MarginMM over 6 mm, 5 at most; five times the share of the
	// allowed reach that lead and slack leave. Each is divided by its weight
	// first, a negative one multiplied. Larger is better; among equals the
	// shorter lead comes first.
	Score     float64 `json:"score"`
	ScoredBy  string  `json:"scored_by"`       // which of them: temperature, clearance or reach
	Supported float64 `json:"supported_share"` // Bare numbers: of the foot, 0..1
	Side      string  `json:"side"`            // of the host, in words
	Alike     int     `json:"alike"`           // candidates that passed and are nearer to this place than to another one given
	// Lowered is null where the layout studies no drop.
	Lowered  *Lowered `json:"lowered"`
	Sentence say.Text `json:"sentence"`

	Pose geom.Pose `json:"-"`
}

// Lowered tells how far the drop group may go up and down as far as the
// component itself is concerned, in this place.
type Lowered struct {
	Group    string       `json:"group"`
	RangeMM  drop.Window  `json:"range_mm"`  // the layout's
	WindowMM *drop.Window `json:"window_mm"` // within the range; null where the component is clear at no drop of it
	Low      say.Text     `json:"low"`       // what stops it at the window's start, "" where only the range starts there
	High     say.Text     `json:"high"`      // the same at its end
}

// CaseHeat is the temperature in one heat case.
type CaseHeat struct {
	Case        string          `json:"case"`
	Temperature balance.Band    `json:"temperature_degC"`
	LimitDegC   *float64        `json:"limit"`
	MarginK     *float64        `json:"margin_K"`
	Verdict     string          `json:"verdict"`
	From        []balance.Share `json:"from"` // the largest few, largest first
}

// Refused counts the places that one rule refused.
type Refused struct {
	Component string   `json:"component"`
	Reason    string   `json:"reason"`
	Count     int      `json:"count"`
	Example   say.Text `json:"example"` // the narrowest miss, in words
}

// Present is where the replaced part sits now.
type Present struct {
	Part        string        `json:"part"`
	PointMM     geom.Vec      `json:"point_mm"`
	Temperature *balance.Band `json:"temperature_degC"` // of the worst case; null without a heat study
	WorstCase   string        `json:"worst_case,omitempty"`
	Cases       []CaseHeat    `json:"cases,omitempty"`
	Verdict     string        `json:"verdict"`
	ReachMM     *float64      `json:"reach_mm"`
}
