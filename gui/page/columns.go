package page

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/desk"
)

// columns lays out a row: the sign, then one object per column. All rows of a
// grid and its head share it. Where there is little room the names stand on a
// line of their own above the rest, so that they stay whole.
type columns struct {
	natural, least []float32 // by column: as wide as its widest text; the narrowest of use
	words          []bool    // by column: it holds words, not numbers
	names, rest    []int     // columns that name what the row speaks of, and the others
	stacked        bool
	heads, halves  []string  // by column: whole, and those of numbers in two lines where that saves room
	headWide       []float32 // by column: width of the whole head
	whole          bool      // the heads stand in one line each
	table          *desk.Table
	letters        float32 // of the text that was measured
	sorted         int     // column whose head has an arrow, from 1; 0 for none
}

const (
	// measuredRows is how many rows are looked at for the widths; the first ones
	// are the ones read.
	measuredRows = 300
	// Bounds for columns of words, in letters: the widest, the least for a name,
	// the least for others. Names of parts are rarely longer.
	widestLetters, nameLetters, wordLetters = 44, 18, 7
	// readLetters is what other words keep of a text in a row of one line: of fewer
	// nobody reads what it is.
	readLetters = 16
	// letterShare is the mean width of a letter over the size of the font.
	letterShare = 0.55
)

// measure takes widths and names from a table.
func (c *columns) measure(t *desk.Table) {
	size := fynetheme.Size(fynetheme.SizeNameText)
	c.table, c.letters = t, size
	letter := letterShare * size
	of := sized(size, fyne.TextStyle{})
	caption := sized(fynetheme.Size(fynetheme.SizeNameCaptionText), fyne.TextStyle{Bold: true})
	pad := 2*fynetheme.Size(fynetheme.SizeNameInnerPadding) + 1
	c.natural, c.least = make([]float32, len(t.Columns)), make([]float32, len(t.Columns))
	c.words, c.names, c.rest = make([]bool, len(t.Columns)), nil, nil
	c.heads, c.halves, c.headWide = make([]string, len(t.Columns)), make([]string, len(t.Columns)), make([]float32, len(t.Columns))
	for k, column := range t.Columns {
		c.heads[k], c.halves[k] = column.Head, column.Head
		arrow := float32(0)
		if c.sorted == k+1 {
			arrow = caption(upArrow)
		}
		c.headWide[k] = caption(column.Head) + arrow + pad
		if column.Right {
			c.halves[k] = halved(column.Head)
		}
		width := headWidth(c.halves[k], caption) + arrow
		for _, r := range t.Rows[:min(len(t.Rows), measuredRows)] {
			width = max(width, of(r.Cells[k]))
		}
		letters := float32(wordLetters)
		if isName(t, k) {
			letters = nameLetters
			c.names = append(c.names, k)
		} else {
			c.rest = append(c.rest, k)
		}
		c.words[k] = !column.Right
		c.natural[k], c.least[k] = width+pad, width+pad
		if !column.Right {
			c.natural[k] = min(width, widestLetters*letter) + pad
			c.least[k] = min(width, max(letters*letter, headWidth(c.halves[k], caption)+arrow)) + pad
		}
	}
}

// What stands after the head of the column by which the rows are sorted.
const upArrow, downArrow = " ▲", " ▼"

// sortBy makes room for the arrow of a column, from 1; 0 for none.
func (c *columns) sortBy(column int) {
	if c.sorted != column {
		c.sorted = column
		if c.table != nil {
			c.measure(c.table)
		}
	}
}

// halved breaks a head of several words into two lines of about one length.
func halved(head string) string {
	best, at := len(head), -1
	for i, r := range head {
		if longer := max(i, len(head)-i-1); r == ' ' && longer < best {
			best, at = longer, i
		}
	}
	if at < 0 || len(head) <= wordLetters {
		return head
	}
	return head[:at] + "\n" + head[at+1:]
}

// headWidth returns the width of the longest line of a head.
func headWidth(head string, of measure) (width float32) {
	for line := range strings.Lines(head) {
		width = max(width, of(strings.TrimSuffix(line, "\n")))
	}
	return width
}

// isName reports whether a column names what its row speaks of; it is the first
// one where no row speaks of parts.
func isName(t *desk.Table, k int) bool {
	if t.Columns[k].Right || len(t.Rows) == 0 {
		return false
	}
	r := &t.Rows[0]
	return slices.Contains(r.Parts, r.Cells[k]) || len(r.Parts) == 0 && k == 0
}

// setRoom chooses between one line and two, of rows and of heads; it reports
// whether that changed. A row has one line only where its names stay whole and
// other words keep some of theirs.
func (c *columns) setRoom(width float32) (changed bool) {
	if c.table != nil && c.letters != fynetheme.Size(fynetheme.SizeNameText) { // another look
		c.measure(c.table)
	}
	was, wasWhole := c.stacked, c.whole
	room := width - c.lead() - scrollBarRoom()
	var sum, low float32
	for k, natural := range c.natural {
		switch {
		case slices.Contains(c.names, k):
			sum += natural
		case c.words[k]:
			least := max(c.least[k], min(natural, readLetters*letterShare*fynetheme.Size(fynetheme.SizeNameText)))
			sum, low = sum+least, low+c.least[k]
		default:
			sum, low = sum+natural, low+max(natural, c.headWide[k])
		}
	}
	c.stacked = sum > room && len(c.names) > 0 && len(c.rest) > 0
	c.whole = c.stacked && low <= room
	return was != c.stacked || wasWhole != c.whole
}

// headsNow returns the heads as the room has them.
func (c *columns) headsNow() []string {
	if c.whole {
		return c.heads
	}
	return c.halves
}

// naturalOf returns the width of a column, with its head as it stands now.
func (c *columns) naturalOf(k int) float32 {
	if c.whole {
		return max(c.natural[k], c.headWide[k])
	}
	return c.natural[k]
}

// holds reports whether a text fits its column where that is narrowest, so that
// nothing need be cut off: the toolkit's way to find out where to cut takes ten
// times as long as all else of a cell.
func (c *columns) holds(k int, text string) bool {
	pad := 2 * fynetheme.Size(fynetheme.SizeNameInnerPadding)
	return fyne.MeasureText(text, fynetheme.Size(fynetheme.SizeNameText), fyne.TextStyle{}).Width+pad <= c.least[k]
}

// lead is the room of the sign at the left.
func (c *columns) lead() float32 {
	return fynetheme.Size(fynetheme.SizeNameInlineIcon) + 2*fynetheme.Size(fynetheme.SizeNamePadding)
}

// scrollBarRoom is kept free at the right: there a list draws its scroll bar
// over the rows.
func scrollBarRoom() float32 { return fynetheme.Size(fynetheme.SizeNameScrollBarSmall) }

// lines returns the columns of each line of a row.
func (c *columns) lines() [][]int {
	if c.stacked {
		return [][]int{c.names, c.rest}
	}
	all := make([]int, len(c.natural))
	for k := range all {
		all[k] = k
	}
	return [][]int{all}
}

// widths shares out a width among some columns: each its natural one; what is
// missing is taken from those of words, from names last; what is left over goes
// to them.
func (c *columns) widths(of []int, room float32) []float32 {
	out := make([]float32, len(of))
	left, words := room, 0
	for i, k := range of {
		out[i] = c.naturalOf(k)
		left -= out[i]
		if c.words[k] {
			words++
		}
	}
	if left < 0 {
		missing := c.shrink(out, of, -left, false)
		c.shrink(out, of, missing, true)
		return out
	}
	for i, k := range of {
		switch {
		case !c.words[k]:
		case c.stacked:
			out[i] += left / float32(words)
		default: // a wider gap would tear the row apart
			out[i] += min(out[i], left/float32(words))
		}
	}
	return out
}

// shrink takes what is missing from the names, or from the others, each by its
// part of what they can give; it returns what is still missing.
func (c *columns) shrink(widths []float32, of []int, missing float32, names bool) float32 {
	var spare float32
	for i, k := range of {
		if c.words[k] && slices.Contains(c.names, k) == names {
			spare += widths[i] - c.least[k]
		}
	}
	if spare <= 0 {
		return missing
	}
	taken := min(missing, spare)
	for i, k := range of {
		if c.words[k] && slices.Contains(c.names, k) == names {
			widths[i] -= (widths[i] - c.least[k]) * taken / spare
		}
	}
	return missing - taken
}

// Layout is the toolkit's.
func (c *columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) == 0 {
		return
	}
	lines := c.lines()
	sign := fynetheme.Size(fynetheme.SizeNameInlineIcon)
	text := objects[0].MinSize().Height
	if len(objects) > 1 {
		text = objects[1].MinSize().Height
	}
	high, step := size.Height, float32(0)
	if len(lines) > 1 {
		high = c.lineHigh(objects)
		step = size.Height - high
	}
	objects[0].Move(fyne.NewPos(fynetheme.Size(fynetheme.SizeNamePadding), (text-sign)/2))
	objects[0].Resize(fyne.NewSquareSize(sign))
	for line, of := range lines {
		x := c.lead()
		for i, width := range c.widths(of, size.Width-x-scrollBarRoom()) {
			if k := of[i] + 1; k < len(objects) {
				objects[k].Move(fyne.NewPos(x, float32(line)*step))
				objects[k].Resize(fyne.NewSize(width, high))
			}
			x += width
		}
	}
}

// lineHigh is the height of a line of a row.
func (c *columns) lineHigh(objects []fyne.CanvasObject) (high float32) {
	for _, o := range objects {
		high = max(high, o.MinSize().Height)
	}
	return high
}

// MinSize is the toolkit's.
func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, c.lineHigh(objects))
	for _, of := range [][]int{c.names, c.rest} {
		var sum float32
		for _, k := range of {
			sum += c.least[k]
		}
		size.Width = max(size.Width, sum)
	}
	if c.stacked { // the two lines of a row stand closer than two rows
		size.Height = 2*size.Height - 2*fynetheme.Size(fynetheme.SizeNameInnerPadding)
	}
	return size.Add(fyne.NewSize(c.lead()+scrollBarRoom(), 0))
}
