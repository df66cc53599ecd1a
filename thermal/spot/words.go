package spot

import (
	"fmt"
	"math"
	"strings"

	"aftbay/geom"
	"aftbay/thermal/balance"
)

// example tells the narrowest miss of a reason.
func (st *study) example(t *trial) string {
	return fmt.Sprintf("%s, at %s: %s", st.scene.Parts[t.host].Name, at(t.point), t.detail)
}

func at(p geom.Vec) string { return fmt.Sprintf("%.0f, %.0f, %.0f", p[0], p[1], p[2]) }

// The sides of a host, by where the normal points: negative, positive. Read-only.
var sides = [3][2]string{{"front", "rear"}, {"left side", "right side"}, {"underside", "top"}}

// sideOf names the side of a host that faces along a normal.
func sideOf(normal geom.Vec) string {
	most := 0
	for k := range normal {
		if math.Abs(normal[k]) > math.Abs(normal[most])+1e-9 {
			most = k
		}
	}
	if normal[most] > 0 {
		return sides[most][1]
	}
	return sides[most][0]
}

// spotSentence tells a place in one sentence.
func spotSentence(s *Spot) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s of %s", strings.ToUpper(s.Side[:1]), s.Side[1:], s.Host)
	if s.ReachMM != nil {
		fmt.Fprintf(&b, ", %s%.0f mm lead", atLeast(s), *s.ReachMM)
		if s.SlackMM > 0 {
			fmt.Fprintf(&b, " and %.0f mm slack", s.SlackMM)
		}
	}
	if t := s.Temperature; t != nil {
		fmt.Fprintf(&b, ", %.0f to %.0f °C in %s", t.LowDegC, t.HighDegC, s.WorstCase)
	}
	if s.ClearanceMM != nil {
		fmt.Fprintf(&b, ", %.1f mm clear of %s", *s.ClearanceMM, s.NearestPart)
	}
	return b.String() + s.Lowered.sentence() + "."
}

// atLeast marks a lead of which only the straight line is known yet.
func atLeast(s *Spot) string {
	if len(s.LeadMM) == 0 {
		return "at least "
	}
	return ""
}

// sentence tells a study in one sentence, or two.
func (st *study) sentence(a *Study) string {
	if len(a.Spots) == 0 {
		return st.refusal(a)
	}
	s := &a.Spots[0]
	var b strings.Builder
	fmt.Fprintf(&b, "Best place for %s: %s of %s", a.Name, s.Side, s.Host)
	if s.Temperature != nil {
		fmt.Fprintf(&b, ", %.0f °C (%.0f to %.0f) in %s", s.Temperature.NominalDegC, s.Temperature.LowDegC, s.Temperature.HighDegC, s.WorstCase)
	}
	if s.Verdict == balance.Close {
		b.WriteString(", close")
	}
	if s.ClearanceMM != nil {
		fmt.Fprintf(&b, ", %.1f mm clear of %s", *s.ClearanceMM, s.NearestPart)
	}
	if s.ReachMM != nil {
		fmt.Fprintf(&b, ", %s%.0f mm of lead", atLeast(s), *s.ReachMM)
	}
	if s.SlackMM > 0 {
		fmt.Fprintf(&b, " and %.0f mm of slack, for the two move against each other", s.SlackMM)
	}
	if p := a.Present; p != nil && p.Temperature != nil {
		fmt.Fprintf(&b, "; where %s is now: %.0f °C (%.0f to %.0f), %s", p.Part, p.Temperature.NominalDegC, p.Temperature.LowDegC, p.Temperature.HighDegC, p.Verdict)
	}
	return b.String() + "."
}

// helps says what mends a reason. Read-only.
var helps = map[string]string{
	Buried:     "name a host with a free outside",
	TooFar:     "allow a longer reach_mm, or name hosts nearer to serve_mm",
	Walled:     "name hosts on the side of what it serves",
	NotFlat:    "name a host with a larger flat face, or give the component a smaller foot",
	NearGround: "name a higher host",
	Splashed:   "name a higher host, or lower splash_mm",
	Overlap:    "name a host with more room around it",
	NotKept:    "name a host further away, or move the leads it must keep from",
	OverFill:   "name another host",
	TooClose:   "name a host with more room around it, or move what is too near",
	NoTool:     "use a slimmer or shorter tool, or move what stands in its way",
	NoSwing:    "use a shorter handle, or one that turns by less",
	NoRemoval:  "give another direction under pull, or move what is in the way",
	NoLead:     "allow a longer reach_mm, or make a way for the lead",
	TooHot:     "shield it, name cooler hosts, or take a component that stands more",
}

// refusal tells what stops most when nothing was found, and what would help.
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
	text := fmt.Sprintf("No place for %s among %d tried: %d are refused as %q", a.Name, a.Candidates, most.Count, most.Reason)
	if most.Reason == NotFlat {
		text += fmt.Sprintf(" (its foot is %.0f x %.0f mm)", st.foot.size[0], st.foot.size[1])
	}
	text += fmt.Sprintf("; nearest to passing was %s. What helps: %s.", last.Example, helps[last.Reason])
	if last.Reason != most.Reason {
		text = strings.TrimSuffix(text, ".") + fmt.Sprintf("; for most: %s.", helps[most.Reason])
	}
	if len(a.Changes) > 0 && a.Changes[0].Opens > 0 {
		text += " " + a.Changes[0].Sentence
	}
	return text
}
