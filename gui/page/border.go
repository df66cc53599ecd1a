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
