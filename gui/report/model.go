package report

import (
	"image"
	"time"

	"aftbay/geom"
)

// Estimate stands by every heat figure.
const Estimate = "Estimate for comparing positions. Not a release. Measure before use."

// NotMeasured stands with it at the head of every page with heat figures.
const NotMeasured = "No measured validation yet."

// heatHead is both.
const heatHead = Estimate + " " + NotMeasured

// HabitBadge marks a requirement that no standard asks for.
const HabitBadge = "habit, no standard"

// Model is everything a report says. Nil studies and empty lists are left out
// of the pages and named under "not checked"; only Title is needed.
type Model struct {
	Title    string
	Variant  string
	Revision string
	Author   string
	Program  string    // name and version of what computed it
	Date     time.Time // given; printed and stamped into the files; zero: undated

	Inputs []Input // what was read, with check sums
	Axes   string  // the frame in a sentence
	Units  string
	States []State

	Tiles []Tile // one per question, in the order shown
	Stop  string // what stops us most, in a sentence

	OpenItems []OpenItem // left from reviews before, those due first at the front

	Findings []Finding // in the order shown
	Rest     []Finding // further ones that pass: in the table file only
	Drop     *Drop
	RearView *RearView
	Heat     *Heat
	Spots    []SpotStudy
	Together string // where all components can be mounted at once
	Changes  *Changes
	Scene    *Scene // placed parts, for the views that turn

	Assumptions []string
	Unchecked   []Unchecked
	Joined      []Joined
	Sources     []Source
	Cautions    []Caution // StandingCautions when empty
}

// Input is a file that was read.
type Input struct {
	Path   string // inside the layout folder
	SHA256 string // hexadecimal
}

// State is a state that pairs were judged in, and what it means.
type State struct{ Name, Meaning string }

// Tile is one question with its answer.
type Tile struct {
	Question string
	Answer   string // one line: number, unit, worst part
	Verdict  Verdict
}

// Picture is an image with the words under it, packed as it goes into the files:
// drawn pixels would take many times the room. Name is its file name without
// ending; two pictures of one model never share it. NewPicture makes one.
type Picture struct {
	Name    string
	Caption string
	PNG     []byte      // opaque
	SizePx  image.Point // wide, high
}

// Unchecked is a pair or a question that was not judged, and why.
type Unchecked struct{ What, State, Reason string }

// Joined is a pair whose contact is intended.
type Joined struct{ PartA, PartB string }

// Mark says how well a source is known.
type Mark string

// The marks a source can carry.
const (
	Seen   Mark = "seen"
	Memory Mark = "memory"
	Habit  Mark = "common practice"
)

// Source is where a limit or a table value comes from.
type Source struct {
	For  string // what rests on it
	Text string
	Mark Mark
}

// Caution is a warning about people, with figures where some are known.
type Caution struct {
	Title string
	Text  string
	Rows  []CautionRow
}

// CautionRow is one figure of a caution, such as an ignition range.
type CautionRow struct {
	What  string
	Range string // with its unit
	Note  string
	From  string // source and mark
}

// Finding is one pair of parts in one state. Nil numbers are unknown.
type Finding struct {
	ID           string // number in this packet
	Key          string // the same in every packet of the layout; decisions hang on it
	Zone         string
	PartA, PartB string
	RevA, RevB   string
	RoleA, RoleB string
	State        string
	StaticMM     *float64 // gap as posed
	MotionMM     *float64 // what motion takes
	HeatMM       *float64 // what growth takes
	ToleranceMM  *float64 // what tolerance takes
	LiveMM       *float64 // gap left in this state; minus the depth when overlapping
	LiveRSSMM    *float64 // the same with the root sum square of the tolerances
	ErrorMM      *float64 // the true gap lies in [LiveMM − ErrorMM, LiveMM]
	AtLeast      bool     // LiveMM is a lower bound
	RequiredMM   *float64
	MarginMM     *float64
	Rule         string // the rule that won
	Source       string // where its figure comes from
	Habit        bool   // no standard behind it
	PointAMM     *geom.Vec
	PointBMM     *geom.Vec
	Direction    *geom.Vec // unit, from A to B
	VolumeMM3    *float64  // shared space
	MoveOutMM    *geom.Vec // shift of B that frees the pair
	Dimension    string    // the measure in words
	WorstPose    string
	Picture      *Picture
	Section      *Picture
	Verdict      Verdict
	Decision     string // open, accepted, rejected, closed
	Owner, Due   string
	Comment      string
	History      []string // what was decided when, a line each, the oldest first
	ChordErrorMM *float64 // of the faceted surfaces at the narrowest place
}

// Title names the finding by its parts.
func (f *Finding) Title() string { return f.PartA + " to " + f.PartB }
