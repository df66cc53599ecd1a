package page

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// Drawer lists the parts and describes the selected one.
type Drawer struct {
	widget.BaseWidget
	host   Host
	Search *widget.Entry
	list   *rowList
	count  *widget.Label
	Form   *PartForm
	// HidePart and Isolate act on what is selected.
	HidePart, Isolate, ShowAll, Ghost *widget.Button
	rows                              []desk.PartRow
	state                             *desk.State
	at                                desk.Attention
	telling                           bool
	told                              told[drawerOf]
	content                           fyne.CanvasObject
}

// NewDrawer returns an empty drawer.
func NewDrawer(host Host) *Drawer {
	d := &Drawer{host: host, Search: widget.NewEntry(), count: aside(""), Form: NewPartForm(host)}
	d.Search.SetPlaceHolder(phrase.Of("search name, role, group"))
	d.Search.OnChanged = func(string) { d.fill() }
	d.list = newRowList(func() int { return len(d.rows) }, newPartRow, d.fillRow)
	d.list.HideSeparators = true
	d.list.OnSelected = func(id widget.ListItemID) {
		if !d.telling && id < len(d.rows) {
			name := d.rows[id].Name
			host.Look(func(a *desk.Attention) { a.Select(name, false) })
		}
	}
	d.HidePart = widget.NewButton(phrase.Of("Hide"), func() { host.Look((*desk.Attention).HideSelected) })
	d.Isolate = widget.NewButton(phrase.Of("Isolate"), func() { host.Look(func(a *desk.Attention) { a.Isolate(d.state) }) })
	d.ShowAll = widget.NewButton(phrase.Of("Show all"), func() { host.Look((*desk.Attention).ShowAll) })
	d.Ghost = widget.NewButton(phrase.Of("See through"), func() { host.Look((*desk.Attention).ToggleClear) })
	buttons := container.NewGridWithColumns(2,
		hinted(host, d.HidePart, phrase.Of("Hide what is selected; it is still checked")),
		hinted(host, d.Ghost, phrase.Of("Draw what is selected see-through")),
		hinted(host, d.Isolate, phrase.Of("Hide all but what is selected")),
		hinted(host, d.ShowAll, phrase.Of("Show all that is hidden or see-through")))
	split := container.NewVSplit(
		Border(container.NewVBox(d.Search, d.count), nil, nil, nil, d.list),
		Border(buttons, nil, nil, nil, container.NewVScroll(d.Form)),
	)
	split.SetOffset(0.56)
	d.content = split
	d.told.lays = d.content
	d.ExtendBaseWidget(d)
	return d
}

// newPartRow makes a row: show, sign, name, role.
func newPartRow() fyne.CanvasObject {
	name, role := widget.NewLabel(""), widget.NewLabel("")
	name.Truncation, role.Truncation = fyne.TextTruncateEllipsis, fyne.TextTruncateEllipsis
	role.Importance, role.SizeName = widget.LowImportance, fynetheme.SizeNameCaptionText
	check := widget.NewCheck("", nil)
	return container.NewBorder(nil, nil, container.NewHBox(check, container.NewCenter(theme.VerdictMark(""))), nil,
		container.New(nameFirst{}, name, role))
}

func (d *Drawer) fillRow(id widget.ListItemID, o fyne.CanvasObject) {
	if id >= len(d.rows) {
		return
	}
	row := d.rows[id]
	texts := o.(*fyne.Container).Objects[0].(*fyne.Container).Objects
	signs := o.(*fyne.Container).Objects[1].(*fyne.Container).Objects
	name, role := texts[0].(*widget.Label), texts[1].(*widget.Label)
	check := signs[0].(*widget.Check)
	signs[1].(*fyne.Container).Objects[0].(*theme.Mark).SetVerdict(row.Verdict)
	if name.Text != row.Name {
		name.SetText(row.Name)
	}
	if word := phrase.Word(row.Role); role.Text != word {
		role.SetText(word)
	}
	room := o.(*fyne.Container).Objects[0].(*fyne.Container)
	room.Layout.Layout(room.Objects, room.Size())
	check.OnChanged = nil
	if check.Checked == row.Hidden {
		check.SetChecked(!row.Hidden)
	}
	check.OnChanged = func(shown bool) {
		d.host.Look(func(a *desk.Attention) { a.Hide(row.Name, !shown) })
	}
}

// Update shows a state.
func (d *Drawer) Update(s *desk.State, a *desk.Attention) {
	d.state, d.at = s, a.Clone()
	d.fill()
	d.Form.Update(s, a)
	enable(d.HidePart, len(a.Selected) > 0)
	enable(d.Isolate, len(a.Selected) > 0)
	enable(d.Ghost, len(a.Selected) > 0)
	enable(d.ShowAll, len(a.Hidden)+len(a.Clear) > 0)
}

func (d *Drawer) fill() {
	if d.state == nil {
		return
	}
	s, at, search := d.state, d.at, d.Search.Text
	of := drawerOf{idOf(s.Scene), idOf(s.Answers.Fit.Value), idOf(s.Answers.Sound.Value), fmt.Sprint(at.Hidden), search}
	d.told.ask(d.host, "drawer", of, func() func() {
		rows := desk.PartRows(s, &at, search)
		return func() { d.show(rows) }
	})
	d.choose()
}

// drawerOf is what the rows of the drawer are of.
type drawerOf struct {
	scene, fit, sound any // by idOf
	hidden, search    string
}

// show lists parts.
func (d *Drawer) show(rows []desk.PartRow) {
	if !slices.Equal(rows, d.rows) {
		d.rows = rows
		d.list.Refresh()
	}
	say(d.count, countText(len(rows), d.state)+faultText(rows))
	d.choose()
}

// choose marks the selected part.
func (d *Drawer) choose() {
	rows := d.rows
	part := ""
	if len(d.at.Selected) > 0 {
		part = d.at.Selected[0]
	}
	d.telling = true
	defer func() { d.telling = false }()
	if i := slices.IndexFunc(rows, func(r desk.PartRow) bool { return r.Name == part }); i >= 0 {
		d.list.Select(i)
	} else {
		d.list.UnselectAll()
	}
}

// enable enables or disables a button if it is not so already.
func enable(b *widget.Button, on bool) {
	switch {
	case on && b.Disabled():
		b.Enable()
	case !on && !b.Disabled():
		b.Disable()
	}
}

func countText(shown int, s *desk.State) string {
	if s.Scene == nil {
		return ""
	}
	if shown == len(s.Scene.Parts) {
		return phrase.F("%d parts", shown)
	}
	return phrase.F("%d of %d parts", shown, len(s.Scene.Parts))
}

// faultText counts the parts whose mesh is not sound, "" if there are none.
func faultText(rows []desk.PartRow) string {
	n := 0
	for i := range rows {
		if rows[i].Faulty {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return phrase.F(" · %d faulty", n)
}

// CreateRenderer is the toolkit's.
func (d *Drawer) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(d.content) }

// nameFirst lays a name and, flush right, what it is side by side; where the room
// is short the name takes it.
type nameFirst struct{}

// Layout is the toolkit's.
func (nameFirst) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	name, role := objects[0].(*widget.Label), objects[1].(*widget.Label)
	pad := 2 * fynetheme.Size(fynetheme.SizeNameInnerPadding)
	text, small := fynetheme.Size(fynetheme.SizeNameText), fynetheme.Size(fynetheme.SizeNameCaptionText)
	left := min(size.Width, sized(text, fyne.TextStyle{})(name.Text)+pad+1)
	natural := sized(small, fyne.TextStyle{})(role.Text) + pad + 1
	right := min(size.Width-left, natural)
	if right < natural && right < pad+leastRole*small {
		left, right = size.Width, 0
	}
	name.Resize(fyne.NewSize(left, size.Height))
	name.Move(fyne.Position{})
	role.Hidden = right == 0
	role.Resize(fyne.NewSize(right, size.Height))
	role.Move(fyne.NewPos(size.Width-right, 0))
}

// leastRole is the least width of a role, in letters of its size: a shorter rest
// of it tells nothing.
const leastRole = 3

// MinSize is the toolkit's.
func (nameFirst) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return fyne.NewSize(60, size.Height)
}

// shares lays objects side by side, each with its share of the width.
type shares []float32

// Layout is the toolkit's.
func (s shares) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := float32(0)
	for k, o := range objects {
		width := size.Width * s[k]
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(width, size.Height))
		x += width
	}
}

// MinSize is the toolkit's.
func (s shares) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		least := o.MinSize()
		size.Width += least.Width
		size.Height = max(size.Height, least.Height)
	}
	return size
}
