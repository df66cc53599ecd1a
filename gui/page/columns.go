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
	heads          []string // those of numbers in two lines where that saves room
}

const (
	// measuredRows is how many rows are looked at for the widths; the first ones
	// are the ones read.
	measuredRows = 300
	// Bounds for columns of words, in letters: the widest, the least for a name,
	// the least for others. Names of parts are rarely longer.
	widestLetters, nameLetters, wordLetters = 44, 18, 7
	// letterShare is the mean width of a letter over the size of the font.
	letterShare = 0.55
)

// measure takes widths and names from a table.
func (c *columns) measure(t *desk.Table) {
	size := fynetheme.Size(fynetheme.SizeNameText)
	letter := letterShare * size
	of := sized(size, fyne.TextStyle{})
	caption := sized(fynetheme.Size(fynetheme.SizeNameCaptionText), fyne.TextStyle{Bold: true})
	pad := 2*fynetheme.Size(fynetheme.SizeNameInnerPadding) + 1
	c.natural, c.least = make([]float32, len(t.Columns)), make([]float32, len(t.Columns))
	c.words, c.names, c.rest = make([]bool, len(t.Columns)), nil, nil
	c.heads = make([]string, len(t.Columns))
	for k, column := range t.Columns {
		c.heads[k] = column.Head
		if column.Right {
			c.heads[k] = halved(column.Head)
		}
		width := headWidth(c.heads[k], caption)
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
			c.least[k] = min(width, max(letters*letter, headWidth(c.heads[k], caption))) + pad
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

// setRoom chooses between one line and two; it reports whether that changed.
func (c *columns) setRoom(width float32) (changed bool) {
	was := c.stacked
	sum := c.lead() + scrollBarRoom()
	for _, least := range c.least {
		sum += least
	}
	c.stacked = sum > width && len(c.names) > 0 && len(c.rest) > 0
	return was != c.stacked
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
		out[i] = c.natural[k]
		left -= c.natural[k]
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
			out[i] += min(c.natural[k], left/float32(words))
		}
	}
	return out
}

// shrink takes what is missing from the names, or from the others, each by its
// part of what they can give; it returns what is still missing.
func (c *columns) shrink(widths []float32, of []int, missing float32, names bool) float32 {
	var spare float32
	for i, k := range of {
		if slices.Contains(c.names, k) == names {
			spare += widths[i] - c.least[k]
		}
	}
	if spare <= 0 {
		return missing
	}
	taken := min(missing, spare)
	for i, k := range of {
		if slices.Contains(c.names, k) == names {
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
	high := size.Height / float32(len(lines))
	sign := fynetheme.Size(fynetheme.SizeNameInlineIcon)
	text := objects[0].MinSize().Height
	if len(objects) > 1 {
		text = objects[1].MinSize().Height
	}
	objects[0].Move(fyne.NewPos(fynetheme.Size(fynetheme.SizeNamePadding), (text-sign)/2))
	objects[0].Resize(fyne.NewSquareSize(sign))
	for line, of := range lines {
		x := c.lead()
		for i, width := range c.widths(of, size.Width-x-scrollBarRoom()) {
			if k := of[i] + 1; k < len(objects) {
				objects[k].Move(fyne.NewPos(x, float32(line)*high))
				objects[k].Resize(fyne.NewSize(width, high))
			}
			x += width
		}
	}
}

// MinSize is the toolkit's.
func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
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
