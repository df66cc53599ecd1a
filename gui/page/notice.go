package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Notice is the line above the status that tells what one must know about the
// layout's files, with a button for each thing that can be done. It takes no
// room when there is nothing to tell.
type Notice struct {
	widget.BaseWidget
	text    *widget.Label
	buttons *fyne.Container
	content fyne.CanvasObject
	act     func(desk.Act)
	shown   desk.Notice
}

// NewNotice returns an empty line.
func NewNotice(act func(desk.Act)) *Notice {
	n := &Notice{text: widget.NewLabel(""), buttons: container.NewHBox(), act: act}
	n.text.Wrapping = fyne.TextWrapWord
	n.text.Importance = widget.WarningImportance
	n.text.TextStyle.Bold = true
	icon := widget.NewIcon(theme.WarningIcon())
	n.content = container.NewVBox(widget.NewSeparator(), container.NewBorder(nil, nil, icon, container.NewCenter(n.buttons), n.text))
	n.ExtendBaseWidget(n)
	n.Hide()
	return n
}

// Update shows a notice.
func (n *Notice) Update(to desk.Notice) {
	if to.Text == n.shown.Text && slices.Equal(to.Acts, n.shown.Acts) {
		return
	}
	n.shown = to
	n.text.SetText(to.Text)
	n.buttons.Objects = nil
	for _, a := range to.Acts {
		n.buttons.Add(widget.NewButton(a.String(), func() { n.act(a) }))
	}
	n.Hidden = to.Text == ""
	n.Refresh()
}

// Text returns the sentence shown.
func (n *Notice) Text() string { return n.text.Text }

// CreateRenderer is the toolkit's.
func (n *Notice) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(n.content) }
