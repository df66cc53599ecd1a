package desk

import (
	"strings"

	"aftbay/geom/clearance"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// FitFilters are the choices of the page: which findings it lists, the last of
// them those of every question. Read-only.
var FitFilters = []string{"fails", phrase.Of("fails and close"), "all", phrase.Of("every question")}

// FitPage lists the findings for the window, the most pressing first, those
// that a filter lets through.
func FitPage(r *clearance.Result, filter string) Table {
	t := Table{Columns: []Column{text(phrase.Of("part")), text(phrase.Of("to")), text(phrase.Of("state")), number(phrase.Of("gap mm")), number(phrase.Of("asked")), number(phrase.Of("margin"))}}
	for _, p := range Pressing(r) {
		if filter != FitFilters[2] && !clearance.Fails(p.Verdict) && (p.Verdict != clearance.Close || filter == FitFilters[0]) {
			break // the rest is less pressing
		}
		t.Rows = append(t.Rows, Row{
			Cells:   []string{p.A, p.B, phrase.Word(p.State), units.NumberMM(p.ClearanceMM), optionalMM(p.LeastMM), optionalMM(p.MarginMM)},
			Verdict: p.Verdict, Key: p.ID, Parts: []string{p.A, p.B},
			Roles: []string{p.RoleA, p.RoleB}, State: p.State,
		})
	}
	return t
}

// FitWords returns the sentence of the page and the counts below its list.
func FitWords(s *State) (sentence, counts string) {
	a := &s.Answers.Fit
	switch {
	case a.Err != nil:
		return phrase.Err(a.Err), ""
	case !s.Open:
		return s.Status, ""
	case a.Value == nil:
		return phrase.Of("Computing clearances …"), ""
	}
	sentence = FitSentence(a.Value)
	if !a.Fresh {
		sentence = phrase.Of("Before the last change: ") + sentence
	}
	return sentence, FitCounts(a.Value)
}

// FitList returns what the page lists under a filter, and what it says if that
// is nothing.
func FitList(s *State, filter string) (t Table, empty string) {
	r := s.Answers.Fit.Value
	switch {
	case r == nil:
		return Table{}, ""
	case filter == FitFilters[3]:
		return ConcernsPage(s), phrase.Of("Nothing fails and nothing is close, whatever is asked.")
	case len(r.Pairs) == 0:
		return Table{}, phrase.Of("Nothing to compare yet: a layout needs two parts. File, Parts from STL files adds some.")
	case r.Worst() == nil:
		return FitPage(r, filter), phrase.Of("No pair has a rule, so nothing can fail. Edit, Write the built-in rules into the layout gives it some; “all” lists the gaps.")
	case filter == FitFilters[0]:
		return FitPage(r, filter), phrase.Of("Nothing fails. “fails and close” lists what comes near its limit.")
	}
	return FitPage(r, filter), phrase.Of("Nothing fails and nothing is close. “all” lists every gap.")
}

// PartFitText says how the selected part stands when no finding is chosen.
func PartFitText(s *State, a *Attention) []string {
	r := s.Answers.Fit.Value
	if r == nil || a.Finding != "" || len(a.Selected) == 0 {
		return nil
	}
	name := a.Selected[0]
	var worst *clearance.Pair
	var ruled, fails, near int
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.A != name && p.B != name || p.Verdict == clearance.NoRule {
			continue
		}
		ruled++
		switch {
		case clearance.Fails(p.Verdict):
			fails++
		case p.Verdict == clearance.Close:
			near++
		}
		if worst == nil || clearance.Worse(p, worst) {
			worst = p
		}
	}
	if worst == nil {
		return []string{name + phrase.Of(": no rule speaks of it.")}
	}
	return []string{phrase.F("%s: %d fail, %d close of %d checks. Most pressing: %s.", name, fails, near, ruled, pairSentence(worst))}
}

// FitCounts says how many findings there are of each kind.
func FitCounts(r *clearance.Result) string {
	n := r.Count()
	return phrase.F("%d overlap, %d short, %d close, %d ok; %d without a rule; %d joined, not checked",
		n[clearance.Overlap], n[clearance.Short], n[clearance.Close], n[clearance.OK], n[clearance.NoRule], len(r.Unchecked))
}

// FindingText tells all about one finding, a line each; nil if there is none.
func FindingText(s *State, id string) []string {
	p := findingOf(s, id)
	if p == nil {
		return nil
	}
	lines := []string{pairSentence(p) + "."}
	if !p.Rule.IsZero() {
		lines = append(lines, phrase.Of("Rule: ")+phrase.Say(p.Rule)+". Source: "+sourceText(p)+".")
	} else {
		lines = append(lines, phrase.Of("No rule speaks of this pair in this state."))
	}
	exact := phrase.F("As posed %s; the figure is off by %s at most", units.FormatMM(p.StaticMM), errorWords(p.ErrorMM))
	if chord := chordText(p); chord != "" {
		exact += "; " + chord
	}
	lines = append(lines, exact+".")
	for _, group := range sortedKeys(p.WorstPose) {
		lines = append(lines, phrase.F("Nearest with %s at %s.", group, shiftText(p.WorstPose[group])))
	}
	if rss := rssText(p); rss != "" {
		lines = append(lines, rss)
	}
	if p.OverlapVolumeMM3 != nil {
		lines = append(lines, phrase.Of("Shared volume ")+units.FormatCM3(*p.OverlapVolumeMM3)+".")
	}
	if m := p.MoveOutMM; m != nil {
		lines = append(lines, phrase.F("Moving %s by x %s, y %s, z %s mm ends the overlap.", p.B,
			units.NumberMM(m[0]), units.NumberMM(m[1]), units.NumberMM(m[2])))
	}
	if settled := DecisionText(s, id); settled != "" {
		lines = append(lines, settled)
	}
	return append(lines, phrase.All(p.Notes)...)
}

// shiftText names a position of a group by what differs from rest.
func shiftText(g clearance.GroupShift) string {
	var parts []string
	add := func(name string, value float64, format func(float64) string) { // Bare numbers: format knows the unit
		if value != 0 {
			parts = append(parts, name+" "+format(value))
		}
	}
	add("x", g.XMM, units.FormatMM)
	add("y", g.YMM, units.FormatMM)
	add("z", g.ZMM, units.FormatMM)
	add("roll", g.RollDeg, units.FormatDeg)
	add("pitch", g.PitchDeg, units.FormatDeg)
	add("yaw", g.YawDeg, units.FormatDeg)
	switch {
	case g.Name != "":
		return "position “" + g.Name + "”"
	case len(parts) == 0:
		return "rest"
	}
	return strings.Join(parts, ", ")
}
