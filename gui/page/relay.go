package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// relay lays out anew what has come, gone or grown in a page that is shown
// already: the toolkit does not see that an object is no longer hidden. Twice,
// because a text that wraps knows its height only once it has its width.
func relay(o fyne.CanvasObject) {
	for range 2 {
		layOut(o)
	}
}

func layOut(o fyne.CanvasObject) {
	switch o := o.(type) {
	case *fyne.Container:
		if o.Layout != nil {
			o.Layout.Layout(o.Objects, o.Size())
		}
		for _, child := range o.Objects {
			layOut(child)
		}
	case *container.Split:
		o.Refresh()
		layOut(o.Leading)
		layOut(o.Trailing)
	case *container.Scroll:
		o.Refresh()
		layOut(o.Content)
	}
}
