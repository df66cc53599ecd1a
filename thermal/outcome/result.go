package outcome

import (
	"aftbay/geom/drop"
	"aftbay/geom/rearview"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// The smallest changes that count.
const (
	// DefaultThresholdK: other rays alone move nominal temperatures by up to
	// 3.0 K (the demo car at its own rays with two seeds; no source outside).
	DefaultThresholdK = 4
	// ThresholdMM is that of the clearances: below it lies the certified search.
	ThresholdMM = 0.05
	// ThresholdShare is the least share of the road that can be felt: a tenth
	// of a percent.
	ThresholdShare = 0.001
)

// Result is what became of each question; nil: not asked, or not in both.
type Result struct {
	Drop  *Drop  `json:"drop"`
	Sight *Sight `json:"rear_view"`
	Heat  *Heat  `json:"heat"`
}

// Side is what one of the two states answers; nil: not asked.
type Side struct {
	Drop  *drop.Result
	Sight *rearview.Result
	Heat  *balance.Result
}

// With returns the side with what another one answers besides.
func (s Side) With(more Side) Side {
	if s.Drop == nil {
		s.Drop = more.Drop
	}
	if s.Sight == nil {
		s.Sight = more.Sight
	}
	if s.Heat == nil {
		s.Heat = more.Heat
	}
	return s
}

// Compare compares what both sides answer. thresholdK is the smallest change of
// a temperature that counts, 0: DefaultThresholdK.
func Compare(old, now Side, thresholdK float64) *Result {
	r := &Result{}
	if old.Drop != nil && now.Drop != nil {
		r.Drop = CompareDrop(old.Drop, now.Drop)
	}
	if old.Sight != nil && now.Sight != nil {
		r.Sight = CompareSight(old.Sight, now.Sight)
	}
	if old.Heat != nil && now.Heat != nil {
		r.Heat = CompareHeat(old.Heat, now.Heat, thresholdK)
	}
	return r
}

// Sentences are those of the questions that were compared.
func (r *Result) Sentences() []say.Text {
	var out []say.Text
	if r.Drop != nil {
		out = append(out, r.Drop.Sentence)
	}
	if r.Sight != nil {
		out = append(out, r.Sight.Sentence)
	}
	if r.Heat != nil {
		out = append(out, r.Heat.Sentence)
	}
	return out
}

// What became of one answer as a whole.
const (
	Same   = "same"
	New    = "new" // fails now and did not
	Worse  = "worse"
	Cured  = "cured"
	Better = "better"
)

// Fails reports whether a gate should stop the new state: some question is new
// or worse.
func (r *Result) Fails() bool { return len(r.Failing()) > 0 }

// Failing names the questions that are new or worse.
func (r *Result) Failing() []string {
	var out []string
	for _, q := range r.Changed() {
		if q.Change == New || q.Change == Worse {
			out = append(out, q.Name)
		}
	}
	return out
}

// Question is what became of one question.
type Question struct{ Name, Change string }

// Changed names the questions that are not as before.
func (r *Result) Changed() []Question {
	var out []Question
	add := func(name, change string) {
		if change != Same {
			out = append(out, Question{name, change})
		}
	}
	if r.Drop != nil {
		add("drop", r.Drop.Change)
	}
	if r.Sight != nil {
		add("rear-view", r.Sight.Change)
	}
	if r.Heat != nil {
		add("heat", r.Heat.Change)
	}
	return out
}

// Nothing reports whether none of the answers differs.
func (r *Result) Nothing() bool {
	return (r.Drop == nil || r.Drop.Change == Same && len(r.Drop.Limits) == 0) &&
		(r.Sight == nil || r.Sight.Change == Same && len(r.Sight.Figures) == 0) &&
		(r.Heat == nil || r.Heat.Change == Same && len(r.Heat.Hotter)+len(r.Heat.Cooler) == 0)
}

// Heat is what became of the temperatures.
type Heat struct {
	Change     string        `json:"change"`
	Sentence   say.Text      `json:"sentence"`
	ThresholdK float64       `json:"threshold_K"`
	New        []Temperature `json:"new"`
	Worse      []Temperature `json:"worse"`
	Cured      []Temperature `json:"cured"`
	Better     []Temperature `json:"better"`
	Hotter     []Temperature `json:"hotter"` // with room to spare, or without a limit
	Cooler     []Temperature `json:"cooler"`
	Same       int           `json:"same"` // within the threshold
	Came       int           `json:"came"` // only now, and not over: parts or cases
	Gone       int           `json:"gone"` // only before, and was not over
}

// Temperature is one part in one case, before and now; nil: not there.
type Temperature struct {
	Case            string   `json:"case"`
	Part            string   `json:"part"`
	BeforeDegC      *float64 `json:"before_degC"` // nominal
	NowDegC         *float64 `json:"now_degC"`
	HighBeforeDegC  *float64 `json:"high_before_degC"` // high end of the band: the verdict goes by it
	HighNowDegC     *float64 `json:"high_now_degC"`
	LimitBeforeDegC *float64 `json:"limit_before_degC"`
	LimitNowDegC    *float64 `json:"limit_now_degC"`
	ByK             *float64 `json:"by_K"` // of the high end, now less before
	Was             string   `json:"was"`  // verdicts, empty: not there
	Verdict         string   `json:"verdict"`
}

// Drop is what became of the window of the drop.
type Drop struct {
	Change      string   `json:"change"`
	Sentence    say.Text `json:"sentence"`
	ThresholdMM float64  `json:"threshold_mm"`
	BeforeMM    *Window  `json:"before_mm"` // nil: nothing fits
	NowMM       *Window  `json:"now_mm"`
	StopBefore  say.Text `json:"stop_before"` // what ends it at the low end, empty: the range
	StopNow     say.Text `json:"stop_now"`
	Was         string   `json:"was"` // verdicts
	Verdict     string   `json:"verdict"`
	Limits      []Figure `json:"limits"` // whose largest or smallest drop moved
}

// Window is [least, most] drop, mm.
type Window [2]float64

// Sight is what became of the rear view.
type Sight struct {
	Change         string   `json:"change"`
	Sentence       say.Text `json:"sentence"`
	ThresholdShare float64  `json:"threshold_share"`
	Rule           string   `json:"rule"`
	BeforeShare    float64  `json:"before_share"` // of the road, either eye
	NowShare       float64  `json:"now_share"`
	Was            string   `json:"was"` // verdicts
	Verdict        string   `json:"verdict"`
	Figures        []Figure `json:"figures"` // that changed
}

// Figure is one number before and now; nil: not there.
type Figure struct {
	What   say.Text `json:"what"`
	Unit   string   `json:"unit"`
	Before *float64 `json:"before"` // Bare numbers: in Unit
	Now    *float64 `json:"now"`    // Bare numbers: in Unit
}
