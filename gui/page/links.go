package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Links lead from a page to what it depends on in the layout, in the editor.
type Links struct {
	widget.BaseWidget
	host    Host
	links   []desk.Link
	Buttons []*widget.Button
	row     *fyne.Container
	content fyne.CanvasObject
}

// NewLinks returns an empty row.
func NewLinks(host Host) *Links {
	l := &Links{host: host, row: container.NewHBox()}
	l.content = container.NewHScroll(l.row)
	l.ExtendBaseWidget(l)
	l.Hide()
	return l
}

// Update shows what the open page is about.
func (l *Links) Update(s *desk.State, a *desk.Attention) {
	links := desk.LinksOf(s, a)
	if large() { // nobody edits on a wall; the menu still can
		links = nil
	}
	if slices.Equal(links, l.links) {
		return
	}
	l.links, l.Buttons = links, nil
	l.row.Objects = []fyne.CanvasObject{widget.NewLabel(phrase.Of("Edit"))}
	for _, link := range links {
		b := widget.NewButton(link.Label, func() { l.host.Edit(link.Path) })
		b.Importance = widget.LowImportance
		l.Buttons = append(l.Buttons, b)
		l.row.Add(hinted(l.host, b, phrase.Of("Open it in the editor")))
	}
	l.row.Refresh()
	if len(links) == 0 {
		l.Hide()
	} else {
		l.Show()
	}
}

// CreateRenderer is the toolkit's.
func (l *Links) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.content) }
