package window

import (
	"fyne.io/fyne/v2/container"

	"aftbay/gui/desk"
	"aftbay/gui/page"
)

// checkKey marks the checks of what is being typed among the edits.
const checkKey = "check"

// editShare is the share of the width that the scene keeps beside the editor.
const editShare = 0.4

// editing is the editor of the window.
type editing struct {
	editor  *page.Editor
	edited  bool  // it is open
	divided panes // before that
	grip    *gripTool
	points  *pointTool
	links   *page.Links
}

// panes is how the window was divided before the editor took room.
type panes struct {
	drawer     bool
	sceneShare float64
}

// Edit opens the editor at a path of the layout, beside the scene.
func (w *Window) Edit(path string) {
	if !w.state.Open {
		return
	}
	if !w.edited {
		w.edited = true
		w.divided = panes{w.menu.drawer.Checked, w.work.Offset}
		w.showDrawer(false)
		w.work.SetOffset(editShare)
	}
	w.asking.Hide()
	w.editor.Show()
	at := w.attention()
	w.editor.Update(&w.state, &at)
	w.editor.Open(path)
}

// newRoom lays out the pages and the editor, of which one is shown at a time. All
// of them stay in the window, so that the toolkit lays them out anew when letters
// become larger.
func (w *Window) newRoom() {
	w.places = container.NewStack()
	for _, p := range w.pages {
		w.places.Add(container.NewScroll(page.ClearOfBar(p)))
	}
	w.asking = container.NewBorder(nil, w.links, nil, nil, w.places)
	w.room = container.NewStack(w.asking, w.editor)
	w.editor.Hide()
	w.showPlace(0)
}

// updateLinks shows what the open page is about; the page gives the room for it or
// takes it back.
func (w *Window) updateLinks(s *desk.State, a *desk.Attention) {
	shown := w.links.Visible()
	w.links.Update(s, a)
	if w.links.Visible() != shown {
		w.asking.Layout.Layout(w.asking.Objects, w.asking.Size())
	}
}

// showPlace shows the page of a question and no other.
func (w *Window) showPlace(q desk.Question) {
	for i, place := range w.places.Objects {
		if desk.Question(i) != q {
			place.Hide()
		}
	}
	w.editor.Hide()
	w.places.Objects[q].Show()
	w.asking.Show()
}

// CloseEditor goes back to the open question's page.
func (w *Window) CloseEditor() {
	w.mu.Lock()
	question := w.at.Page
	w.mu.Unlock()
	w.openPage(question)
}

// endEditor gives the room back that the editor took.
func (w *Window) endEditor() {
	if w.edited {
		w.edited = false
		w.editor.Leave()
		w.showDrawer(w.divided.drawer)
		w.work.SetOffset(w.divided.sceneShare)
	}
}

// editPath is where the editor opens from the menu: at what is selected.
func (w *Window) editPath() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.at.Selected) > 0 && w.state.Doc != nil {
		return desk.PathOfPart(w.state.Doc, w.at.Selected[0])
	}
	return ""
}

// Change makes the first set of changes that fits.
func (w *Window) Change(name string, tries [][]desk.Change, done func(s *desk.State, made int, err error)) {
	w.edits.do("", func() {
		made, err := w.desk.ChangeFirst(name, tries)
		s := w.desk.State()
		w.o.onMain(func() { done(&s, made, err) })
	})
}

// Check tells what speaks against changes; of several that wait only the last
// is checked.
func (w *Window) Check(changes []desk.Change, done func(err error)) {
	w.edits.do(checkKey, func() {
		if doc := w.desk.State().Doc; doc != nil {
			err := desk.CheckChanges(doc, changes...)
			w.o.onMain(func() { done(err) })
		}
	})
}

// TakeOver writes a built-in rule into the layout.
func (w *Window) TakeOver(rule string) {
	w.edit(func() error { return w.desk.TakeOver(rule) })
}
