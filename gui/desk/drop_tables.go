package desk

import (
	"strconv"

	"aftbay/geom"
	"aftbay/geom/drop"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/material"
)

// DropOptions are the options of every drop study: window, command and report
// count with the same densities.
func DropOptions(workers int) drop.Options {
	return drop.Options{Workers: workers, Density: density}
}

// density looks a material up in the table.
func density(name string) (kgM3 float64, source string, ok bool) {
	m, err := material.Find(name)
	if err != nil || m.Solid == nil {
		return 0, "", false
	}
	return m.Solid.DensityKgM3, m.Solid.Name + ", " + m.Solid.Status, true
}

// CurveTable is the curve of the study, a row for each drop: what a
// spreadsheet wants.
func CurveTable(r *drop.Result) Table {
	t := Table{Title: phrase.Of("Over the drop"), Columns: []Column{number("drop_mm"), text(phrase.Of("holds"))}}
	if len(r.Curve) == 0 {
		return t
	}
	attitudes := sortedKeys(r.Curve[0].GroundMM)
	for _, a := range attitudes {
		t.Columns = append(t.Columns, number("ground_mm "+a))
	}
	for _, head := range []string{
		"under_front_axle_mm", "under_rear_axle_mm", "departure_deg", "departure_contact_deg", "ramp_deg", "ramp_contact_deg",
		"deck_mm", "highest_mm", "crank_mm", "cg_x_mm", "cg_z_mm", "load_transfer_N", "static_stability_factor", "yaw_inertia_change_kg_m2", "seen_share",
	} {
		t.Columns = append(t.Columns, number(head))
	}
	for _, h := range r.Curve[0].HalfShafts {
		for _, what := range []string{"static_deg", "bump_deg", "rebound_deg", "plunge_mm"} {
			t.Columns = append(t.Columns, number(h.Name+" "+what))
		}
	}
	for _, l := range r.Curve[0].ShaftLines {
		t.Columns = append(t.Columns, number(l.Name+" bore_runout_mm"), number(l.Name+" face_runout_mm"))
	}
	for _, d := range r.Curve[0].Deck {
		t.Columns = append(t.Columns, number("lowest_deck_mm "+d.Name))
	}
	var drawn []*drop.Limit
	for i := range r.Limits {
		if l := &r.Limits[i]; len(l.Values) == len(r.Curve) && (l.Kind == drop.KindClearance || l.Kind == drop.KindDeck) {
			drawn = append(drawn, l)
			t.Columns = append(t.Columns, number(phrase.Say(l.Name)+" mm"))
		}
	}
	for k := range r.Curve {
		row := curveRow(r, &r.Curve[k], attitudes)
		for _, l := range drawn {
			row.Cells = append(row.Cells, exact(l.Values[k]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// curveRow writes one point of the curve, clearances of pairs excepted.
func curveRow(r *drop.Result, p *drop.Point, attitudes []string) Row {
	holds := "no"
	if holdsAt(r.WindowsMM, p.DropMM) {
		holds = "yes"
	}
	cells := []string{exact(&p.DropMM), holds}
	add := func(values ...*float64) { // Bare numbers: in the unit of the column
		for _, v := range values {
			cells = append(cells, exact(v))
		}
	}
	for _, a := range attitudes {
		mm := p.GroundMM[a]
		add(&mm)
	}
	var cgX, cgZ *float64
	if p.CGMM != nil {
		cgX, cgZ = &p.CGMM[0], &p.CGMM[2]
	}
	add(p.UnderAxleMM.FrontMM, p.UnderAxleMM.RearMM, p.DepartureDeg, p.DepartureText, p.RampDeg, p.RampText,
		p.DeckMM, p.HighestMM, p.CrankMM, cgX, cgZ, p.LoadTransferN, p.Stability, p.YawKgM2, p.SeenShare)
	for i := range p.HalfShafts {
		h := &p.HalfShafts[i]
		add(&h.StaticDeg, &h.BumpDeg, &h.ReboundDeg, &h.PlungeMM)
	}
	for i := range p.ShaftLines {
		add(&p.ShaftLines[i].BoreRunoutMM, &p.ShaftLines[i].FaceRunoutMM)
	}
	for i := range p.Deck {
		add(&p.Deck[i].LowestMM)
	}
	return Row{Cells: cells}
}

// exact writes a value with all the digits that tell it, "" for none: for
// tables that are read by programs. Bare numbers: in the unit of the column.
func exact(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'g', -1, 64)
}

// GainTable says what the drop buys from where the group stands: at the drop
// that is shown now, if that is another, and at the end of the window.
func GainTable(r *drop.Result, at Stand) Table {
	t := Table{Title: phrase.Of("What it buys"), Columns: []Column{text(phrase.Of("figure")), number(phrase.Of("as it stands"))}}
	endMM, hasEnd := endOf(r)
	showNow := at != (Stand{}) && !(hasEnd && at == Stand{DropMM: endMM})
	now := r.GainsAside(at.DropMM, at.ShiftMM)
	if showNow {
		t.Columns = append(t.Columns, number(standHead(at)), number(phrase.Of("change")))
	}
	if hasEnd {
		t.Columns = append(t.Columns, number("at "+units.FormatMM(endMM)+phrase.Of(", the end")), number(phrase.Of("change")))
	} else if !showNow {
		t.Foot = []string{phrase.Of("Without a window there is no end to compare with; pull the slider.")}
		return t
	}
	all := r.Buys
	if !hasEnd {
		all = now
	}
	for _, g := range all {
		cells := []string{phrase.Say(g.What), gainText(g.Unit, g.Start)}
		if showNow {
			cells = append(cells, "", "")
			if n, ok := gainNamed(now, g.What.String()); ok {
				cells = []string{phrase.Say(g.What), gainText(g.Unit, g.Start), gainText(n.Unit, n.End), changeText(n)}
			}
		}
		if hasEnd {
			cells = append(cells, gainText(g.Unit, g.End), changeText(g))
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	t.Foot = append(t.Foot, seenText(r))
	return t
}

func standHead(at Stand) string {
	if at.ShiftMM == 0 {
		return "at " + units.FormatMM(at.DropMM)
	}
	return "at " + units.FormatMM(at.DropMM) + ", " + asideText(at.ShiftMM)
}

// seenText says what the share of the rear view is of, or why there is none.
func seenText(r *drop.Result) string {
	if !r.SeenNote.IsZero() {
		return phrase.Of("Rear view: ") + phrase.Say(r.SeenNote) + "."
	}
	return phrase.Of("Rear view: share of the prescribed road that either eye sees in the mirror.")
}

func gainNamed(list []drop.Gain, what string) (drop.Gain, bool) {
	for _, g := range list {
		if g.What.String() == what {
			return g, true
		}
	}
	return drop.Gain{}, false
}

// endOf returns the end of the window, or of what is left without the limits
// that fail throughout.
func endOf(r *drop.Result) (mm float64, ok bool) {
	switch {
	case r.WindowMM != nil:
		return r.WindowMM[1], true
	case r.ReachMM != nil:
		return r.ReachMM[1], true
	}
	return 0, false
}

// gainText writes a figure in its unit. Bare numbers: in unit.
func gainText(unit string, v float64) string {
	switch unit {
	case "mm":
		return units.FormatMM(v)
	case "N":
		return units.FormatN(v)
	case "ratio":
		return strconv.FormatFloat(v, 'f', 3, 64)
	case "share":
		return units.FormatPercent(v)
	}
	return phrase.F("%.2f kg m²", v)
}

func changeText(g drop.Gain) string {
	text := gainText(g.Unit, g.Change)
	if g.Change > 0 {
		return "+" + text
	}
	return text
}

// MassTable lists the masses by part, then the sums.
func MassTable(m *drop.Mass) Table {
	t := Table{
		Title:   phrase.Of("Masses and centres of gravity"),
		Columns: []Column{text(phrase.Of("part or sum")), text(phrase.Of("group")), number("mass_kg"), text(phrase.Of("known")), number(phrase.Of("cg x")), number(phrase.Of("cg y")), number(phrase.Of("cg z")), text(phrase.Of("how"))},
	}
	for _, p := range m.Parts {
		verdict := ""
		if p.Kg == nil {
			verdict = phrase.Of("no rule")
		}
		t.Rows = append(t.Rows, Row{Cells: append([]string{p.Part, p.Group, optionalKg(p.Kg), p.Basis}, append(placeCells(p.CGMM), phrase.Say(p.How))...), Key: p.Part, Parts: []string{p.Part}, Verdict: verdict})
	}
	for _, g := range m.Groups {
		name := phrase.Of("sum of ") + g.Group
		if g.Group == "" {
			name = phrase.Of("sum of parts without a group")
		}
		known := "given"
		if g.EstimatedKg > 0 {
			known = units.FormatKg(g.EstimatedKg) + " estimated"
		}
		if g.Missing > 0 {
			known += phrase.F(", %d missing", g.Missing)
		}
		kg := g.Kg
		t.Rows = append(t.Rows, Row{Cells: append([]string{name, g.Group, optionalKg(&kg), known}, append(placeCells(g.CGMM), "")...)})
	}
	t.Rows = append(t.Rows, Row{Cells: append([]string{"vehicle", "", optionalKg(m.VehicleKg), ""}, append(placeCells(m.CGMM), phrase.Say(m.From))...)})
	t.Foot = []string{phrase.F("%s goes down: %s.", units.FormatKg(m.GroupKg), m.Basis)}
	return t
}

func optionalKg(kg *float64) string {
	if kg == nil {
		return ""
	}
	return units.NumberKg(*kg)
}

// placeCells writes a point in three cells, empty for none.
func placeCells(at *geom.Vec) []string {
	if at == nil {
		return []string{"", "", ""}
	}
	return []string{units.NumberMM(at[0]), units.NumberMM(at[1]), units.NumberMM(at[2])}
}
