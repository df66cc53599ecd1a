package desk

import (
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
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
	phrase.Of("Does it fit?"), phrase.Of("How low can it go?"), phrase.Of("Can the driver see?"), phrase.Of("What gets hot?"), phrase.Of("Where can it be mounted?"), phrase.Of("What changed?"),
}

// emptyTiles are those of an empty desk, onto which a layout may be coming.
func emptyTiles(answer string) [6]Tile {
	var t [6]Tile
	for i := range t {
		t[i] = Tile{Question: questions[i], Answer: answer}
	}
	return t
}

func tiles(s *State) [6]Tile {
	a := &s.Answers
	t := [6]Tile{
		tileOf(&a.Fit, saysFit), tileOf(&a.Drop, 0), sightTile(a),
		tileOf(&a.Heat, 0), spotsTile(a), changesTile(a),
	}
	for i := range t {
		t[i].Question = questions[i]
	}
	return t
}

// tileOf frames what an answer says: also that it is missing, old or failed.
func tileOf[T any](a *Answer[T], kind int) Tile {
	t := Tile{Busy: busyText(a.Job)}
	switch {
	case a.Err != nil:
		t.Answer = phrase.Err(a.Err)
	case a.Value == nil:
		t.Answer = phrase.Of("not computed yet")
	default:
		t.Answer, t.Verdict = a.says[kind].answer, a.says[kind].verdict
		t.Stale = !a.Fresh && !a.Rough
	}
	if a.Rough && a.Err == nil {
		t.Busy = strings.Replace(t.Busy, "computing", "coarse", 1)
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
	return phrase.F("computing … %d %%", 100*j.Done/j.Total)
}

// sayFit says all that an answer about clearances says.
func sayFit(r *clearance.Result) []said {
	return []said{saysFit: fitLine(r), saysSight: sightLine(r), saysStatus: {answer: FitSentence(r)}}
}

func fitLine(r *clearance.Result) said {
	w := r.Worst()
	if w == nil {
		return said{phrase.Of("no pair has a rule"), clearance.NoRule}
	}
	n := r.Count()
	bad := n[clearance.Overlap] + n[clearance.Short]
	if unknown := len(r.InsideUnknown()); bad == 0 && unknown > 0 {
		return said{phrase.F("%d inside unknown; nearest %s", unknown, pairSentence(w)), w.Verdict}
	}
	if bad == 0 {
		return said{phrase.Of("all fit; nearest ") + pairSentence(w), w.Verdict}
	}
	return said{phrase.F("%d fail; worst %s", bad, pairSentence(w)), w.Verdict}
}

// sightLine answers from the keep-out solid of the sight line, if there is one.
func sightLine(r *clearance.Result) said {
	w := worstSight(r)
	if w == nil {
		return said{phrase.Of("no part with role sightline"), ""}
	}
	part := w.A
	if w.RoleA == "sightline" {
		part = w.B
	}
	if w.Overlap {
		return said{phrase.F("keep-out: %s stands %s into it", part, units.FormatMM(-w.ClearanceMM)), w.Verdict}
	}
	return said{phrase.F("keep-out: free by %s, nearest %s", units.FormatMM(w.ClearanceMM), part), w.Verdict}
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

// status says what stops us most.
func status(s *State) string {
	if s.Answers.Fit.Value != nil {
		sentence := s.Answers.Fit.says[saysStatus].answer
		if !s.Answers.Fit.Fresh {
			return phrase.Of("Computing; before the last change: ") + sentence
		}
		return sentence
	}
	return phrase.Of("Computing …")
}
