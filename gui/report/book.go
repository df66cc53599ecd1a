package report

import (
	"fmt"
	"strings"
)

// Page measures, mm.
const (
	sideMM   = 16.0
	topMM    = 25.0 // where the body starts
	bottomMM = 16.0 // kept free below the body
)

// The styles of the pages. Read-only.
var (
	styleTitle   = style{faceBold, 11, inkText}
	styleHead    = style{faceBold, 6.2, inkAccent}
	styleSub     = style{faceBold, 4.1, inkText}
	styleBody    = style{faceRegular, 3.3, inkText}
	styleStrong  = style{faceBold, 3.3, inkText}
	styleSmall   = style{faceRegular, 2.7, inkMuted}
	styleCell    = style{faceRegular, 2.55, inkText}
	styleCellB   = style{faceBold, 2.55, inkText}
	styleCellM   = style{faceRegular, 2.35, inkMuted}
	styleTick    = style{faceRegular, 2.4, inkMuted}
	styleCellFix = style{faceMono, 2.35, inkText}
)

// entry is a section as the contents list it.
type entry struct {
	Title string
	Page  int
	Link  int
}

// book is a document under way: the canvas and where the next thing goes.
type book struct {
	*canvas
	m       *Model
	before  []entry // the sections as the first pass met them; empty in that pass
	pages   int     // of the first pass
	entries []entry

	failBefore, failPages []int // pages of the failing findings, of the pass before and of this one
	section               string
	note                  string // printed at the head of each page of the section
	yMM                   float64
	column                frame // where the body runs now; height unused
	err                   error
	web                   *web // the page that is written instead of paper, nil for paper
}

// bodyMM returns the full width of the body.
func (b *book) bodyMM() float64 { return b.size.Wd - 2*sideMM }

// floorMM returns the lowest place of the body.
func (b *book) floorMM() float64 { return b.size.Ht - bottomMM }

// full lets the body run over the whole width again.
func (b *book) full() { b.column = frame{XMM: sideMM, WMM: b.bodyMM()} }

// newPage starts a page with the running head and foot of the section.
func (b *book) newPage() {
	if b.web != nil {
		return
	}
	b.pdf.AddPage()
	b.yMM = topMM
	if b.section != "" {
		b.runningHead()
	}
	b.foot()
}

// runningHead prints section and layout at the top, and the section's note.
func (b *book) runningHead() {
	const y = 11.0
	b.fill(frame{sideMM, y - 0.4, 1.1, 4.6}, inkAccent)
	wide := b.bodyMM()
	head := style{faceBold, 2.9, inkAccent}
	b.line(head, point{sideMM + 3, y}, wide/3, left, b.section)
	named := b.fitted(styleSmall, wide*0.6, b.m.Title, b.m.Variant, b.m.Revision)
	b.line(styleSmall, point{sideMM + wide*0.4, y}, wide*0.6, right, named)
	b.rule(stroke{ink: inkLine, thickMM: 0.2}, point{sideMM, y + 6}, point{sideMM + wide, y + 6})
	if b.note != "" {
		b.line(style{faceBold, 2.7, inkText}, point{sideMM, y + 7.6}, wide, left, b.note)
	}
}

// fitted joins texts with dots and shortens them until all fit in wMM: the
// first takes what the others leave. In full they stand elsewhere.
func (b *book) fitted(s style, wMM float64, first string, rest ...string) string {
	tail := ""
	for _, r := range rest {
		if r != "" {
			tail += " · " + b.shortened(s, wMM/4, r)
		}
	}
	return b.shortened(s, wMM-b.widthMM(s, tail), first) + tail
}

// shortened cuts a text to wMM, with an ellipsis where something is missing.
func (b *book) shortened(s style, wMM float64, text string) string {
	text = strings.ReplaceAll(b.clean(text), "\n", " ")
	runes, shown := []rune(text), text
	for len(runes) > 1 && b.widthMM(s, shown) > wMM {
		runes = runes[:len(runes)-1]
		shown = strings.TrimSpace(string(runes)) + "…"
	}
	return shown
}

// foot prints program, date and page number.
func (b *book) foot() {
	y := b.size.Ht - 10.5
	date := dateText(b.m, "2006-01-02")
	words := b.fitted(styleSmall, b.bodyMM()*0.7, date, b.m.Program)
	b.line(styleSmall, point{sideMM, y}, b.bodyMM(), left, words)
	number := fmt.Sprintf("page %d of %d", b.pdf.PageNo(), b.pages)
	b.line(styleSmall, point{sideMM, y}, b.bodyMM(), right, number)
}

// chapter starts a section on a new page, with bookmark and contents entry.
func (b *book) chapter(title, note string) {
	b.full()
	if b.web != nil {
		b.web.chapter(title, note)
		return
	}
	on := b.goesOn(note)
	b.section, b.note = title, note
	if on {
		b.gap(9)
	} else {
		b.newPage()
	}
	b.enter(title, 0)
	b.paragraph(styleHead, title)
	b.gap(2)
}

// goesOn reports whether a chapter goes on below the one before: where that one
// took little of its page, and the same note heads both.
func (b *book) goesOn(note string) bool {
	const little = 0.3 // of the body
	return len(b.entries) > 1 && note == b.note && b.yMM > topMM && b.yMM < topMM+little*(b.floorMM()-topMM)
}

// enter notes a section for the contents and the bookmarks.
func (b *book) enter(title string, level int) {
	if b.web != nil {
		return
	}
	b.use(styleBody) // bookmarks take their encoding from the font in use
	b.pdf.Bookmark(strings.ReplaceAll(b.clean(title), "\n", " "), level, b.yMM-4)
	if level > 0 {
		return
	}
	link := b.link(len(b.entries))
	b.pdf.SetLink(link, 0, b.pdf.PageNo())
	b.entries = append(b.entries, entry{title, b.pdf.PageNo(), link})
}

// link returns the link that leads to the i-th section; the cover asks for
// links before their sections are reached.
func (b *book) link(i int) int {
	if i < len(b.before) {
		return b.before[i].Link
	}
	return b.pdf.AddLink()
}

// need starts a new page unless hMM is free below.
func (b *book) need(hMM float64) {
	if b.web == nil && b.yMM+hMM > b.floorMM() && b.yMM > topMM {
		b.newPage()
	}
}

// gap leaves some room.
func (b *book) gap(hMM float64) { b.yMM += hMM }

// headedMM is the room that a heading wants below it: itself, the heads of a
// table and its first rows.
const headedMM = 40

// sub prints a heading inside a section and keeps it with what follows.
func (b *book) sub(title string) {
	if b.web != nil {
		fmt.Fprintf(b.web.out, "<h4>%s</h4>\n", esc(title))
		return
	}
	b.gap(3)
	b.need(headedMM)
	b.paragraph(styleSub, title)
	b.gap(1.2)
}

// paragraph prints wrapped text in the column, over pages where it must.
func (b *book) paragraph(s style, text string) {
	if text == "" {
		return
	}
	if b.web != nil {
		b.web.p(classOf(s), text)
		return
	}
	for _, line := range b.wrap(s, b.column.WMM, text) {
		b.need(s.leadMM())
		b.line(s, point{b.column.XMM, b.yMM}, b.column.WMM, left, line)
		b.yMM += s.leadMM()
	}
}

// caption prints the small words below a picture or plot.
func (b *book) caption(text string) {
	b.gap(1)
	b.paragraph(styleSmall, text)
	b.gap(2)
}

// show places a picture in the column, no higher than hMM, with its caption and
// a remark below it, all on one page.
func (b *book) show(p *Picture, hMM float64, remark string) {
	if p == nil {
		return
	}
	if b.web != nil {
		b.webShow(p, remark)
		return
	}
	words := joinNonEmpty("\n", pictureWords(p), remark)
	belowMM := float64(len(b.wrap(styleSmall, b.column.WMM, words)))*styleSmall.leadMM() + 1.2
	b.need(min(hMM, 70) + belowMM)
	freeMM := b.floorMM() - b.yMM - belowMM
	at, err := b.picture(frame{b.column.XMM, b.yMM, b.column.WMM, min(hMM, freeMM)}, p)
	if err != nil && b.err == nil {
		b.err = err
	}
	b.yMM = at.YMM + at.HMM
	b.caption(words)
}

// pictureWords is the caption with the name under which the file is found.
func pictureWords(p *Picture) string { return joinNonEmpty("  ", p.Caption, "["+p.Name+"]") }

// joinNonEmpty joins the texts that say something.
func joinNonEmpty(between string, texts ...string) string {
	var said []string
	for _, t := range texts {
		if t != "" {
			said = append(said, t)
		}
	}
	return strings.Join(said, between)
}
