package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// line is one line of the editor's form.
type line struct {
	item   desk.FormItem
	fields []*Typing
	choice *widget.Select
	button *widget.Button
	label  *widget.Label
	help   *widget.Label
	fault  *widget.Label
	all    fyne.CanvasObject
}

// build makes the lines of a form.
func (p *Editor) build(items []desk.FormItem) {
	p.lines = make([]*line, len(items))
	p.form.Objects = nil
	for i := range items {
		l := p.newLine(items[i])
		p.lines[i] = l
		p.form.Objects = append(p.form.Objects, container.New(indent(items[i].Depth), l.all))
	}
	p.form.Refresh()
}

// newLine makes one line; show fills it.
func (p *Editor) newLine(item desk.FormItem) *line {
	l := &line{item: item, label: sentence(), help: aside(item.Help), fault: sentence()}
	l.fault.Importance, l.fault.SizeName = widget.DangerImportance, fynetheme.SizeNameCaptionText
	l.fault.Hide()
	l.help.Hidden = item.Help == ""
	switch item.Kind {
	case desk.FieldLine:
		p.fieldLine(l)
	case desk.SectionLine:
		l.label.TextStyle.Bold = true
		l.button = widget.NewButton(phrase.Of("Give it"), func() {
			p.ed.Give(item.Path)
			p.Refill()
		})
		if item.Given {
			l.button.SetText(phrase.Of("Leave it out"))
			l.button.OnTapped = func() {
				p.takeOut(item.Path)
				p.Refill()
			}
		}
		p.heads(l, phrase.Of("Whether the layout says anything of it at all"))
	case desk.ListLine:
		l.label.TextStyle.Bold = true
		if item.Path != desk.BuiltInRules {
			l.button = widget.NewButton(phrase.Of("Add…"), func() { p.draft(item.Path, "") })
		}
		p.heads(l, phrase.Of("Begin a new item of this list"))
	case desk.ItemLine:
		l.button = widget.NewButton(phrase.Of("Open"), func() { p.Open(item.Path) })
		l.all = container.NewBorder(nil, nil, nil, container.NewVBox(hinted(p.host, l.button, phrase.Of("Edit the item"))), stacked(l.label, l.help))
	case desk.OfferLine:
		l.button = widget.NewButton(phrase.Of("Take over"), func() { p.host.TakeOver(item.Path) })
		l.all = container.NewBorder(nil, nil, nil, container.NewVBox(l.button), stacked(l.label, l.help))
	}
	return l
}

// heads lays out the line over an object or a list.
func (p *Editor) heads(l *line, tells string) {
	var right fyne.CanvasObject
	if l.button != nil {
		right = container.NewVBox(hinted(p.host, l.button, tells))
	}
	l.all = container.NewVBox(widget.NewSeparator(), container.NewBorder(nil, nil, nil, right, stacked(l.label, l.help, l.fault)))
}

// stacked puts texts one under the other without the room between paragraphs.
func stacked(texts ...fyne.CanvasObject) fyne.CanvasObject {
	return container.New(tight(textRims), texts...)
}

// linesOf says how many lines a field shows.
func linesOf(s *field.Spec) int {
	switch s.Kind {
	case field.Lines, field.Long:
		return 3
	case field.Points:
		return 4
	}
	return 1
}

// fieldLine makes the line of a value that is typed or chosen.
func (p *Editor) fieldLine(l *line) {
	path, s := l.item.Path, l.item.Spec
	var entry fyne.CanvasObject
	if s.Kind == field.Choice {
		l.choice = widget.NewSelect(append([]string{noChoice}, s.Choices...), func(chosen string) {
			if p.telling {
				return
			}
			if chosen == noChoice {
				chosen = ""
			}
			p.typed(path, []string{chosen})
			p.done(path)
		})
		entry = l.choice
	} else {
		for range l.item.Texts {
			e := newTyping(linesOf(s), l.item.Options, func(string) { p.typed(path, l.texts()) }, func() { p.finish(path) })
			l.fields = append(l.fields, e)
		}
		entry = l.side()
	}
	if s.Refers == "mesh" && s.Kind == field.Text {
		l.button = widget.NewButton(phrase.Of("File…"), func() { p.bring(l) })
		entry = container.NewBorder(nil, nil, nil, hinted(p.host, l.button, phrase.Of("Choose an STL file; one from elsewhere is copied into the layout's folder")), entry)
	}
	if l.item.Unit != "" {
		unit := widget.NewLabel(l.item.Unit)
		entry = container.NewBorder(nil, nil, nil, container.New(unitRoom{}, unit), entry)
	}
	l.all = container.New(tight(fieldRims), container.New(shares{labelShare, 1 - labelShare}, l.label, container.NewVBox(entry)), l.help, l.fault)
}

// side lays the fields of one value side by side, each under its name.
func (l *line) side() fyne.CanvasObject {
	if len(l.fields) == 1 {
		return l.fields[0]
	}
	row := container.NewGridWithColumns(len(l.fields))
	for k, e := range l.fields {
		name := l.item.Spec.Parts[k]
		if l.item.Spec.Zero {
			name += " 0" // what an empty one means
		}
		e.SetPlaceHolder(name)
		row.Add(e)
	}
	return row
}

// bring asks for a mesh file and names it in the line's field.
func (p *Editor) bring(l *line) {
	path := l.item.Path
	p.host.BringMesh(func(rel string) {
		l.fields[0].SetText(rel)
		p.typed(path, l.texts())
		p.done(path)
	})
}

// finish is called when a field is left or Enter is pressed in it.
func (p *Editor) finish(path string) {
	if p.telling {
		return
	}
	p.done(path)
}

// noChoice is what stands for a choice that is not given; labelShare is the
// share of the width that labels take.
const labelShare = 0.34

// noChoice stands where nothing is chosen. Read-only.
var noChoice = phrase.Of("not given")

func (l *line) texts() []string {
	texts := make([]string, len(l.fields))
	for k, e := range l.fields {
		texts[k] = e.Text
	}
	return texts
}

// show brings the line in step with the form.
func (l *line) show(item *desk.FormItem) {
	l.item = *item
	say(l.fault, item.Fault)
	say(l.help, item.Help)
	if l.label.Text != item.Label {
		l.label.SetText(item.Label)
	}
	if l.choice != nil {
		chosen := item.Texts[0]
		if chosen == "" {
			chosen = noChoice
		}
		if l.choice.Selected != chosen {
			l.choice.SetSelected(chosen)
		}
	}
	for k, e := range l.fields {
		e.options = item.Options
		if len(l.fields) == 1 && e.PlaceHolder != item.Hint {
			e.SetPlaceHolder(item.Hint)
		}
		if e.Text != item.Texts[k] {
			e.SetText(item.Texts[k])
		}
	}
}
