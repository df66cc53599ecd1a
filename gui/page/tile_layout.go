package page

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// Most lines of a question and of an answer.
const (
	questionLines = 2
	answerLines   = 6
)

// leastShrink is how far small letters may shrink for a long answer to stay
// whole.
const leastShrink = 0.8

// largeText is the size of the text from which on letters are for a wall: a
// question then has two lines, an answer more room.
const largeText = 16

type tileRenderer struct {
	tile               *Tile
	ground, over, foot *canvas.Rectangle
	mark               *theme.Mark
	news               *canvas.Text
	question           [questionLines]*canvas.Text
	answer             [answerLines]*canvas.Text
	objects            []fyne.CanvasObject
	size               fyne.Size
}

// mostTile is the least width that a tile asks for at most: six of them fit the
// smallest screen in letters of any size.
const mostTile = 196

// edge is the height of the bar under the tile whose page is open.
const edge = 4

func (r *tileRenderer) text() float32 { return sizeOf(r.tile, fynetheme.SizeNameText) }
func (r *tileRenderer) small() float32 {
	return sizeOf(r.tile, fynetheme.SizeNameCaptionText)
}
func (r *tileRenderer) pad() float32 { return 2 * sizeOf(r.tile, fynetheme.SizeNameInnerPadding) }

// lineHigh returns the height of a line of letters.
func lineHigh(letters float32) float32 {
	return fyne.MeasureText(phrase.Of("Ag"), letters, fyne.TextStyle{}).Height
}

// questionHigh is the room of the question, answerHigh that of the answer.
func (r *tileRenderer) questionHigh() float32 {
	if r.text() > largeText {
		return questionLines * lineHigh(r.text())
	}
	return lineHigh(r.text())
}

func (r *tileRenderer) answerHigh() float32 {
	line, small := lineHigh(r.text()), lineHigh(r.small())
	if r.text() > largeText {
		return max(line+3*small, 2*line+2*small)
	}
	return max(line+2*small, 3*small)
}

func (r *tileRenderer) MinSize() fyne.Size {
	return fyne.NewSize(min(10*r.text(), mostTile), r.pad()+r.questionHigh()+r.answerHigh()+edge)
}

func (r *tileRenderer) Layout(size fyne.Size) {
	r.size = size
	pad, sign := r.pad(), r.mark.MinSize()
	r.ground.Resize(size)
	r.over.Resize(size)
	r.foot.Move(fyne.NewPos(0, size.Height-edge))
	r.foot.Resize(fyne.NewSize(size.Width, edge))
	high := r.questionHigh()
	r.mark.Move(fyne.NewPos(pad/2, pad/2+(high-sign.Height)/2))
	r.mark.Resize(sign)
	left := pad + sign.Width
	r.layQuestion(left, pad/2, size.Width-left-pad/2, high)
	r.layAnswer(pad/2, pad/2+high+2, size.Width-pad)
}

// layQuestion sets the question in one line or two, and what is new beside its
// end.
func (r *tileRenderer) layQuestion(left, top, width, high float32) {
	letters := r.text()
	bold := sized(letters, fyne.TextStyle{Bold: true})
	lines, whole := wrap(r.tile.tile.Question, width, 1, bold)
	for !whole {
		if lines, whole = wrap(r.tile.tile.Question, width, questionLines, bold); whole && float32(len(lines))*lineHigh(letters) <= high+4 {
			break
		}
		if letters -= 0.5; letters < leastShrink*r.small() {
			break
		}
		whole, bold = false, sized(letters, fyne.TextStyle{Bold: true})
	}
	step := lineHigh(letters)
	y := top + (high-step*float32(len(lines)))/2
	if r.text() > largeText && len(lines) == 1 {
		y = top // the second line is for what is new
	}
	r.news.Text = ""
	for i, text := range r.question {
		text.Text, text.TextSize = "", letters
		if i < len(lines) {
			text.Text = lines[i]
		}
		text.Move(fyne.NewPos(left, y+float32(i)*step))
	}
	if len(lines) == 0 {
		return // nothing is asked yet
	}
	last := len(lines) - 1
	beside, at := bold(lines[last]), y+float32(last)*step
	if r.text() > largeText && last == 0 {
		beside, at = 0, y+step
	}
	r.layNews(left+beside, left+width, at+(step-lineHigh(r.small()))/2)
}

// layNews says how current the answer is, flush right.
func (r *tileRenderer) layNews(left, right, top float32) {
	small := sized(r.news.TextSize, fyne.TextStyle{})
	if room := right - left - r.small(); room > 3*r.small() {
		r.news.Text = shorter(r.newsText(), room, small)
		r.news.Move(fyne.NewPos(right-small(r.news.Text), top))
	}
}

// set is a text in letters of a size.
type set struct {
	text    string
	letters float32
	bold    bool
}

// ways returns how an answer may be set, the best first: what comes before the
// first semicolon, mostly the figure, large; then all alike; then smaller; then
// without its last clauses, which the page tells too.
func (r *tileRenderer) ways(answer string) [][]set {
	text, small := r.text(), r.small()
	first, rest, more := strings.Cut(answer, "; ")
	var out [][]set
	if more {
		out = append(out, []set{{first, text, true}, {rest, small, false}}, []set{{first, small, true}, {rest, small, false}})
	}
	out = append(out, []set{{answer, text, !more}}, []set{{answer, text, false}}, []set{{answer, small, false}})
	for letters := small - 0.5; letters >= leastShrink*small && text > largeText; letters -= 0.5 {
		if more {
			out = append(out, []set{{first, letters * text / small, true}, {rest, letters, false}})
		}
		out = append(out, []set{{answer, letters, false}})
	}
	for at := strings.LastIndex(answer, "; "); at > 0; at = strings.LastIndex(answer[:at], "; ") {
		out = append(out, []set{{answer[:at], small, false}})
	}
	return out
}

// layAnswer sets the answer in the first way in which it stays whole.
func (r *tileRenderer) layAnswer(left, top, width float32) {
	ways := r.ways(r.tile.tile.Answer)
	var lines []set
	for _, way := range ways {
		var whole bool
		if lines, whole = setLines(way, width, r.answerHigh()); whole {
			break
		}
	}
	for i, text := range r.answer {
		text.Text = ""
		if i < len(lines) {
			text.Text, text.TextSize, text.TextStyle.Bold = lines[i].text, lines[i].letters, lines[i].bold
			text.Move(fyne.NewPos(left, top))
			top += lineHigh(lines[i].letters)
		}
	}
}

// setLines breaks texts into lines of a width, as many as a height holds; whole
// is false if something had to be cut.
func setLines(texts []set, width, high float32) (lines []set, whole bool) {
	whole = true
	for _, t := range texts {
		step := lineHigh(t.letters)
		most := min(int((high+1)/step), answerLines-len(lines))
		if most < 1 {
			return lines, false
		}
		broken, all := wrap(t.text, width, most, sized(t.letters, fyne.TextStyle{Bold: t.bold}))
		for _, line := range broken {
			lines = append(lines, set{line, t.letters, t.bold})
			high -= step
		}
		whole = whole && all
	}
	return lines, whole
}

// shorter leaves the word away that stands before the dots and the share done,
// then the share, rather than cut a text amid a word.
func shorter(news string, width float32, of measure) string {
	if at := strings.LastIndex(news, ellipsis); at > 0 && of(news) > width {
		news = news[at:]
	}
	if of(news) <= width {
		return news
	}
	if first, _, _ := strings.Cut(news, " "); first != ellipsis && of(first+ellipsis) <= width {
		return first + ellipsis
	}
	return ellipsis
}

// newsText tells how current the answer is.
func (r *tileRenderer) newsText() string {
	switch {
	case r.tile.tile.Busy != "":
		return r.tile.tile.Busy
	case r.tile.tile.Stale:
		return phrase.Of("earlier state")
	}
	return ""
}
