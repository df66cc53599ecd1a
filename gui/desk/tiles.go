package desk

import (
	"fmt"

	"aftbay/geom/clearance"
	"aftbay/geom/units"
)

// Question names a tile and its page.
type Question int

// The six questions, in the order of the strip.
const (
	Fits Question = iota
	Lowers
	Sees
	Heats
	Mounts
	Changed
)

// Tile is one question of the verdict strip with its answer.
type Tile struct {
	Question string
	Answer   string
	Verdict  string // "" while unknown
	Stale    bool   // the answer is of an earlier state
	Busy     string // "" or how far the job is
}

// questions in plain words. Read-only.
var questions = [6]string{
	"Does it fit?", "How low can it go?", "Can the driver see?", "What gets hot?", "Where can it be mounted?", "What changed?",
}

func emptyTiles() [6]Tile {
	var t [6]Tile
	for i := range t {
		t[i] = Tile{Question: questions[i], Answer: "no layout open"}
	}
	return t
}

func tiles(s *State) [6]Tile {
	t := [6]Tile{fitTile(s), dropTile(s), sightTile(s), heatTile(s), spotTile(s), changedTile(s)}
	for i := range t {
		t[i].Question = questions[i]
	}
	return t
}

// framed wraps an answer: what it says while it is missing, old or failed.
func framed[T any](a *Answer[T], say func(v *T) (answer, verdict string)) Tile {
	t := Tile{Busy: busyText(a.Job)}
	switch {
	case a.Err != nil:
		t.Answer = a.Err.Error()
	case a.Value == nil:
		t.Answer = "not computed yet"
	default:
		t.Answer, t.Verdict = say(a.Value)
		t.Stale = !a.Fresh
	}
	return t
}

func busyText(j Job) string {
	switch {
	case !j.Running:
		return ""
	case j.Total == 0:
		return "computing …"
	}
	return fmt.Sprintf("computing … %d %%", 100*j.Done/j.Total)
}

func fitTile(s *State) Tile {
	return framed(&s.Answers.Fit, func(r *clearance.Result) (answer, verdict string) {
		w := r.Worst()
		if w == nil {
			return "no pair has a rule", clearance.NoRule
		}
		n := r.Count()
		bad := n[clearance.Overlap] + n[clearance.Short]
		if bad == 0 {
			return "all fit; nearest " + pairSentence(w), w.Verdict
		}
		return fmt.Sprintf("%d fail; worst %s", bad, pairSentence(w)), w.Verdict
	})
}

// sightTile answers from the keep-out solid of the sight line, if there is one.
func sightTile(s *State) Tile {
	return framed(&s.Answers.Fit, func(r *clearance.Result) (answer, verdict string) {
		w := worstSight(r)
		if w == nil {
			return "no part with role sightline", ""
		}
		part := w.A
		if w.RoleA == "sightline" {
			part = w.B
		}
		if w.Overlap {
			return fmt.Sprintf("keep-out: %s stands %s into it", part, units.FormatMM(-w.ClearanceMM)), w.Verdict
		}
		return fmt.Sprintf("keep-out: free by %s, nearest %s", units.FormatMM(w.ClearanceMM), part), w.Verdict
	})
}

// worstSight returns the most pressing finding of the sight-line keep-out.
func worstSight(r *clearance.Result) *clearance.Pair {
	var worst *clearance.Pair
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.RoleA != "sightline" && p.RoleB != "sightline" || p.Verdict == clearance.NoRule {
			continue
		}
		if worst == nil || clearance.Worse(p, worst) {
			worst = p
		}
	}
	return worst
}

// changedTile compares with the first answer after opening.
func changedTile(s *State) Tile {
	if s.Opened == nil {
		return Tile{Answer: "nothing to compare yet"}
	}
	return framed(&s.Answers.Fit, func(r *clearance.Result) (answer, verdict string) {
		c := Compare(s.Opened, r)
		verdict = "ok"
		if c.New > 0 {
			verdict = "short"
		} else if c.Worse > 0 {
			verdict = "close"
		}
		if c.New+c.Cured+c.Worse+c.Better == 0 {
			return "no finding changed since opening", verdict
		}
		return fmt.Sprintf("since opening: %d new, %d cured, %d worse, %d better", c.New, c.Cured, c.Worse, c.Better), verdict
	})
}

// status says what stops us most.
func status(s *State) string {
	if r := s.Answers.Fit.Value; r != nil {
		sentence := FitSentence(r)
		if !s.Answers.Fit.Fresh {
			return "Computing; before the last change: " + sentence
		}
		return sentence
	}
	return "Computing …"
}
