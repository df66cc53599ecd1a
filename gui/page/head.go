package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// head is the head of a column; a tap sorts by it.
type head struct {
	widget.Label
	tapped func()
}

func newHead(tapped func()) *head {
	h := &head{tapped: tapped}
	h.ExtendBaseWidget(h)
	h.Truncation = fyne.TextTruncateEllipsis
	h.SizeName = fynetheme.SizeNameCaptionText
	h.Importance = widget.LowImportance
	h.TextStyle = fyne.TextStyle{Bold: true}
	return h
}

// Tapped sorts.
func (h *head) Tapped(*fyne.PointEvent) { h.tapped() }

// Cursor tells that it can be pressed.
func (h *head) Cursor() desktop.Cursor { return desktop.PointerCursor }
