package rearview

import (
	"cmp"
	"maps"
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
)

// Verdicts of a rule.
const (
	OK    = "ok"
	Close = "close" // met, with more than 80 % of the allowance used or a part within 2 mm of it
	Short = "short" // not met
)

// Caution goes with every answer.
const Caution = "An engineering check of the geometry, no approval: the type approval or certification body decides. Check the seats, belts, head restraints and people that the layout leaves out."

// Result is the answer of the study: the rule that the layout asks for, then
// every rule that could be worked out.
type Result struct {
	Answer
	Rules    []Answer   `json:"rules"`
	Eyes     [2]Eye     `json:"eyes"`
	Mirror   MirrorSays `json:"mirror"`
	Drivers  *Drivers   `json:"drivers"`
	Variants []Variant  `json:"variants"`
	Forward  *Forward   `json:"forward"`     // nil: not asked
	Through  []string   `json:"see_through"` // parts that are taken not to block
	Notes    []say.Text `json:"notes"`
	Caution  string     `json:"caution"`

	Quick bool `json:"-"` // made with Options.Quick
	study *study
}

// Eye is one eye and its image, vehicle frame.
type Eye struct {
	AtMM    geom.Vec `json:"at_mm"`
	ImageMM geom.Vec `json:"image_mm"`
}

// Answer is what one rule comes to.
type Answer struct {
	Seen     Seen     `json:"seen"`
	Required Required `json:"required"`
	LostBy   []Loss   `json:"lost_by"` // the greatest first
	// LostToMirrorShare and LostToGlassShare are what no part takes: what lies
	// outside the mirror for either eye, and inside it but beside the glass.
	LostToMirrorShare float64           `json:"lost_to_mirror_share"`
	LostToGlassShare  float64           `json:"lost_to_glass_share"`
	NearestRoadMM     *float64          `json:"nearest_road_mm"`  // nearest point of the centre line that either eye sees, along X from the middle of the eyes; nil: none
	UnbrokenRoadMM    *float64          `json:"unbroken_road_mm"` // from there on the centre line is seen without a break up to the horizon
	WidthMM           Widths            `json:"width_mm"`         // of road seen at the near side of the field
	AngleDeg          float64           `json:"angle_deg"`        // from the leftmost to the rightmost level direction, middle eye
	ClearAngleDeg     float64           `json:"clear_angle_deg"`  // of it unblocked
	ImageEyesMM       [2]geom.Vec       `json:"image_eyes_mm"`
	HighestAllowedMM  map[string]Height `json:"highest_allowed_mm"` // by part, only such as hide something or soon would

	hiddenMiddleShare float64  // hidden by parts from the middle eye
	middleUnbrokenMM  *float64 // as UnbrokenRoadMM, for the middle eye
}

// Seen are shares of the field.
type Seen struct {
	LeftShare   float64 `json:"left"`
	RightShare  float64 `json:"right"`
	EitherShare float64 `json:"either"`
	BothShare   float64 `json:"both"`
	MiddleShare float64 `json:"middle"` // of an eye between the two
}

// Widths are lengths of road that are seen.
type Widths struct {
	LeftMM   float64 `json:"left"`
	RightMM  float64 `json:"right"`
	EitherMM float64 `json:"either"`
	BothMM   float64 `json:"both"`
}

// Required is how a rule judges.
type Required struct {
	Rule       string     `json:"rule"`
	Met        bool       `json:"met"`
	LeastShare float64    `json:"least_share"`
	Verdict    string     `json:"verdict"`
	Sentence   say.Text   `json:"sentence"`
	Reasons    []say.Text `json:"reasons"` // why it is not met
	ruleText
}

// Loss is what one part hides.
type Loss struct {
	Part        string  `json:"part"`
	Share       float64 `json:"share"`        // lost to both eyes together by it alone
	GainedShare float64 `json:"gained_share"` // seen again if it alone were gone
}

// Height is how high the highest point of a part may stand when the part is
// moved straight up or down, and how far that is from where it stands.
type Height struct {
	NowMM             float64  `json:"now"`
	NoLossMM          *float64 `json:"no_loss"`      // hides nothing of the field; nil: no such height near
	AtAllowanceMM     *float64 `json:"at_allowance"` // the rest as it is, the rule is just met; nil: no height does it
	NoLossMarginMM    *float64 `json:"no_loss_margin"`
	AllowanceMarginMM *float64 `json:"at_allowance_margin"` // negative: it must go down by so much
}

// Next returns the parts with heights, the one with the least margin to the
// field first.
func (a *Answer) Next() []string {
	names := slices.Sorted(maps.Keys(a.HighestAllowedMM))
	slices.SortStableFunc(names, func(x, y string) int {
		return cmp.Compare(*a.HighestAllowedMM[x].NoLossMarginMM, *a.HighestAllowedMM[y].NoLossMarginMM)
	})
	return names
}
