package desk

import (
	"fmt"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/render"
	"aftbay/gui/phrase"
	"aftbay/gui/report"
)

const (
	// passingShown is how many findings that pass the report prints, nearest to
	// their limit first; the table file holds all.
	passingShown = 30
	// picturesMade is for how many failing findings pictures are made.
	picturesMade = 40
	// closeupMM is the height that a picture of a narrowest place shows.
	closeupMM = 160
)

// findings lists the pairs under a rule, the most pressing first.
func (b *packer) findings(m *report.Model) error {
	r := b.s.Answers.Fit.Value
	if r == nil {
		return nil
	}
	passing := 0
	for _, p := range Pressing(r) {
		if p.Verdict == clearance.NoRule {
			continue
		}
		f := b.finding(p)
		if p.Verdict == clearance.OK {
			passing++
		}
		if passing > passingShown {
			m.Rest = append(m.Rest, f)
			continue
		}
		f.ID = fmt.Sprintf("F%03d", len(m.Findings)+1)
		if clearance.Fails(p.Verdict) && len(m.Findings) < picturesMade {
			if err := b.picture(&f, p); err != nil {
				return err
			}
		}
		m.Findings = append(m.Findings, f)
	}
	for i := range m.Rest {
		m.Rest[i].ID = fmt.Sprintf("F%03d", len(m.Findings)+1+i)
	}
	return nil
}

func (b *packer) finding(p *clearance.Pair) report.Finding {
	gap := BudgetOf(p)
	f := report.Finding{
		Key: p.ID, PartA: p.A, PartB: p.B, RoleA: p.RoleA, RoleB: p.RoleB, State: p.State, Zone: zoneOf(p),
		StaticMM: &gap.StaticMM, MotionMM: gap.MotionMM, HeatMM: gap.GrowthMM, ToleranceMM: gap.ToleranceMM,
		LiveMM: &gap.LeftMM, LiveRSSMM: gap.LeftRSSMM, ErrorMM: ptr(p.ErrorMM), ChordErrorMM: p.ChordErrorMM,
		RequiredMM: gap.RequiredMM, MarginMM: gap.MarginMM, Rule: phrase.Say(p.Rule), Source: p.Source, Habit: clearance.IsHabit(p.Source),
		PointAMM: &p.PointA, PointBMM: &p.PointB, VolumeMM3: p.OverlapVolumeMM3, MoveOutMM: p.MoveOutMM,
		Dimension: pairSentence(p), Verdict: report.Verdict(p.Verdict),
	}
	if d := p.PointB.Sub(p.PointA); d.Len() > 0 {
		d = d.Normalize()
		f.Direction = &d
	}
	for _, group := range sortedKeys(p.WorstPose) {
		if f.WorstPose != "" {
			f.WorstPose += "; "
		}
		f.WorstPose += group + ": " + shiftText(p.WorstPose[group])
	}
	settled := DecisionOf(b.s.Doc, p.ID)
	f.Decision, f.Owner, f.Due, f.Comment = settled.State, settled.Owner, settled.Due, settled.Notes
	f.History = HistoryLines(settled)
	if len(p.Notes) > 0 {
		f.Dimension += "; " + phrase.Say(p.Notes[0])
	}
	return f
}

// zoneOf names where in the car a finding is, from its nearest points.
func zoneOf(p *clearance.Pair) string {
	const middleMM = 150 // half the width that counts as the middle
	at := p.PointA.Add(p.PointB).Mul(0.5)
	side := "middle"
	if at[1] < -middleMM {
		side = "left"
	} else if at[1] > middleMM {
		side = "right"
	}
	return fmt.Sprintf("%s, x %.0f, z %.0f", side, at[0], at[2])
}

// picture draws the two parts and the narrowest place of a failing finding.
func (b *packer) picture(f *report.Finding, p *clearance.Pair) error {
	a := Attention{Page: Fits, Finding: p.ID}
	pic := b.painter.Picture(b.s, &a)
	near := geom.EmptyBox().Grow(p.PointA).Grow(p.PointB)
	cam := render.NewCamera()
	for i, part := range pic.Parts { // a panel must not hide what is under it
		if (part == p.A || part == p.B) && slices.Contains(shells, b.s.Scene.Parts[i].Role) {
			pic.Items[i].Ghost = true
		}
	}
	image, err := b.draw(pic, cam.Fit(grown(near, 420), wPx, hPx), nil)
	if err != nil {
		return err
	}
	name := "finding-" + strings.ToLower(f.ID)
	f.Picture = b.keep(name, image, phrase.F("%s (orange) and %s (blue), %s%s", p.A, p.B, p.State, noteText(pic.Note)))
	pic = b.painter.Picture(b.s, &a)
	place, cut := render.Closeup(p.PointA, p.PointB, closeupMM)
	if image, err = b.draw(pic, place, []render.Cut{cut}); err != nil {
		return err
	}
	f.Section = b.keep(name+"-section", image, phrase.Of("Section through the narrowest place, square to the shortest line"))
	return nil
}

func noteText(note string) string {
	if note == "" {
		return ""
	}
	return "; " + note
}

// grown returns the box with room on all sides.
func grown(box geom.Box, roomMM float64) geom.Box {
	for k := range box.Min {
		box.Min[k] -= roomMM
		box.Max[k] += roomMM
	}
	return box
}

func ptr[T any](v T) *T { return &v }
