package page

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Editor edits everything that a layout says: its parts at the left, the open
// one as a form.
type Editor struct {
	widget.BaseWidget
	host     Host
	ed       desk.Editor
	state    *desk.State
	Tree     *widget.Tree
	way      *fyne.Container // to the open object
	title    *widget.Label
	help     *widget.Label
	fault    *widget.Label
	form     *fyne.Container
	scroll   *container.Scroll
	buttons  *fyne.Container
	lines    []*line
	shown    []key // of the lines
	doc      *layout.Document
	selected string // part in the scene
	telling  bool
	content  fyne.CanvasObject
}

// key tells whether a line can stay when the form changes.
type key struct {
	kind  desk.ItemKind
	path  string
	given bool
}

// NewEditor returns the editor of whatever layout is open.
func NewEditor(host Host) *Editor {
	p := &Editor{host: host, title: heading(""), help: aside(""), fault: sentence()}
	p.fault.Importance = widget.DangerImportance
	p.fault.Hide()
	p.Tree = widget.NewTree(
		func(id widget.TreeNodeID) []widget.TreeNodeID { return p.ed.Nodes(id) },
		func(id widget.TreeNodeID) bool { return id == "" || len(p.ed.Nodes(id)) > 0 },
		func(bool) fyne.CanvasObject {
			l := widget.NewLabel("")
			l.Truncation = fyne.TextTruncateEllipsis
			return l
		},
		func(id widget.TreeNodeID, _ bool, o fyne.CanvasObject) {
			if l, text := o.(*widget.Label), p.ed.NodeLabel(id); l.Text != text {
				l.SetText(text)
			}
		})
	p.Tree.HideSeparators = true
	p.Tree.OnSelected = func(id widget.TreeNodeID) {
		if !p.telling {
			p.Open(desk.NodePath(id))
		}
	}
	p.way, p.form, p.buttons = container.NewHBox(), container.NewVBox(), container.NewHBox()
	p.scroll = container.NewVScroll(container.NewPadded(p.form))
	leave := widget.NewButton(phrase.Of("Back to the answers"), host.CloseEditor)
	top := container.NewVBox(container.NewBorder(nil, nil, nil, leave, container.NewHScroll(p.way)), p.title, p.help, p.fault)
	right := container.NewBorder(top, container.NewHScroll(p.buttons), nil, nil, p.scroll)
	split := container.NewHSplit(p.Tree, right)
	split.SetOffset(treeShare)
	p.content = split
	p.ExtendBaseWidget(p)
	return p
}

// treeShare is the share of the width that the list of the layout's parts takes.
const treeShare = 0.3

// Open shows an object or a list of the layout.
func (p *Editor) Open(path string) {
	p.ed.Open(path)
	p.doc = nil
	p.scroll.ScrollToTop()
	p.Refill()
	if name := p.ed.PartAt(); name != "" && name != p.selected {
		p.selected = name
		p.host.Look(func(a *desk.Attention) { a.Select(name, false) })
	}
}

// Update shows a state; a part that was selected elsewhere is opened where one is
// open.
func (p *Editor) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	if s.Doc != p.doc {
		p.Refill()
	}
	name := ""
	if len(a.Selected) > 0 {
		name = a.Selected[0]
	}
	if name != p.selected {
		p.selected = name
		if path := desk.PathOfPart(s.Doc, name); path != "" && p.ed.PartAt() != "" && p.ed.PartAt() != name {
			p.Open(path)
		}
	}
}

// Leave lets the state go: the editor goes out of sight.
func (p *Editor) Leave() { p.state = nil }

// Refill brings the form in step with what is typed and what the layout says.
func (p *Editor) Refill() {
	if p.state == nil {
		return
	}
	f := p.ed.Form(p.state)
	if p.doc != p.state.Doc {
		p.doc = p.state.Doc
		p.Tree.Refresh()
	}
	p.telling = true
	defer func() { p.telling = false }()
	p.head(&f)
	now := make([]key, len(f.Items))
	for i := range f.Items {
		now[i] = key{f.Items[i].Kind, f.Items[i].Path, f.Items[i].Given}
	}
	if !slices.Equal(now, p.shown) {
		p.shown = now
		p.build(f.Items)
	}
	for i := range p.lines {
		p.lines[i].show(&f.Items[i])
	}
}

// head shows what is open, the way to it and what can be done with it.
func (p *Editor) head(f *desk.Form) {
	p.title.SetText(f.Title)
	say(p.help, f.Help)
	say(p.fault, f.Fault)
	p.way.Objects = nil
	for _, c := range f.Above {
		b := widget.NewButton(c.Label+"  ›", func() { p.Open(c.Path) })
		b.Importance = widget.LowImportance
		p.way.Add(b)
	}
	node := desk.NodeOf(f.Path)
	for _, c := range f.Above {
		p.Tree.OpenBranch(desk.NodeOf(c.Path))
	}
	p.Tree.Select(node)
	p.buttons.Objects = nil
	button := func(says, tells string, does func()) *widget.Button {
		b := widget.NewButton(says, does)
		p.buttons.Add(hinted(p.host, b, tells))
		return b
	}
	if f.Draft {
		button(phrase.Of("Add it"), phrase.Of("Put the new item into its list, as an edit"), p.addDraft).Importance = widget.HighImportance
		button(phrase.Of("Give it up"), phrase.Of("Forget the new item"), p.drop)
	} else if f.Item {
		list := desk.NodeOf(f.Above[len(f.Above)-1].Path)
		button(phrase.Of("Copy"), phrase.Of("Begin a new item that says the same"), func() { p.draft(list, f.Path) })
		if n := len(p.ed.Named()); n > 0 {
			button(desk.TakeOutText(n), phrase.Of("Take the item out with all that names it, as one edit"), p.takeOutAll)
		} else {
			button(phrase.Of("Take out"), phrase.Of("Take the item out of its list, as an edit"), func() { p.takeOut(f.Path) })
		}
		button(phrase.Of("Up"), phrase.Of("Put the item before the one above it"), func() { p.shift(f.Path, -1) })
		button(phrase.Of("Down"), phrase.Of("Put the item behind the one below it"), func() { p.shift(f.Path, +1) })
	}
	if p.ed.Unsaid() && !f.Draft {
		button(phrase.Of("Forget what is typed"), phrase.Of("Show what the layout says again"), p.drop)
	}
	p.buttons.Refresh()
}

func (p *Editor) drop() {
	p.ed.Drop()
	p.doc, p.shown = nil, nil
	p.Refill()
}

// draft opens a new item of a list, like another one or empty.
func (p *Editor) draft(list, like string) {
	p.ed.Draft(list, like)
	p.doc, p.shown = nil, nil
	p.scroll.ScrollToTop()
	p.Refill()
}

// typed takes in what is typed and has it checked.
func (p *Editor) typed(path string, texts []string) {
	if p.telling {
		return
	}
	fault := p.ed.Type(path, texts)
	if fault == "" {
		p.ed.NoDoubt()
		if all := p.ed.All(); len(all) > 0 {
			p.host.Check(all, func(err error) {
				p.ed.NoDoubt()
				p.ed.DoubtTyped(err)
				p.Refill()
			})
		}
	}
	p.Refill()
}

// done puts what is typed in a field into the layout.
func (p *Editor) done(path string) {
	if tries := p.ed.Tries(path); len(tries) > 0 && !p.telling {
		p.change(p.ed.EditName(path), tries)
	}
}

// addDraft puts a new item into its list.
func (p *Editor) addDraft() {
	c, ok := p.ed.AddDraft()
	if !ok {
		p.Refill()
		return
	}
	p.change("add "+p.ed.EditName(c.Path), [][]desk.Change{{c}})
}

func (p *Editor) takeOut(path string) {
	p.ed.Forget(path)
	p.change(phrase.Of("take out ")+p.ed.EditName(path), [][]desk.Change{{{Path: path}}})
}

// takeOutAll takes out the open item with all that names it.
func (p *Editor) takeOutAll() {
	name := phrase.Of("take out ") + p.ed.EditName(p.ed.At()) + phrase.Of(" with what names it")
	changes := p.ed.TakeOutAll()
	p.ed.Forget(p.ed.At())
	p.change(name, [][]desk.Change{changes})
}

// shift moves an item up or down in its list.
func (p *Editor) shift(path string, by int) {
	if c, ok := p.ed.Shift(path, by); ok {
		p.change("reorder "+p.ed.EditName(path), [][]desk.Change{{c}})
	}
}

// change asks for an edit and shows how it ended.
func (p *Editor) change(name string, tries [][]desk.Change) {
	p.host.Change(name, tries, func(s *desk.State, made int, err error) {
		p.state = s
		p.ed.See(s.Doc)
		if err != nil {
			p.ed.Told(nil, err)
		} else {
			p.ed.Told(tries[made], nil)
		}
		p.doc = nil
		p.Refill()
	})
}

// CreateRenderer is the toolkit's.
func (p *Editor) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
