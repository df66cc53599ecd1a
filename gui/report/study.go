package report

import "github.com/go-gl/mathgl/mgl64"

// Plot is a line chart. Points are in the units that the labels name.
type Plot struct {
	Title   string
	XLabel  string // with unit
	YLabel  string // with unit
	Lines   []Line
	Marks   []PlotMark
	Caption string
}

// Line is one curve, from left to right.
type Line struct {
	Name   string
	Points []mgl64.Vec2
}

// PlotMark is a straight reference line, such as a limit: upright through
// Place.X(), else level through Place.Y().
type PlotMark struct {
	Name    string
	Upright bool
	Place   mgl64.Vec2
}

// Drop answers how low the powertrain can go.
type Drop struct {
	Sentence string // the window
	LeastMM  *float64
	MostMM   *float64
	Notes    []string // what could not be answered, and other windows
	Limits   []DropLimit
	Plots    []Plot
	Tables   []Figures // what it buys, exchanges, masses
	Map      *Picture  // drop against fore-aft shift
	Picture  *Picture
}

// Figures is a table of texts ready to read.
type Figures struct {
	Title string
	Heads []Head
	Rows  [][]string // Rows[i][k] stands under Heads[k]
	Foot  []string
}

// Head is one column of figures.
type Head struct {
	Text   string
	Number bool // flush right
}

// DropLimit is one thing that ends the drop.
type DropLimit struct {
	Name    string
	MostMM  *float64 // nil: does not bind within the range
	Detail  string   // the value there, with unit
	Source  string
	Habit   bool
	Verdict Verdict // at the present drop
	Binding bool
}

// RearView answers whether the driver can see.
type RearView struct {
	Sentence    string
	Requirement string
	Rows        []RearRow
	Pictures    []*Picture
	Notes       []string // more figures, and what they rest on
}

// RearRow is one figure of the rear view or one part that hides something, as
// it is to be printed.
type RearRow struct {
	What    string
	Seen    string // of the field, in percent
	Lost    string // of the field, in percent
	NoLoss  string // up to where the part hides nothing, mm
	Allowed string // up to where the rule is met, mm
	Margin  string // mm
	Verdict Verdict
}

// Heat answers what gets hot.
type Heat struct {
	Sentence   string
	Cases      []HeatCase
	Warnings   []HeatWarning
	Validation string // what the figures were held against
	Shields    []Shield
}

// Shield is what a shield would do, before beside after.
type Shield struct {
	Name, Over, For string
	Sentence        string
	Assumed         []string
	Rows            []ShieldRow
	Left            int // parts and cases that are not listed: they change less
}

// ShieldRow is one part in one case without and with the shield.
type ShieldRow struct {
	Case, Part             string
	BeforeDegC, AfterDegC  float64
	HighBeforeDegC         float64
	HighAfterDegC          float64
	ByK                    float64 // after less before
	BeforeWM2, AfterWM2    float64 // mean irradiation
	BeforeVerdict, Verdict Verdict
}

// HeatWarning is what could hurt somebody, or is not to be believed.
type HeatWarning struct{ Text, Source string }

// HeatCase is one steady case or one soak.
type HeatCase struct {
	Name       string
	Conditions string
	BalanceW   *float64 // what the energy balance leaves over
	Rows       []HeatRow
	Left       int       // parts that are not listed: they pass, or have no limit
	Ways       []HeatWay // of the parts nearest to their limit
	Plots      []Plot    // soak curves
	Picture    *Picture
	// Irradiation is the second picture.
	Irradiation *Picture
}

// HeatWay is how a part takes and gives heat: into the part is positive.
type HeatWay struct {
	Part                string
	DirectW, ReflectedW float64 // radiation it absorbs
	AirW, ContactW      float64
	OwnW                float64
	SentW               float64 // radiation it sends out
	LeastSure           string  // the input that widens its band most
}

// HeatRow is one part in one case.
type HeatRow struct {
	Part, Role  string
	LowDegC     float64
	NominalDegC float64
	HighDegC    float64
	PeakTimeS   *float64 // after key-off
	AboveLimitS *float64 // after key-off, of the high end
	LimitDegC   *float64
	LimitSource string
	Habit       bool
	MarginK     *float64 // limit less nominal
	HighMarginK *float64 // limit less high: the verdict is by it
	Verdict     Verdict
	From        []Share // main sources of heat
}

// Share is a part's share of the heat that arrives, 0..1.
type Share struct {
	Part  string
	Ratio float64
}

// SpotStudy answers where one component can be mounted.
type SpotStudy struct {
	Name, Role string
	Sentence   string
	LimitDegC  *float64
	Spots      []Spot
	Refused    []Refusal
	Changes    []string // what would open more places, a sentence each
	Assumed    []string
	Picture    *Picture // all places
	Best       *Picture // the component in the best one
	Map        *Picture // the hosts in the colours of the reasons
}

// Spot is one place, best first.
type Spot struct {
	Rank        int
	Host        string
	PointMM     mgl64.Vec3
	LowDegC     *float64
	NominalDegC *float64
	HighDegC    *float64
	ClearanceMM *float64
	ReachMM     *float64
	Score       *float64 // larger is better
	Verdict     Verdict
	Remark      string
}

// Refusal is why places fell out of the search, and how many.
type Refusal struct {
	Reason  string
	Count   int
	Example string // the narrowest miss
}

// Changes answers what changed since another revision.
type Changes struct {
	Sentence string
	Rest     string    // what became of all that is not listed
	Others   []string  // what became of drop, rear view and heat, a sentence each
	Tables   []Figures // of the same
	Rows     []ChangeRow
	Parts    []PartChange
	Settings []ChangeRow
	Picture  *Picture // what moved or changed shape, with where it was
}

// PartChange is a part that was added, removed, moved or reshaped.
type PartChange struct {
	Kind, Part string
	UpTo       string // how far, mm
	How        string
}

// OpenItem is a decision that is still open.
type OpenItem struct {
	Key, What, Owner, Due, Notes string
	Now                          string // what became of its finding
	History                      []string
	Verdict                      Verdict
}

// ChangeRow is one change: a part or a finding, before and after.
type ChangeRow struct {
	Kind, What, Before, After string
	Verdict                   Verdict
}
