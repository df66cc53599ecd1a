package report

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"strings"

	"aftbay/geom/say"
	_ "embed" // the look and the script of the page
)

var (
	//go:embed page.css
	pageCSS string
	//go:embed page.js
	pageJS string
)

// web is the page under way. A book with one writes there instead of on paper:
// both say the same because the same code says it.
type web struct {
	out      *bufio.Writer // its errors stay until the end
	contents []string      // titles of the chapters, with their numbers as targets
	draft    bool          // to count the chapters: pictures are left out
	target   int           // link that the next finding is reached by
	inside   bool
}

// WriteHTML writes the model as one page that needs nothing else: the content
// of the PDF, tables that sort by a click on a head, and the scene to be turned.
// The same model gives the same bytes.
func WriteHTML(w io.Writer, m *Model) error {
	if err := Check(m); err != nil {
		return err
	}
	return writeHTML(w, m)
}

func writeHTML(w io.Writer, m *Model) error {
	c, err := newCanvas(m, A4.size())
	if err != nil {
		return say.Errorf("html: %w", err)
	}
	c.pdf.AddPage() // what is measured wants one; nothing is drawn on it
	counted := &book{canvas: c, m: m, web: &web{out: bufio.NewWriter(io.Discard), draft: true}}
	if err := counted.webChapters(); err != nil { // for the contents, without pictures
		return say.Errorf("html: %w", err)
	}
	page := bufio.NewWriter(w)
	b := &book{canvas: c, m: m, web: &web{out: page}}
	fmt.Fprintf(page, "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">"+
		"<link rel=\"icon\" href=\"data:,\"><title>%s</title><style>\n%s</style></head><body>\n", esc(m.Title), pageCSS)
	page.WriteString(b.webCover(counted.web.contents))
	if err := writeScene(page, m); err != nil {
		return say.Errorf("html: %w", err)
	}
	if err := b.webChapters(); err != nil {
		return say.Errorf("html: %w", err)
	}
	fmt.Fprintf(page, "<footer>%s</footer>\n<script>\n%s</script></body></html>\n", esc(joinNonEmpty(" · ", dateText(m, "2006-01-02"), m.Program)), pageJS)
	return page.Flush()
}

// webChapters writes all that follows the cover.
func (b *book) webChapters() error {
	for _, draw := range chapters[1:] {
		draw(b)
		if b.err != nil {
			return b.err
		}
	}
	b.web.end()
	return nil
}

// esc makes a text safe to stand in the page; its lines stay.
func esc(text string) string {
	return strings.ReplaceAll(html.EscapeString(text), "\n", "<br>")
}

func (w *web) end() {
	if w.inside {
		w.out.WriteString("</section>\n")
	}
	w.inside = false
}

// chapter begins a section.
func (w *web) chapter(title, note string) {
	w.end()
	w.contents = append(w.contents, title)
	fmt.Fprintf(w.out, "<section id=\"c%d\"><h2>%s</h2>\n", len(w.contents), esc(title))
	w.p("note", note)
	w.inside = true
}

// p writes a paragraph of a class.
func (w *web) p(class, text string) {
	if text != "" {
		fmt.Fprintf(w.out, "<p class=\"%s\">%s</p>\n", class, esc(text))
	}
}

// classOf names a style of the paper for the page.
func classOf(s style) string {
	switch {
	case s == styleSmall || s == styleCellM:
		return "small"
	case s.face == faceMono:
		return "mono"
	case s.face == faceBold && s.sizeMM > 3.5:
		return "lead"
	case s.face == faceBold:
		return "strong"
	}
	return "body"
}

// sign writes a verdict: its shape, its colour and, beside, its word.
func signHTML(v Verdict) string {
	if v == "" {
		return ""
	}
	outline, colour := v.sign()
	fill := fmt.Sprintf("#%02x%02x%02x", colour[0], colour[1], colour[2])
	shapes := map[shape]string{
		shapeRing:     `<circle cx="6" cy="6" r="4" fill="none" stroke="%s" stroke-width="2"/>`,
		shapeCircle:   `<circle cx="6" cy="6" r="5" fill="%s"/>`,
		shapeTriangle: `<path d="M6 1 11 11H1z" fill="%s"/>`,
		shapeSquare:   `<path d="M1 1h10v10H1z" fill="%s"/>`,
		shapeDiamond:  `<path d="M6 0 12 6 6 12 0 6z" fill="%s"/>`,
	}
	return `<svg class="sign" viewBox="0 0 12 12" aria-hidden="true">` + fmt.Sprintf(shapes[outline], fill) + "</svg>"
}

// cell writes what stands in one field.
func (w *web) cell(c cell) string {
	if c.svg != "" {
		return c.svg
	}
	var parts []string
	for _, s := range c.spans {
		text := esc(s.text)
		if s.style.face == faceBold {
			text = "<b>" + text + "</b>"
		} else if class := classOf(s.style); class != "body" {
			text = fmt.Sprintf("<span class=\"%s\">%s</span>", class, text)
		}
		if s.mark != "" { // sign and word stay together
			text = `<span class="nb">` + signHTML(s.mark) + text + "</span>"
		}
		parts = append(parts, text)
	}
	text := strings.Join(parts, "<br>")
	if c.link != 0 {
		return fmt.Sprintf("<a href=\"#l%d\">%s</a>", c.link, text)
	}
	return text
}

// table writes rows under heads that sort by a click. widthsMM are those of the
// columns on the paper: the page shares its own width out in the same way.
func (w *web) table(columns []column, widthsMM []float64, rows [][]cell) {
	wholeMM := 0.0
	for _, widthMM := range widthsMM {
		wholeMM += widthMM
	}
	w.out.WriteString("<table class=\"sorts\"><colgroup>")
	for _, widthMM := range widthsMM {
		fmt.Fprintf(w.out, "<col style=\"width:%.2f%%\">", 100*widthMM/wholeMM)
	}
	w.out.WriteString("</colgroup><thead><tr>")
	for _, c := range columns {
		fmt.Fprintf(w.out, "<th%s>%s</th>", sideOf(c), esc(strings.ReplaceAll(c.head, "-\n", softHyphen)))
	}
	w.out.WriteString("</tr></thead><tbody>\n")
	for _, row := range rows {
		w.out.WriteString("<tr>")
		for i, c := range row {
			fmt.Fprintf(w.out, "<td%s>%s</td>", sideOf(columns[i]), w.cell(c))
		}
		w.out.WriteString("</tr>\n")
	}
	w.out.WriteString("</tbody></table>\n")
}

// softHyphen is where a word may be parted.
const softHyphen = "\u00ad"

func sideOf(c column) string {
	if c.align == right {
		return ` class="n"`
	}
	return ""
}

// show writes a picture with its words, the picture inside the page.
func (b *book) webShow(p *Picture, remark string) {
	if p == nil {
		return
	}
	fmt.Fprintf(b.web.out, "<figure><img alt=\"%s\" src=\"data:image/png;base64,", esc(p.Caption))
	if !b.web.draft {
		into := base64.NewEncoder(base64.StdEncoding, b.web.out)
		if _, err := into.Write(p.PNG); err == nil {
			b.err = into.Close()
		}
	}
	fmt.Fprintf(b.web.out, "\"><figcaption>%s</figcaption></figure>\n", esc(joinNonEmpty("\n", pictureWords(p), remark)))
}
