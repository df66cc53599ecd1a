package page

import (
	"fyne.io/fyne/v2"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/desk"
)

// columns lays out a row: the sign, then one object per column. All rows of a
// grid and its head share it.
type columns struct {
	natural []float32 // as wide as the widest text
	least   []float32
	text    float32 // size of letters for which these hold
}

const (
	// measuredRows is how many rows are looked at for the widths; the first ones
	// are the ones read.
	measuredRows = 300
	// widestLetters and fewestLetters bound a column of words, in letters.
	widestLetters, fewestLetters = 26, 7
)

// measure takes the widths from a table.
func (c *columns) measure(t *desk.Table) {
	c.text = fynetheme.Size(fynetheme.SizeNameText)
	of := sized(c.text, fyne.TextStyle{})
	caption := sized(fynetheme.Size(fynetheme.SizeNameCaptionText), fyne.TextStyle{Bold: true})
	pad := 2*fynetheme.Size(fynetheme.SizeNameInnerPadding) + 1
	c.natural, c.least = make([]float32, len(t.Columns)), make([]float32, len(t.Columns))
	for k, column := range t.Columns {
		width := caption(column.Head)
		for _, r := range t.Rows[:min(len(t.Rows), measuredRows)] {
			width = max(width, of(r.Cells[k]))
		}
		c.natural[k], c.least[k] = width+pad, width+pad
		if !column.Right {
			c.natural[k] = min(c.natural[k], widestLetters*c.text*0.55+pad)
			c.least[k] = min(c.natural[k], fewestLetters*c.text*0.55+pad)
		}
	}
}

// widths shares out a width: each column its natural one; what is missing is
// taken from those of words, what is left over goes to them.
func (c *columns) widths(room float32) []float32 {
	sum, spare := float32(0), float32(0)
	words := 0
	for k := range c.natural {
		sum += c.natural[k]
		spare += c.natural[k] - c.least[k]
		if c.least[k] < c.natural[k] {
			words++
		}
	}
	out := append([]float32(nil), c.natural...)
	for k := range out {
		give := c.natural[k] - c.least[k]
		switch {
		case give == 0:
		case sum > room:
			out[k] -= give * min(1, (sum-room)/spare)
		default:
			out[k] += min(c.natural[k], (room-sum)/float32(words))
		}
	}
	return out
}

func (c *columns) sign() float32 { return fynetheme.Size(fynetheme.SizeNameInlineIcon) }

// Layout is the toolkit's.
func (c *columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) == 0 {
		return
	}
	sign, pad := c.sign(), fynetheme.Size(fynetheme.SizeNamePadding)
	objects[0].Move(fyne.NewPos(pad, (size.Height-sign)/2))
	objects[0].Resize(fyne.NewSquareSize(sign))
	x := sign + 2*pad
	widths := c.widths(size.Width - x)
	for k, o := range objects[1:] {
		if k >= len(widths) {
			return
		}
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(widths[k], size.Height))
		x += widths[k]
	}
}

// MinSize is the toolkit's.
func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(c.sign()+2*fynetheme.Size(fynetheme.SizeNamePadding), c.sign())
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	for _, least := range c.least {
		size.Width += least
	}
	return size
}
