package report

import "math"

// budget draws how the static gap is used up, bar below bar, against what is
// required. It is left out where static or live gap is unknown.
func (b *book) budget(f *Finding) {
	if f.StaticMM == nil || f.LiveMM == nil {
		return
	}
	steps := budgetSteps(f)
	lowMM, highMM := 0.0, 1e-9
	for _, s := range steps {
		lowMM, highMM = min(lowMM, s.FromMM, s.ToMM), max(highMM, s.FromMM, s.ToMM)
	}
	if f.RequiredMM != nil {
		highMM = max(highMM, *f.RequiredMM)
	}
	const nameMM, valueMM, barMM, stepMM = 25.0, 16.0, 2.7, 4.3
	room := b.column.WMM - nameMM - valueMM
	place := func(gapMM float64) float64 {
		return b.column.XMM + nameMM + room*(gapMM-lowMM)/(highMM-lowMM)
	}
	b.need(float64(len(steps))*stepMM + 8)
	top := b.yMM
	for _, s := range steps {
		b.line(styleCell, point{b.column.XMM, b.yMM}, nameMM, left, s.Name)
		x0, x1 := place(min(s.FromMM, s.ToMM)), place(max(s.FromMM, s.ToMM))
		b.fill(frame{x0, b.yMM + 0.3, max(x1-x0, 0.15), barMM}, s.Ink)
		b.line(styleCellB, point{b.column.XMM, b.yMM}, b.column.WMM, right, s.Value)
		b.yMM += stepMM
	}
	axis := stroke{ink: inkMuted, thickMM: 0.2}
	b.rule(axis, point{place(0), top - 0.6}, point{place(0), b.yMM})
	if f.RequiredMM != nil {
		x := place(*f.RequiredMM)
		b.rule(stroke{ink: inkText, thickMM: 0.35, dashMM: []float64{1, 0.8}}, point{x, top - 0.6}, point{x, b.yMM})
		words := style{faceRegular, 2.35, inkText}
		label := "required " + shown(f.RequiredMM, gapDecimals)
		at := min(x-b.widthMM(words, label)/2, b.column.XMM+b.column.WMM-b.widthMM(words, label))
		b.line(words, point{max(at, b.column.XMM), b.yMM + 0.3}, 0, left, label)
		b.yMM += 3.4
	}
	if !budgetAdds(f) {
		b.paragraph(styleSmall, "The live gap is searched over the whole state; it isn't the plain sum of the rows.")
	}
	b.gap(3)
}

// budgetStep is one bar: from where to where it runs along the gap.
type budgetStep struct {
	Name   string
	Value  string
	FromMM float64
	ToMM   float64
	Ink    ink
}

// budgetSteps lists static gap, what takes from it, and what is left.
func budgetSteps(f *Finding) []budgetStep {
	steps := []budgetStep{{"Static gap", shown(f.StaticMM, gapDecimals), 0, *f.StaticMM, inkBar}}
	atMM := *f.StaticMM
	for _, part := range []struct {
		name    string
		takesMM *float64
	}{{"Motion takes", f.MotionMM}, {"Heat takes", f.HeatMM}, {"Tolerance takes", f.ToleranceMM}} {
		if part.takesMM == nil {
			continue
		}
		steps = append(steps, budgetStep{part.name, shown(part.takesMM, gapDecimals), atMM - *part.takesMM, atMM, inkLine})
		atMM -= *part.takesMM
	}
	return append(steps, budgetStep{"Live gap", gapText(f), 0, *f.LiveMM, inkAccent})
}

// budgetAdds tells whether the rows of the budget add up as printed.
func budgetAdds(f *Finding) bool {
	restMM := *f.StaticMM - *f.LiveMM
	for _, takesMM := range []*float64{f.MotionMM, f.HeatMM, f.ToleranceMM} {
		if takesMM != nil {
			restMM -= *takesMM
		}
	}
	const printedMM = 0.02 // four roundings to two decimals
	return math.Abs(restMM) <= printedMM
}
