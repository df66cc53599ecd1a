package compare

import (
	"aftbay/geom"
	"aftbay/geom/say"
)

// DefaultThresholdMM is the smallest change of a margin that counts: below it
// lies the certified search of the moving states.
const DefaultThresholdMM = 0.05

// Result is what changed from Old to New.
type Result struct {
	Old      string   `json:"old"` // how the two are called
	New      string   `json:"new"`
	Sentence say.Text `json:"sentence"`
	Parts    Parts    `json:"parts"`
	Findings Findings `json:"findings"`
	// Settings are properties and chapters of the file that differ.
	Settings []Setting `json:"settings"`
}

// Parts are the envelopes that differ; routes count as parts.
type Parts struct {
	Added     []Part    `json:"added"`
	Removed   []Part    `json:"removed"`
	Moved     []Move    `json:"moved"`
	Reshaped  []Reshape `json:"reshaped"`
	Rewritten []string  `json:"rewritten"` // another file with the same surface
	Same      int       `json:"same"`      // neither moved nor reshaped
}

// Part names one that is only there before or now.
type Part struct {
	Name string `json:"name"`
	Role string `json:"role"`
}

// Move is a part in another place.
type Move struct {
	Name    string   `json:"name"`
	ShiftMM geom.Vec `json:"shift_mm"` // of the middle of its box
	TurnDeg float64  `json:"turn_deg"` // about whatever axis
	MostMM  float64  `json:"most_mm"`  // the furthest way of any point of it
	InFile  bool     `json:"in_file"`  // the mesh file has the same shape at another place
}

// Reshape is a part with another surface.
type Reshape struct {
	Name        string    `json:"name"`
	DeviationMM float64   `json:"deviation_mm"` // the larger of the two ways
	ErrorMM     float64   `json:"error_mm"`     // the truth lies above by this at most
	Grown       Deviation `json:"grown"`        // new surface off the old one
	Shrunk      Deviation `json:"shrunk"`       // old surface off the new one
	// VolumeMM3 is new less old, nil unless both are closed.
	VolumeMM3 *float64 `json:"volume_mm3"`
}

// Setting is one property that differs, as the file writes it; empty: absent.
type Setting struct {
	Where  string   `json:"where"` // such as part "coil 1": tolerance_mm, or rules
	Before say.Text `json:"before"`
	After  say.Text `json:"after"`
}

// Findings are the pairs of both states by what became of them.
type Findings struct {
	ThresholdMM float64   `json:"threshold_mm"`
	New         []Finding `json:"new"`    // fails now and did not, or was not there
	Cured       []Finding `json:"cured"`  // failed and does not now, or is gone
	Worse       []Finding `json:"worse"`  // fails or is close, with a worse verdict or less margin
	Better      []Finding `json:"better"` // failed or was close, with more margin
	Same        int       `json:"same"`   // within the threshold
	Spare       int       `json:"spare"`  // changed, with room to spare or no rule before and now
	Gone        int       `json:"gone"`   // only before, and passed
	Came        int       `json:"came"`   // only now, and passes
	// Unchanged are the pairs of which nothing that they depend on differs;
	// Identical of them have the same figures to the last digit, and Drifted
	// names the others: there should be none.
	Unchanged int      `json:"unchanged"`
	Identical int      `json:"identical"`
	Drifted   []string `json:"drifted"`
}

// Finding is one pair in one state, before and now; nil figures: not there.
type Finding struct {
	ID            string   `json:"id"`
	A             string   `json:"a"`
	B             string   `json:"b"`
	State         string   `json:"state"`
	BeforeMM      *float64 `json:"before_mm"` // clearance
	NowMM         *float64 `json:"now_mm"`
	LeastBeforeMM *float64 `json:"least_before_mm"`
	LeastNowMM    *float64 `json:"least_now_mm"`
	// ByMM is how much the margin grew, or the clearance where a rule lacks.
	ByMM    *float64 `json:"by_mm"`
	Was     string   `json:"was"` // verdicts, empty: not there
	Verdict string   `json:"verdict"`
	Why     say.Text `json:"why,omitzero"` // such as: header is gone
}

// Fails reports whether a gate should stop the new state.
func (r *Result) Fails() bool { return len(r.Findings.New)+len(r.Findings.Worse) > 0 }

// Nothing reports whether neither parts, settings nor findings differ.
func (r *Result) Nothing() bool {
	p, f := &r.Parts, &r.Findings
	return len(p.Added)+len(p.Removed)+len(p.Moved)+len(p.Reshaped)+len(r.Settings) == 0 &&
		len(f.New)+len(f.Cured)+len(f.Worse)+len(f.Better)+f.Spare+f.Gone+f.Came == 0
}
