package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// webCover is title, verdict strip, what stops us most, and the titles of the
// chapters.
func (b *book) webCover(contents []string) string {
	var out strings.Builder
	m := b.m
	fmt.Fprintf(&out, "<header><p class=\"kind\">LAYOUT REVIEW</p><h1>%s</h1><p>%s</p></header>\n<div class=\"strip\">\n", esc(m.Title),
		esc(joinNonEmpty(" · ", prefixed("variant ", m.Variant), prefixed("revision ", m.Revision), dateText(m, "2 January 2006"), m.Author)))
	for _, t := range m.Tiles {
		_, c := t.Verdict.sign()
		fmt.Fprintf(&out, "<div class=\"tile\" style=\"border-color:rgb(%d,%d,%d)\"><b>%s</b><span class=\"word\">%s%s</span><p>%s</p></div>\n",
			c[0], c[1], c[2], esc(t.Question), signHTML(t.Verdict), esc(string(t.Verdict)), esc(t.Answer))
	}
	out.WriteString("</div>\n")
	if hasHeat(m) {
		fmt.Fprintf(&out, "<p class=\"small\">Heat figures: %s</p>\n", esc(heatHead))
	}
	if m.Stop != "" {
		fmt.Fprintf(&out, "<p class=\"lead\">%s</p>\n", esc(m.Stop))
	}
	out.WriteString("<nav><ol>")
	for i, title := range contents {
		fmt.Fprintf(&out, "<li><a href=\"#c%d\">%s</a></li>", i+1, esc(title))
	}
	out.WriteString("</ol></nav>\n")
	return out.String()
}

// webFinding writes one finding: pictures beside figures.
func (b *book) webFinding(f *Finding) {
	w := b.web
	fmt.Fprintf(w.out, "<article id=\"l%d\"><h3>%s %s <span class=\"word\">%s%s</span></h3>\n", w.target, esc(f.ID), esc(f.Title()), signHTML(f.Verdict), esc(string(f.Verdict)))
	w.p("small", findingLine(f))
	w.out.WriteString("<div class=\"two\"><div>\n")
	b.webShow(f.Picture, "")
	b.webShow(f.Section, "")
	if f.Picture == nil && f.Section == nil {
		w.p("small", "No picture was made for this finding.")
	}
	fmt.Fprintf(w.out, "</div><div><p class=\"big\">%s</p>\n", esc(gapText(f)+prefixed(" ", unitIf(f.LiveMM, "mm"))))
	w.p("strong", verdictWords(f))
	w.p("body", rssWords(f))
	if f.StaticMM != nil && f.LiveMM != nil {
		w.out.WriteString(budgetSVG(f))
	}
	b.facts(findingFacts(f))
	b.facts([][2]string{{"Decision", orBlank(f.Decision)}, {"Owner", orBlank(f.Owner)}, {"Due", orBlank(f.Due)}, {"Comment", orBlank(f.Comment)}})
	b.facts(findingHistory(f))
	b.facts(findingBasis(f))
	w.out.WriteString("</div></div></article>\n")
}

// orBlank leaves room to write on where nothing is filled in.
func orBlank(text string) string {
	if text == "" {
		return strings.Repeat("_", 24)
	}
	return text
}

// webFacts writes names and values; unknown ones are left out.
func (w *web) facts(pairs [][2]string) {
	w.out.WriteString("<dl>")
	for _, p := range pairs {
		if p[1] != "" && p[1] != unknown {
			fmt.Fprintf(w.out, "<dt>%s</dt><dd>%s</dd>", esc(p[0]), esc(p[1]))
		}
	}
	w.out.WriteString("</dl>\n")
}

// budgetSVG draws how the static gap is used up.
func budgetSVG(f *Finding) string {
	steps := budgetSteps(f)
	lowMM, highMM := 0.0, 1e-9
	for _, s := range steps {
		lowMM, highMM = min(lowMM, s.FromMM, s.ToMM), max(highMM, s.FromMM, s.ToMM)
	}
	if f.RequiredMM != nil {
		highMM = max(highMM, *f.RequiredMM)
	}
	const from, room, step = 110.0, 220.0, 18.0 // px
	x := func(gapMM float64) float64 { return from + room*(gapMM-lowMM)/(highMM-lowMM) }
	var out strings.Builder
	high := step*float64(len(steps)) + 18
	fmt.Fprintf(&out, "<svg class=\"plot\" viewBox=\"0 0 400 %.0f\" role=\"img\" aria-label=\"gap budget\">", high)
	for i, s := range steps {
		y := step * float64(i)
		fmt.Fprintf(&out, "<text x=\"0\" y=\"%.0f\">%s</text><rect x=\"%.1f\" y=\"%.0f\" width=\"%.1f\" height=\"11\" fill=\"%s\"/><text x=\"398\" y=\"%.0f\" text-anchor=\"end\" font-weight=\"700\">%s</text>",
			y+12, esc(s.Name), x(min(s.FromMM, s.ToMM)), y+2, max(1, x(max(s.FromMM, s.ToMM))-x(min(s.FromMM, s.ToMM))), s.Ink.hex(), y+12, esc(s.Value))
	}
	if f.RequiredMM != nil {
		fmt.Fprintf(&out, "<path d=\"M%.1f 0V%.0f\" stroke=\"#1b2124\" stroke-dasharray=\"4 3\"/><text x=\"%.1f\" y=\"%.0f\" text-anchor=\"middle\">required %s</text>",
			x(*f.RequiredMM), high-16, x(*f.RequiredMM), high-3, esc(shown(f.RequiredMM, gapDecimals)))
	}
	out.WriteString("</svg>\n")
	if !budgetAdds(f) {
		out.WriteString("<p class=\"small\">The live gap is searched over the whole state; it isn't the plain sum of the rows.</p>\n")
	}
	return out.String()
}

func (c ink) hex() string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }

// PlotSVG returns a line chart as an SVG of its own.
func PlotSVG(p *Plot) string {
	return strings.Replace(plotSVG(p), "<svg ", `<svg xmlns="http://www.w3.org/2000/svg" font-family="sans-serif" font-size="12" `, 1)
}

// plotSVG draws a line chart with the scales of the paper.
func plotSVG(p *Plot) string {
	const wide, high, leftPx, topPx, letterPx = 760.0, 310.0, 64.0, 36.0, 11.0
	foot := high - 40
	xs, ys := scales(p)
	lane := lanes(p, ys, 12/(foot-topPx))
	rightPx := letterPx * float64(2+slices.Max(append(slices.Clone(lane), 0)))
	at := func(v mgl64.Vec2) (x, y float64) { // Bare numbers: px
		return leftPx + (wide-leftPx-rightPx)*xs.at(v[0]), topPx + (foot-topPx)*(1-ys.at(v[1]))
	}
	rows := len(p.Lines) + len(p.Marks)
	var out strings.Builder
	fmt.Fprintf(&out, "<svg class=\"plot\" viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-label=\"%s\"><text x=\"0\" y=\"12\">%s</text>",
		wide, high+18*float64(rows), esc(p.Title), esc(p.YLabel))
	for _, v := range ys.ticks() {
		_, y := at(mgl64.Vec2{xs.ends[0], v})
		fmt.Fprintf(&out, "<path d=\"M%.0f %.1fH%.0f\" stroke=\"#cbd2d4\"/><text x=\"%.0f\" y=\"%.1f\" text-anchor=\"end\">%s</text>", leftPx, y, wide-rightPx, leftPx-6, y+4, ys.label(v))
	}
	for _, v := range xs.ticks() {
		x, _ := at(mgl64.Vec2{v, ys.ends[0]})
		fmt.Fprintf(&out, "<path d=\"M%.1f %.0fv5\" stroke=\"#5c656a\"/><text x=\"%.1f\" y=\"%.0f\" text-anchor=\"middle\">%s</text>", x, foot, x, foot+18, xs.label(v))
	}
	fmt.Fprintf(&out, "<text x=\"%.0f\" y=\"%.0f\" text-anchor=\"end\">%s</text>", wide-rightPx, high-4, esc(p.XLabel))
	for i, l := range p.Lines {
		look := lineLooks[i%len(lineLooks)]
		fmt.Fprintf(&out, "<polyline fill=\"none\" stroke=\"%s\" stroke-width=\"2\"%s points=\"", look.ink.hex(), dashes(look))
		for _, v := range l.Points {
			x, y := at(v)
			fmt.Fprintf(&out, "%.1f,%.1f ", x, y)
		}
		y := high + 18*float64(i) + 10
		fmt.Fprintf(&out, "\"/><path d=\"M%.0f %.0fh40\" stroke=\"%s\" stroke-width=\"2\"%s/><text x=\"%.0f\" y=\"%.0f\">%s</text>", leftPx, y-4, look.ink.hex(), dashes(look), leftPx+50, y, esc(l.Name))
	}
	for i, m := range p.Marks {
		x, y := at(m.Place)
		line := fmt.Sprintf("M%.0f %.1fH%.0f", leftPx, y, wide-rightPx)
		x0, y0 := wide-rightPx+4+letterPx*float64(lane[i]), y+4
		if m.Upright {
			line, x0, y0 = fmt.Sprintf("M%.1f %.0fV%.0f", x, topPx, foot), x-4, topPx-6
		}
		under := high + 18*float64(len(p.Lines)+i) + 10
		fmt.Fprintf(&out, "<path d=\"%s\" stroke=\"#1b2124\" stroke-dasharray=\"4 4\"/><text x=\"%.1f\" y=\"%.1f\">%s</text><text x=\"%.0f\" y=\"%.0f\" font-weight=\"700\">%s</text><text x=\"%.0f\" y=\"%.0f\">%s</text>",
			line, x0, y0, markLetter(i), leftPx+14, under, markLetter(i), leftPx+50, under, esc(m.Name))
	}
	out.WriteString("</svg>\n")
	return out.String()
}

// dashes is the pattern of a line, from page mm to px.
func dashes(s stroke) string {
	if len(s.dashMM) == 0 {
		return ""
	}
	var parts []string
	for _, d := range s.dashMM {
		parts = append(parts, fmt.Sprintf("%.1f", 4*d))
	}
	return ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
}

// bandSVG draws a part's band from low to high, its nominal and its limit.
func bandSVG(r *HeatRow, lowDegC, highDegC float64) string {
	x := func(degC float64) float64 { return 160 * max(0, min(1, (degC-lowDegC)/(highDegC-lowDegC))) }
	out := `<svg class="band" viewBox="0 0 160 14" aria-hidden="true"><path d="M0 7h160" stroke="#cbd2d4"/>`
	if r.LowDegC <= highDegC {
		out += fmt.Sprintf(`<rect x="%.1f" y="4" width="%.1f" height="6" fill="#96b8bb"/><rect x="%.1f" y="2" width="3" height="10" fill="#0a4e54"/>`,
			x(r.LowDegC), max(1, x(r.HighDegC)-x(r.LowDegC)), x(r.NominalDegC)-1.5)
	}
	if r.LimitDegC != nil {
		out += fmt.Sprintf(`<path d="M%.1f 0v14" stroke="#1b2124" stroke-width="2"/>`, x(*r.LimitDegC))
	}
	return out + "</svg>"
}
