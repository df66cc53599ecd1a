package spot

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/thermal/balance"
)

// example tells the narrowest miss of a reason.
func (st *study) example(t *trial) say.Text {
	return say.F("%s, at %s: %s", st.scene.Parts[t.host].Name, at(t.point), t.detail)
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
func spotSentence(s *Spot) say.Text {
	text := headOf(s)
	if s.ReachMM != nil {
		text = say.F("%s, %s", text, leadWords(s, say.F("%.0f mm lead", *s.ReachMM)))
		if s.SlackMM > 0 {
			text = say.F("%s and %.0f mm slack", text, s.SlackMM)
		}
	}
	if t := s.Temperature; t != nil {
		text = say.F("%s, %.0f to %.0f °C in %s", text, t.LowDegC, t.HighDegC, s.WorstCase)
	}
	return say.F("%s%s.", clearWords(text, s), s.Lowered.sentence())
}

// headOf names the side and the host at the head of a sentence.
func headOf(s *Spot) say.Text {
	switch s.Side {
	case sides[0][0]:
		return say.F("Front of %s", s.Host)
	case sides[0][1]:
		return say.F("Rear of %s", s.Host)
	case sides[1][0]:
		return say.F("Left side of %s", s.Host)
	case sides[1][1]:
		return say.F("Right side of %s", s.Host)
	case sides[2][0]:
		return say.F("Underside of %s", s.Host)
	}
	return say.F("Top of %s", s.Host)
}

// clearWords adds the nearest part.
func clearWords(text say.Text, s *Spot) say.Text {
	if s.ClearanceMM == nil {
		return text
	}
	return say.F("%s, %.1f mm clear of %s", text, *s.ClearanceMM, s.NearestPart)
}

// leadWords marks a lead of which only the straight line is known yet.
func leadWords(s *Spot, lead say.Text) say.Text {
	if len(s.LeadMM) == 0 {
		return say.F("at least %s", lead)
	}
	return lead
}

// sentence tells a study in one sentence, or two.
func (st *study) sentence(a *Study) say.Text {
	if len(a.Spots) == 0 {
		return st.refusal(a)
	}
	s := &a.Spots[0]
	text := say.F("Best place for %s: %s of %s", a.Name, say.Word(s.Side), s.Host)
	if s.Temperature != nil {
		text = say.F("%s, %.0f °C (%.0f to %.0f) in %s", text, s.Temperature.NominalDegC, s.Temperature.LowDegC, s.Temperature.HighDegC, s.WorstCase)
	}
	if s.Verdict == balance.Close {
		text = say.F("%s, close", text)
	}
	text = clearWords(text, s)
	if s.ReachMM != nil {
		text = say.F("%s, %s", text, leadWords(s, say.F("%.0f mm of lead", *s.ReachMM)))
	}
	if s.SlackMM > 0 {
		text = say.F("%s and %.0f mm of slack, for the two move against each other", text, s.SlackMM)
	}
	if p := a.Present; p != nil && p.Temperature != nil {
		text = say.F("%s; where %s is now: %.0f °C (%.0f to %.0f), %s", text, p.Part, p.Temperature.NominalDegC, p.Temperature.LowDegC, p.Temperature.HighDegC, say.Word(p.Verdict))
	}
	return say.F("%s.", text)
}

// helps says what mends a reason. Read-only.
var helps = map[string]say.Text{
	Buried:     say.Of("name a host with a free outside"),
	TooFar:     say.Of("allow a longer reach_mm, or name hosts nearer to serve_mm"),
	Walled:     say.Of("name hosts on the side of what it serves"),
	NotFlat:    say.Of("name a host with a larger flat face, or give the component a smaller foot"),
	NearGround: say.Of("name a higher host"),
	Splashed:   say.Of("name a higher host, or lower splash_mm"),
	Overlap:    say.Of("name a host with more room around it"),
	NotKept:    say.Of("name a host further away, or move the leads it must keep from"),
	OverFill:   say.Of("name another host"),
	TooClose:   say.Of("name a host with more room around it, or move what is too near"),
	NoTool:     say.Of("use a slimmer or shorter tool, or move what stands in its way"),
	NoSwing:    say.Of("use a shorter handle, or one that turns by less"),
	NoRemoval:  say.Of("give another direction under pull, or move what is in the way"),
	NoLead:     say.Of("allow a longer reach_mm, or make a way for the lead"),
	TooHot:     say.Of("shield it, name cooler hosts, or take a component that stands more"),
}

// refusal tells what stops most when nothing was found, and what would help.
func (st *study) refusal(a *Study) say.Text {
	if len(a.Refused) == 0 {
		return say.F("No place for %s: its hosts have no surface.", a.Name)
	}
	most, last := a.Refused[0], a.Refused[len(a.Refused)-1]
	for _, r := range a.Refused {
		if r.Count > most.Count {
			most = r
		}
	}
	text := say.F("No place for %s among %d tried: %d are refused as %q", a.Name, a.Candidates, most.Count, say.Word(most.Reason))
	if most.Reason == NotFlat {
		text = say.F("%s (its foot is %.0f x %.0f mm)", text, st.foot.size[0], st.foot.size[1])
	}
	text = say.F("%s; nearest to passing was %s. What helps: %s", text, last.Example, helps[last.Reason])
	if last.Reason != most.Reason {
		text = say.F("%s; for most: %s", text, helps[most.Reason])
	}
	text = say.F("%s.", text)
	if len(a.Changes) > 0 && a.Changes[0].Opens > 0 {
		text = say.F("%s %s", text, a.Changes[0].Sentence)
	}
	return text
}
