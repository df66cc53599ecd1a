package spot

import (
	"fmt"
	"strings"

	"aftbay/geom"
	"aftbay/thermal/balance"
)

// example tells the narrowest miss of a reason.
func (st *study) example(t *trial) string {
	return fmt.Sprintf("%s, at %s: %s", st.scene.Parts[t.host].Name, at(t.point), t.detail)
}

func at(p geom.Vec) string { return fmt.Sprintf("%.0f, %.0f, %.0f", p[0], p[1], p[2]) }

// sentence tells a study in one sentence, or two.
func (st *study) sentence(a *Study) string {
	if len(a.Spots) == 0 {
		return st.refusal(a)
	}
	s := &a.Spots[0]
	var b strings.Builder
	fmt.Fprintf(&b, "Best place for %s: on %s", a.Name, s.Host)
	if s.Temperature != nil {
		fmt.Fprintf(&b, ", %.0f °C (%.0f to %.0f) in %s", s.Temperature.NominalDegC, s.Temperature.LowDegC, s.Temperature.HighDegC, s.WorstCase)
	}
	if s.Verdict == balance.Close {
		b.WriteString(", close")
	}
	if s.ClearanceMM != nil {
		fmt.Fprintf(&b, ", %.0f mm from %s", *s.ClearanceMM, s.NearestPart)
	}
	if s.ReachMM != nil {
		fmt.Fprintf(&b, ", %.0f mm in a straight line from what it serves", *s.ReachMM)
	}
	if s.SlackMM > 0 {
		fmt.Fprintf(&b, " (leave %.0f mm of slack, the two move against each other)", s.SlackMM)
	}
	if p := a.Present; p != nil && p.Temperature != nil {
		fmt.Fprintf(&b, "; where %s is now: %.0f °C (%.0f to %.0f), %s", p.Part, p.Temperature.NominalDegC, p.Temperature.LowDegC, p.Temperature.HighDegC, p.Verdict)
	}
	return b.String() + "."
}

// refusal tells what stops most when nothing was found.
func (st *study) refusal(a *Study) string {
	if len(a.Refused) == 0 {
		return fmt.Sprintf("No place for %s: its hosts have no surface.", a.Name)
	}
	most, last := a.Refused[0], a.Refused[len(a.Refused)-1]
	for _, r := range a.Refused {
		if r.Count > most.Count {
			most = r
		}
	}
	return fmt.Sprintf("No place for %s among %d tried: %d are refused as %q; nearest to passing was %s.",
		a.Name, a.Candidates, most.Count, most.Reason, last.Example)
}
