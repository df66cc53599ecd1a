package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// hinted returns an object that says in the status line what it does while the
// pointer is over it.
func hinted(host Host, o fyne.CanvasObject, says string) fyne.CanvasObject {
	h := &hint{host: host, says: says}
	h.under, _ = o.(desktop.Hoverable)
	h.ExtendBaseWidget(h)
	return container.NewStack(o, h)
}

// hint lies over what it speaks of. It takes the pointer's coming and going,
// and passes it on; taps and keys go to what lies below.
type hint struct {
	widget.BaseWidget
	host  Host
	says  string
	under desktop.Hoverable // nil: it does not care
}

// MouseIn says it.
func (h *hint) MouseIn(e *desktop.MouseEvent) {
	h.host.Hint(h.says)
	if h.under != nil {
		h.under.MouseIn(e)
	}
}

// MouseMoved is passed on.
func (h *hint) MouseMoved(e *desktop.MouseEvent) {
	if h.under != nil {
		h.under.MouseMoved(e)
	}
}

// MouseOut takes it back.
func (h *hint) MouseOut() {
	h.host.Hint("")
	if h.under != nil {
		h.under.MouseOut()
	}
}

// CreateRenderer is the toolkit's.
func (h *hint) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout())
}
