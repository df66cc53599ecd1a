package window

import (
	"fyne.io/fyne/v2"
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
	w.room.Objects = []fyne.CanvasObject{w.editor}
	w.room.Refresh()
	at := w.attention()
	w.editor.Update(&w.state, &at)
	w.editor.Open(path)
}

// pageOf lays out the page of a question over the way to what it is about.
func (w *Window) pageOf(q desk.Question) fyne.CanvasObject {
	return container.NewBorder(nil, w.links, nil, nil, container.NewScroll(page.ClearOfBar(w.pages[q])))
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
