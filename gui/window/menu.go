package window

import (
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/phrase"
	"aftbay/gui/theme"
)

// menu is the main menu and the items that change.
type menu struct {
	main                     *fyne.MainMenu
	undo, redo, save, saveAs *fyne.MenuItem
	export, pack, review     *fyne.MenuItem
	recent, aside            *fyne.MenuItem
	keep, revisions          *fyne.MenuItem
	ghost, shells, group     *fyne.MenuItem
	grips                    *fyne.MenuItem
	drawer                   *fyne.MenuItem
	looks                    [3]*fyne.MenuItem
}

func (m *menu) make(w *Window) *fyne.MainMenu {
	m.main = fyne.NewMainMenu(m.file(w), m.edit(w), m.view(w), sceneMenu(w), m.help(w))
	for _, menu := range m.main.Items {
		for _, i := range menu.Items {
			if i != m.undo && i != m.redo && !i.IsQuit {
				w.waitForDialogs(i)
			}
		}
	}
	return m.main
}

// control returns the shortcut of Control and a key, with Shift if asked.
func control(key fyne.KeyName, more fyne.KeyModifier) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault | more}
}

func item(label string, shortcut fyne.Shortcut, action func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(label, action)
	i.Shortcut = shortcut
	return i
}

func (m *menu) file(w *Window) *fyne.Menu {
	m.save = item(phrase.Of("Save"), control(fyne.KeyS, 0), w.save)
	m.saveAs = item(phrase.Of("Save as…"), control(fyne.KeyS, fyne.KeyModifierShift), w.saveAs)
	m.pack = item(phrase.Of("Save as packed file…"), nil, w.savePacked)
	m.export = item(phrase.Of("Export packet…"), control(fyne.KeyE, 0), w.exportPacket)
	items := []*fyne.MenuItem{item(phrase.Of("Open layout folder…"), control(fyne.KeyO, 0), w.askForLayout), item(phrase.Of("Open packed file…"), control(fyne.KeyO, fyne.KeyModifierShift), w.askForPacked)}
	if w.o.Demo != nil {
		demo := fyne.NewMenuItem(phrase.Of("Open demo"), nil)
		demo.ChildMenu = fyne.NewMenu("")
		for _, v := range w.o.Variants {
			demo.ChildMenu.Items = append(demo.ChildMenu.Items, fyne.NewMenuItem(v, func() { w.afterSaving(func() { w.OpenDemo(v) }) }))
		}
		items = append(items, demo)
	}
	items = append(items, item(phrase.Of("Parts from STL files…"), control(fyne.KeyI, 0), w.askToGather))
	m.recent = fyne.NewMenuItem(phrase.Of("Open again"), nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	m.recall(w)
	items = append(items, m.recent)
	m.aside = item(phrase.Of("Take up edits set aside"), nil, w.takeUp)
	m.keep = item(phrase.Of("Keep a revision…"), control(fyne.KeyR, 0), w.keepRevision)
	m.revisions = item(phrase.Of("Revisions…"), control(fyne.KeyR, fyne.KeyModifierShift), w.showRevisions)
	quit := item(phrase.Of("Quit"), control(fyne.KeyQ, 0), w.askToClose)
	quit.IsQuit = true
	items = append(items, fyne.NewMenuItemSeparator(), m.save, m.saveAs, m.pack, m.export, fyne.NewMenuItemSeparator(), m.keep, m.revisions, m.aside, fyne.NewMenuItemSeparator(), quit)
	return fyne.NewMenu(phrase.Of("File"), items...)
}

func (m *menu) edit(w *Window) *fyne.Menu {
	m.undo = item(phrase.Of("Undo"), &fyne.ShortcutUndo{}, w.undo)
	m.redo = item(phrase.Of("Redo"), &fyne.ShortcutRedo{}, w.redo)
	rules := fyne.NewMenuItem(phrase.Of("Write the built-in rules into the layout"), func() { w.edit(w.desk.WriteRules) })
	m.group = fyne.NewMenuItem(phrase.Of("Move the whole group"), func() {
		m.group.Checked = !m.group.Checked
		m.main.Refresh()
	})
	all := item(phrase.Of("Everything the layout says…"), control(fyne.KeyL, 0), func() { w.Edit(w.editPath()) })
	m.grips = item(phrase.Of("Handles to move and turn"), control(fyne.KeyM, 0), func() {
		m.grips.Checked = !m.grips.Checked
		m.main.Refresh()
		w.grip.draw()
	})
	m.grips.Checked = true
	decisions := fyne.NewMenuItem(phrase.Of("Take in decisions from a findings table…"), w.askForDecisions)
	items := []*fyne.MenuItem{m.undo, m.redo, fyne.NewMenuItemSeparator(), all, m.grips, m.group, fyne.NewMenuItemSeparator()}
	items = append(items, w.placing()...)
	return fyne.NewMenu(phrase.Of("Edit"), append(items, fyne.NewMenuItemSeparator(), rules, decisions)...)
}

// viewNames are the standard views in the order of their keys. Read-only.
var viewNames = []string{phrase.Of("From the corner"), phrase.Of("From the rear"), phrase.Of("From the front"), phrase.Of("From the right"), phrase.Of("From the left"), phrase.Of("From above"), phrase.Of("From below")}

func (m *menu) view(w *Window) *fyne.Menu {
	var items []*fyne.MenuItem
	for i, name := range viewNames {
		items = append(items, fyne.NewMenuItem(name+"  ("+string(rune('1'+i))+")", func() { w.stage.Look(render.View(i)) }))
	}
	items = append(items, fyne.NewMenuItem(phrase.Of("Perspective or parallel  (P)"), func() { w.stage.TypedRune('p') }))
	items = append(items, item(phrase.Of("Fit all  (F)"), control(fyne.KeyF, 0), w.stage.FitAll), fyne.NewMenuItemSeparator())
	m.ghost = item(phrase.Of("Ghost all but the selected"), control(fyne.KeyG, 0), func() { w.toggle(m.ghost, func(a *desk.Attention, on bool) { a.Ghost = on }) })
	m.shells = item(phrase.Of("Bodywork solid"), control(fyne.KeyB, 0), func() { w.toggle(m.shells, func(a *desk.Attention, on bool) { a.Shells = on }) })
	m.drawer = item(phrase.Of("Parts drawer"), control(fyne.KeyD, 0), func() { w.showDrawer(!m.drawer.Checked) })
	m.review = item(phrase.Of("Review on the wall…"), control(fyne.KeyT, 0), w.askToReview)
	items = append(items, m.ghost, m.shells, m.drawer, fyne.NewMenuItemSeparator(), m.review, fyne.NewMenuItemSeparator())
	for q := range w.state.Tiles {
		key := fyne.KeyName(string(rune('1' + q)))
		items = append(items, item(desk.QuestionText(desk.Question(q)), control(key, 0), func() { w.openPage(desk.Question(q)) }))
	}
	items = append(items, fyne.NewMenuItemSeparator())
	for l := range m.looks {
		look := theme.Look(l)
		m.looks[l] = fyne.NewMenuItem(phrase.Of("Look: ")+look.String(), func() { w.setLook(look) })
		m.looks[l].Checked = look == w.o.Look
		items = append(items, m.looks[l])
	}
	return fyne.NewMenu(phrase.Of("View"), items...)
}

func (m *menu) help(w *Window) *fyne.Menu {
	return fyne.NewMenu(phrase.Of("Help"),
		fyne.NewMenuItem(phrase.Of("Keys  (F1)"), w.showKeys),
		fyne.NewMenuItem(phrase.Of("Tour of six cards"), w.startTour),
		fyne.NewMenuItem(phrase.Of("How the numbers are made"), w.showHowMade),
		fyne.NewMenuItem(phrase.Of("Cautions"), func() { w.showText(phrase.Of("Cautions"), desk.Cautions()) }),
		fyne.NewMenuItem(phrase.Of("About aftbay"), func() { w.showText(phrase.Of("About aftbay"), aboutText) }),
	)
}

// update names what undo takes back and greys what cannot be done.
func (m *menu) update(s *desk.State) {
	undo, redo := phrase.Of("Undo"), phrase.Of("Redo")
	if s.Undo != "" {
		undo += " " + s.Undo
	}
	if s.Redo != "" {
		redo += " " + s.Redo
	}
	if m.undo.Label == undo && m.redo.Label == redo && m.save.Disabled != s.Open && m.export.Disabled != s.Open {
		return
	}
	m.undo.Label, m.redo.Label = undo, redo
	m.undo.Disabled, m.redo.Disabled = s.Undo == "", s.Redo == ""
	for _, i := range []*fyne.MenuItem{m.save, m.saveAs, m.pack, m.export, m.review, m.aside, m.keep, m.revisions} {
		i.Disabled = !s.Open
	}
	m.main.Refresh()
}

// recall lists the layouts opened last.
func (m *menu) recall(w *Window) {
	m.recent.ChildMenu.Items = nil
	for _, path := range w.recent() {
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items, fyne.NewMenuItem(w.recentText(path), func() { w.afterSaving(func() { w.Open(path) }) }))
	}
	m.recent.Disabled = len(m.recent.ChildMenu.Items) == 0
	if m.main != nil {
		m.main.Refresh()
	}
}

// recent returns the layouts opened last, but for the one that is open and those
// that are gone, or on a disk that is not there today.
func (w *Window) recent() (paths []string) {
	for _, path := range w.o.Remembered.Recent {
		if _, err := os.Stat(path); err == nil && !(w.state.Open && path == fullPath(w.state.Path)) {
			paths = append(paths, path)
		}
	}
	return paths
}

// recentText names a layout by its title, as far as that is known, and its path.
func (w *Window) recentText(path string) string {
	if v, known := w.o.Remembered.ViewOf(path); known && v.Title != "" {
		return shortTitle(v.Title) + "  (" + shortPath(path) + ")"
	}
	return shortPath(path)
}

// shortTitle returns the beginning of a title that a menu has room for.
func shortTitle(title string) string {
	const most = 40
	if r := []rune(title); len(r) > most {
		return string(r[:most]) + "…"
	}
	return title
}

// shortPath returns the end of a path that a menu has room for.
func shortPath(path string) string {
	const most = 60
	r := []rune(path)
	if len(r) <= most {
		return path
	}
	return "…" + string(r[len(r)-most:])
}

// toggle flips a checked item of the view.
func (w *Window) toggle(i *fyne.MenuItem, set func(a *desk.Attention, on bool)) {
	i.Checked = !i.Checked
	on := i.Checked
	w.Look(func(a *desk.Attention) { set(a, on) })
	w.menu.main.Refresh()
}

// undo takes the last edit back; in a text field what was typed there comes
// first.
func (w *Window) undo() {
	if !w.inField((*widget.Entry).Undo) {
		w.edit(w.desk.Undo)
	}
}

func (w *Window) redo() {
	if !w.inField((*widget.Entry).Redo) {
		w.edit(w.desk.Redo)
	}
}

// inField does one step in the text field that has the focus, if there is one;
// it reports whether the step was the field's. Where a dialog asks, every step
// is.
func (w *Window) inField(step func(*widget.Entry)) bool {
	e, ok := w.win.Canvas().Focused().(*widget.Entry)
	if t, typing := w.win.Canvas().Focused().(*page.Typing); typing {
		e, ok = &t.Entry, true
	}
	if f, of := w.win.Canvas().Focused().(*field); of {
		e, ok = &f.Entry, true
	}
	if !ok {
		return false
	}
	before := e.Text
	step(e)
	return e.Text != before || w.win.Canvas().Overlays().Top() != nil
}

func clearLook(a *desk.Attention) { a.Selected, a.Finding, a.Rank = nil, "", 0 }

// aboutText says what the program is. Read-only.
var aboutText = phrase.Of(`aftbay lays out a rear- or mid-engine powertrain from simple envelopes: what fits, how low it can go, what gets hot near the exhaust, where coils can be mounted, and the packet for the review.

Clearances are exact for the triangles given; heat figures are estimates for comparing positions.`)
