package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// rowList is a list that keeps for itself only the keys it knows: letters, Escape
// and F1 mean what they mean where nothing has the keyboard.
type rowList struct{ widget.List }

func newRowList(length func() int, create func() fyne.CanvasObject, update func(id widget.ListItemID, o fyne.CanvasObject)) *rowList {
	l := &rowList{}
	l.Length, l.CreateItem, l.UpdateItem = length, create, update
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey is the toolkit's, but for Escape and F1.
func (l *rowList) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape || e.Name == fyne.KeyF1 {
		passKey(l, e)
		return
	}
	l.List.TypedKey(e)
}

// TypedRune passes letters on.
func (l *rowList) TypedRune(r rune) { passRune(l, r) }

// passKey gives a key to the window that an object is in.
func passKey(from fyne.CanvasObject, e *fyne.KeyEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(from); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(e)
	}
}

// passRune gives a letter to the window that an object is in.
func passRune(from fyne.CanvasObject, r rune) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(from); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}
