package desk

import (
	"fmt"
	"strings"

	"aftbay/geom/rearview"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Percent writes a share with two places, so that a millimetre at a crest shows.
func Percent(share float64) string { return fmt.Sprintf("%.2f", 100*share) }

// SeenTable lists what each rule comes to: what is seen, and what each stop and
// part takes, with how high the part may stand.
func SeenTable(r *rearview.Result) Table {
	t := Table{
		Title: phrase.Say(r.Required.Sentence),
		Columns: []Column{
			text(phrase.Of("rule")), text(phrase.Of("what")), number(phrase.Of("seen %")), number(phrase.Of("lost %")), number(phrase.Of("back if gone %")),
			number(phrase.Of("top now mm")), number(phrase.Of("no loss up to mm")), number(phrase.Of("allowed up to mm")), number(phrase.Of("margin mm")),
		},
	}
	for i := range r.Rules {
		t.Rows = append(t.Rows, seenRows(&r.Rules[i])...)
	}
	return t
}

func seenRows(a *rearview.Answer) []Row {
	var rows []Row
	seen := func(what string, share float64, verdict string) {
		rows = append(rows, Row{Cells: []string{a.Required.Rule, what, Percent(share), "", "", "", "", "", ""}, Verdict: verdict})
	}
	seen(phrase.Of("either eye"), a.Seen.EitherShare, a.Required.Verdict)
	seen(phrase.Of("left eye"), a.Seen.LeftShare, "")
	seen(phrase.Of("right eye"), a.Seen.RightShare, "")
	seen(phrase.Of("both eyes"), a.Seen.BothShare, "")
	lost := func(what string, share float64) {
		if share > 0 {
			rows = append(rows, Row{Cells: []string{a.Required.Rule, what, "", Percent(share), "", "", "", "", ""}})
		}
	}
	lost(phrase.Of("outside the mirror"), a.LostToMirrorShare)
	lost(phrase.Of("beside the glass"), a.LostToGlassShare)
	for _, p := range blockersOf(a) {
		row := Row{Cells: []string{a.Required.Rule, p.part, "", Percent(p.share), Percent(p.gainedShare), "", "", "", ""}, Key: p.part, Parts: []string{p.part}}
		if h := p.height; h != nil {
			row.Cells[5] = units.NumberMM(h.NowMM)
			row.Cells[6], row.Cells[7], row.Cells[8] = optionalMM(h.NoLossMM), optionalMM(h.AtAllowanceMM), optionalMM(h.AllowanceMarginMM)
		}
		row.Verdict = p.verdict
		rows = append(rows, row)
	}
	return rows
}

// blocker is a part that hides something, or is the next to do so.
type blocker struct {
	part               string
	share, gainedShare float64
	height             *rearview.Height
	verdict            string
}

// blockersOf lists those that hide something, the greatest first, then those
// that are next, the nearest first.
func blockersOf(a *rearview.Answer) []blocker {
	var out []blocker
	listed := map[string]bool{}
	add := func(b blocker) {
		listed[b.part] = true
		if h, ok := a.HighestAllowedMM[b.part]; ok {
			b.height = &h
			switch m := h.AllowanceMarginMM; {
			case m == nil:
			case *m < 0:
				b.verdict = rearview.Short
			case *m < 2:
				b.verdict = rearview.Close
			default:
				b.verdict = rearview.OK
			}
		}
		out = append(out, b)
	}
	for _, l := range a.LostBy {
		add(blocker{part: l.Part, share: l.Share, gainedShare: l.GainedShare})
	}
	for _, part := range a.Next() {
		if !listed[part] {
			add(blocker{part: part})
		}
	}
	return out
}

// SeenWords says the figures that belong to no part.
func SeenWords(r *rearview.Result) []string {
	var out []string
	for i := range r.Rules {
		a := &r.Rules[i]
		said := a.Required.Sentence
		out = append(out, phrase.Say(said))
	}
	a := &r.Answer
	out = append(out, phrase.F(
		"Nearest road seen on the centre line: %s behind the eyes; unbroken from %s to the horizon. Width seen at the near side of the field: %s. Angle from side to side: %.2f°, of it clear %.2f°.",
		metresText(a.NearestRoadMM), metresText(a.UnbrokenRoadMM), metresText(&a.WidthMM.EitherMM), a.AngleDeg, a.ClearAngleDeg))
	if r.Forward != nil {
		out = append(out, phrase.Say(r.Forward.Sentence))
	}
	return out
}

func metresText(valueMM *float64) string {
	if valueMM == nil {
		return "none"
	}
	return fmt.Sprintf("%.2f m", *valueMM/1000)
}

// SeenBasis says what the figures rest on.
func SeenBasis(r *rearview.Result) []string {
	var out []string
	for i := range r.Rules {
		q := &r.Rules[i].Required
		out = append(out, phrase.F("%s asks for: %s. Load state: %s. Basis: %s.", q.Rule, q.Asks, q.State, strings.Join(q.Sources, "; ")))
	}
	if len(r.Through) > 0 {
		out = append(out, phrase.Of("Taken as see-through or as drawings (roles glass, mirror, sightline, road): ")+strings.Join(r.Through, ", ")+".")
	}
	for _, n := range r.Notes {
		out = append(out, capital(phrase.Say(n))+".")
	}
	return append(out, phrase.Of(rearview.Caution))
}

// SeenTables are the tables of the headless command.
func SeenTables(r *rearview.Result) []Table {
	all := SeenTable(r)
	all.Foot = append(SeenWords(r)[len(r.Rules):], "")
	out := []Table{all}
	if t := VariantTable(r); len(t.Rows) > 0 {
		out = append(out, t)
	}
	out = append(out, DriverTable(r), MirrorTable(r))
	out[len(out)-1].Foot = append(out[len(out)-1].Foot, SeenBasis(r)...)
	return out
}

// VariantTable compares the variants of the layout with the parts as posed.
func VariantTable(r *rearview.Result) Table {
	t := Table{Title: "Variants, " + r.Required.Rule, Columns: []Column{text(phrase.Of("variant")), number(phrase.Of("either eye %")), number(phrase.Of("both eyes %")), number(phrase.Of("nearest road m")), text(phrase.Of("most lost to"))}}
	row := func(name string, seen rearview.Seen, met bool, lost []rearview.Loss, roadMM *float64) {
		most := ""
		if len(lost) > 0 {
			most = fmt.Sprintf("%s, %s %%", lost[0].Part, Percent(lost[0].Share))
		}
		t.Rows = append(t.Rows, Row{Cells: []string{name, Percent(seen.EitherShare), Percent(seen.BothShare), metresNumber(roadMM), most}, Verdict: metVerdict(met)})
	}
	if len(r.Variants) == 0 {
		return t
	}
	row(phrase.Of("as posed"), r.Seen, r.Required.Met, r.LostBy, r.NearestRoadMM)
	for _, v := range r.Variants {
		row(v.Name, v.Seen, v.Met, v.LostBy, v.NearestRoadMM)
	}
	return t
}

// DriverTable lists the sweep over the range of eyes.
func DriverTable(r *rearview.Result) Table {
	t := Table{Title: phrase.Of("Other drivers, ") + r.Required.Rule, Columns: []Column{text(phrase.Of("eyes")), number(phrase.Of("x mm")), number(phrase.Of("y mm")), number(phrase.Of("z mm")), number(phrase.Of("either eye %")), number(phrase.Of("nearest road m"))}}
	if r.Drivers == nil {
		return t
	}
	for _, d := range r.Drivers.Rows {
		t.Rows = append(t.Rows, Row{Cells: []string{
			phrase.Say(d.Name), units.NumberMM(d.ShiftMM[0]), units.NumberMM(d.ShiftMM[1]), units.NumberMM(d.ShiftMM[2]), Percent(d.EitherShare), metresNumber(d.NearestRoadMM),
		}, Verdict: metVerdict(d.Met)})
	}
	t.Foot = []string{phrase.Say(r.Drivers.Source)}
	return t
}

// MirrorTable lists what moving the mirror would change.
func MirrorTable(r *rearview.Result) Table {
	m := &r.Mirror
	t := Table{Title: phrase.Of("Mirror"), Columns: []Column{text(phrase.Of("moved")), number(phrase.Of("either eye %")), number(phrase.Of("gained %")), number(phrase.Of("nearest road m"))}}
	for _, v := range m.Moves {
		t.Rows = append(t.Rows, Row{Cells: []string{phrase.Say(v.Name), Percent(v.EitherShare), fmt.Sprintf("%+.2f", 100*v.GainedShare), metresNumber(v.NearestRoadMM)}})
	}
	t.Foot = []string{MirrorSentence(r)}
	return t
}

// MirrorSentence says what size the field takes and how the mirror is aimed.
func MirrorSentence(r *rearview.Result) string {
	m := &r.Mirror
	size := func(mm *float64) string {
		if mm == nil {
			return phrase.Of("more than a metre")
		}
		return units.FormatMM(*mm)
	}
	return phrase.F("The mirror is %s wide and %s high; the field of %s takes a width of %s and a height of %s, the other side being large. Aimed at the middle of the near side its normal would be [%.4f, %.4f, %.4f]; it is [%.4f, %.4f, %.4f].",
		units.FormatMM(m.WidthMM), units.FormatMM(m.HeightMM), r.Required.Rule, size(m.RequiredWidthMM), size(m.RequiredHeightMM),
		m.AutoNormal[0], m.AutoNormal[1], m.AutoNormal[2], m.Normal[0], m.Normal[1], m.Normal[2])
}

func metVerdict(met bool) string {
	if met {
		return rearview.OK
	}
	return rearview.Short
}

func metresNumber(valueMM *float64) string {
	if valueMM == nil {
		return ""
	}
	return fmt.Sprintf("%.2f", *valueMM/1000)
}
