package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Finder narrows and sorts a list: a search as one types, and choices that fold
// out.
type Finder struct {
	widget.BaseWidget
	Search  *searchField
	Open    *widget.Button // folds the choices out
	Only    *widget.Check  // of the part selected in the scene
	count   *widget.Label
	choices [6]*widget.Select
	folds   *fyne.Container
	content fyne.CanvasObject
	change  func()
	folded  func() // the finder has another height
	finder  desk.Finder
	telling bool
}

// What the selects say while they choose nothing. Read-only.
var anyChoice = [6]string{phrase.Of("any verdict"), phrase.Of("any state"), phrase.Of("any role"), phrase.Of("any part"), phrase.Of("any question"), phrase.Of("sort: as it presses")}

// NewFinder returns a finder that tells when it looks for something else.
func NewFinder(host Host, change func()) *Finder {
	f := &Finder{change: change, folded: func() {}, count: aside("")}
	f.count.Wrapping, f.count.Alignment = fyne.TextWrapOff, fyne.TextAlignTrailing
	f.Search = newSearchField(func(text string) {
		f.finder.Search = text
		f.changed()
	})
	f.Open = widget.NewButton(phrase.Of("Narrow ▾"), f.fold)
	f.folds = container.NewGridWithColumns(2)
	for k := range f.choices {
		f.choices[k] = widget.NewSelect([]string{anyChoice[k]}, func(string) { f.chosen(k) })
		f.choices[k].Selected = anyChoice[k]
		f.folds.Add(f.choices[k])
	}
	f.Only = widget.NewCheck(phrase.Of("only the selected part"), func(bool) { f.changed() })
	fold := container.NewVBox(f.folds, f.Only)
	fold.Hide()
	f.folds = fold
	f.content = container.NewVBox(Border(nil, nil, nil, container.NewHBox(f.count, hinted(host, f.Open, phrase.Of("Narrow the list by verdict, state, role or part, and sort it"))), f.Search), fold)
	f.ExtendBaseWidget(f)
	return f
}

func (f *Finder) changed() {
	if !f.telling {
		f.change()
	}
}

// fold shows the choices or puts them away.
func (f *Finder) fold() {
	f.folds.Hidden = !f.folds.Hidden
	f.Open.SetText(phrase.Of("Narrow ▾"))
	if !f.folds.Hidden {
		f.Open.SetText(phrase.Of("Narrow ▴"))
	}
	f.content.Refresh()
	f.Refresh()
	f.folded()
}

// chosen takes a choice over.
func (f *Finder) chosen(k int) {
	value := f.choices[k].Selected
	if f.choices[k].SelectedIndex() <= 0 {
		value = ""
	}
	switch k {
	case 5:
		f.finder.By = max(0, f.choices[k].SelectedIndex())
	default:
		*[]*string{&f.finder.Verdict, &f.finder.State, &f.finder.Role, &f.finder.Part, &f.finder.Question}[k] = value
	}
	f.changed()
}

// SortBy sorts by a column, from 1; the same once more turns the order, and once
// more leaves it as it comes.
func (f *Finder) SortBy(column int) {
	switch {
	case f.finder.By != column:
		f.finder.By, f.finder.Down = column, false
	case !f.finder.Down:
		f.finder.Down = true
	default:
		f.finder.By, f.finder.Down = 0, false
	}
	f.telling = true
	if column := f.finder.By; column < len(f.choices[5].Options) {
		f.choices[5].SetSelectedIndex(column)
	}
	f.telling = false
	f.changed()
}

// Wants returns what is looked for; selected is the part that the scene has
// selected, "" for none.
func (f *Finder) Wants(selected string) desk.Finder {
	out := f.finder
	if f.Only.Checked && selected != "" {
		out.Part = selected
	}
	return out
}

// Tell shows how many rows were found and what a list can be narrowed to. What
// the list has no more stays chosen until it is changed.
func (f *Finder) Tell(found string, c desk.Choices, columns []desk.Column) {
	if f.count.Text != found {
		say(f.count, found)
		relay(f.content)
	}
	var heads []string
	for _, column := range columns {
		heads = append(heads, "sort: "+column.Head)
	}
	f.telling = true
	defer func() { f.telling = false }()
	for k, options := range [][]string{c.Verdicts, c.States, c.Roles, c.Parts, c.Questions, heads} {
		pick := f.choices[k]
		pick.Hidden = len(options) < 2
		options = append([]string{anyChoice[k]}, options...)
		if chosen := pick.Selected; k < 5 && !slices.Contains(options, chosen) {
			options = append(options, chosen)
		}
		if !slices.Equal(options, pick.Options) {
			pick.SetOptions(options)
		}
	}
}

// CreateRenderer is the toolkit's.
func (f *Finder) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(f.content) }

// searchField is an entry that Escape empties.
type searchField struct{ widget.Entry }

func newSearchField(changed func(text string)) *searchField {
	s := &searchField{}
	s.ExtendBaseWidget(s)
	s.SetPlaceHolder(phrase.Of("search"))
	s.OnChanged = changed
	return s
}

// TypedKey is the toolkit's.
func (s *searchField) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		s.SetText("")
	case fyne.KeyF1:
		passKey(s, e)
	default:
		s.Entry.TypedKey(e)
	}
}
