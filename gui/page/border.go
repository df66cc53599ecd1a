package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// Border is the toolkit's border container with its objects in the order in
// which they are read, which is the order in which Tab goes through them: top,
// left, middle, right, bottom.
func Border(top, bottom, left, right fyne.CanvasObject, middle ...fyne.CanvasObject) *fyne.Container {
	all := append([]fyne.CanvasObject{top, left}, append(middle, right, bottom)...)
	all = slices.DeleteFunc(all, func(o fyne.CanvasObject) bool { return o == nil })
	return container.New(layout.NewBorderLayout(top, bottom, left, right), all...)
}

// ClearOfBar keeps an object clear of the bar that a scrolling room draws over
// its right edge.
func ClearOfBar(o fyne.CanvasObject) *fyne.Container { return container.New(clearOfBar{}, o) }

type clearOfBar struct{}

// Layout is the toolkit's.
func (clearOfBar) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.Position{})
	objects[0].Resize(fyne.NewSize(size.Width-scrollBarRoom(), size.Height))
}

// MinSize is the toolkit's.
func (clearOfBar) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().Add(fyne.NewSize(scrollBarRoom(), 0))
}
