package window

import (
	"context"
	"os"
	"os/signal"
	"slices"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/patient"
	"aftbay/gui/phrase"
	"aftbay/gui/review"
	"aftbay/gui/settings"
	"aftbay/gui/theme"
	"aftbay/gui/view3d"
)

// Options say how the window starts.
type Options struct {
	Look    theme.Look
	Workers int // of the answers; 0: all processors
	// Demo writes a variant of the demo layout and returns its folder. The first
	// variant is the one that opens first. nil: the menu offers no demo.
	Demo     func(variant string) (path string, err error)
	Variants []string
	// SettingsDir is where the window keeps what it remembers, "" for nowhere;
	// Remembered is what it starts with.
	SettingsDir string
	Remembered  settings.Settings
	// Measured: the toolkit's goroutine is measured, see WriteVitals.
	Measured bool
	// Quiet is called beside when nothing has happened for some seconds: the time
	// to give memory back. nil: nothing is.
	Quiet func()

	// For tests; nil and 0: on goroutines, on the toolkit's, 30 times a second.
	beside func(run func())
	onMain func(run func())
	later  func(run func()) // as onMain, without waiting; nil: the view's own way
	ask    func(run func()) // as onMain, but out of turn; nil: onMain
	crew   *patient.Crew    // what nobody waits for; nil: beside
	every  time.Duration
}

// Window is the open window.
type Window struct {
	app  fyne.App
	win  fyne.Window
	desk *desk.Desk
	o    Options

	strip  *page.Strip
	drawer *page.Drawer
	drop   *page.DropBar
	status *page.Status
	notice *page.Notice
	pages  [6]page.Page
	room   *fyne.Container // holds the pages, of which one is open, and the editor
	asking *fyne.Container // the pages over the way to what they are about
	places *fyne.Container // the pages alone
	middle *fyne.Container // holds all, or work where the drawer is put away
	all    *container.Split
	work   *container.Split
	scene  float64 // Bare numbers: share of the scene in work, at the desk
	stage  *stage
	note   *page.Note // over the scene
	reads  *page.Readout
	aids   *page.Aids
	inset  *page.Inset
	corner *fyne.Container // over the upper left corner of the scene

	editing

	// welcome stands over the scene while no layout is open
	welcome  fyne.CanvasObject
	fit      *page.Fit
	tour     *page.Tour
	closable []shownDialog  // by Escape, the last one shown last
	wall     *review.Window // of the review, nil for none
	menu     menu

	context context.Context // ends with the window
	stop    context.CancelFunc
	edits   *worker // what changes the desk, in order
	shows   *worker // what brings it to the screen
	stills  *worker // pictures for slides
	lists   *worker // what pages work out beside
	quiet   quiet
	painter *desk.Painter

	mu sync.Mutex // guards at
	at desk.Attention

	// Of the toolkit's goroutine.
	asked   desk.Question // whose page is shown
	state   desk.State
	picture desk.PictureKey
	named   []string // part of each item in the scene
	shown   *desk.Picture
	path    string // of the layout that is shown
	fitted  string // path of the layout that the scene was last fitted to
	closing bool
	// tourWaits says that a demo was asked for: at the first start the tour comes with it
	tourWaits bool
	opening   *opening   // tells of another layout on its way, nil for none
	carried   *desk.Load // by the pointer, nil for nothing
	glide     *fyne.Animation
	faulty    bool           // a fault of our own has been shown
	ended     atomic.Bool    // the window is going: nothing is shown any more; any goroutine
	before    *render.Camera // from before the first flight on this page
	pulse     *pulse         // nil unless measured
	finding   string         // shown last, "" for none
}

// leastShow is the time between two rounds of showing: 30 a second.
const leastShow = time.Second / 30

// New makes the window; Run shows it.
func New(app fyne.App, o Options) *Window {
	if o.beside == nil {
		o.beside, o.onMain, o.every = beside, oneByOne(onLoopNow(fyne.DoAndWait)), leastShow
		o.ask = onLoop(fyne.DoAndWait)
		o.later, o.crew = onLoop(fyne.Do), patient.NewCrew()
	}
	w := &Window{app: app, o: o, painter: desk.NewPainter(), at: desk.Attention{Measures: true}}
	w.context, w.stop = context.WithCancel(context.Background())
	show := o.onMain
	w.o.onMain = func(run func()) {
		if !w.ended.Load() {
			show(func() { w.timed(run) })
		}
	}
	w.edits, w.shows = newWorker(o.beside, w.guarded), newWorker(o.beside, w.guarded)
	w.stills, w.lists = newWorker(w.patiently, w.guarded), newWorker(o.beside, w.guarded)
	w.quiet = newQuiet(quietAfter, o.Quiet)
	w.desk = desk.New(o.Workers, w.changed)
	w.win = app.NewWindow("aftbay")
	size := w.startSize()
	w.fitLook(size.Height)
	w.build()
	w.win.SetMainMenu(w.menu.make(w))
	w.win.SetContent(w.content())
	w.win.Resize(size)
	w.win.SetCloseIntercept(w.askToClose)
	w.win.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) { w.dropped(uris) })
	w.addKeys()
	w.changed()
	return w
}

// build makes the parts of the window.
func (w *Window) build() {
	w.strip = page.NewStrip(w.openPage)
	w.drawer = page.NewDrawer(w)
	w.drop = page.NewDropBar(w)
	w.notice = page.NewNotice(w.act)
	w.status = page.NewStatus(w.desk.Cancel, w.desk.Resume)
	w.fit = page.NewFit(w)
	w.pages = [6]page.Page{w.fit, page.NewDrop(w), page.NewSee(w), page.NewHeat(w), page.NewSpots(w), page.NewChanges(w)}
	w.editor, w.links = page.NewEditor(w), page.NewLinks(w)
	view := view3d.New()
	w.stage = &stage{View: view, key: w.sceneKey}
	if w.o.crew != nil {
		view.Beside(func(run func()) { w.o.later(func() { w.timed(run) }) }, beside, w.o.crew.Go)
	}
	view.OnPick = w.picked
	view.OnMenu = w.sceneMenu
	view.Grab, view.OnMove, view.OnDrop = w.grab, w.carryTo, w.putDown
	w.lookOf(w.o.Look)
	w.note, w.reads, w.aids = page.NewNote(), page.NewReadout(), page.NewAids(w)
	w.inset = page.NewInset()
	w.aids.OnCopy, w.aids.OnRemove = w.copyMeasures, w.unmeasure
	view.OnRune = w.sceneRune
	w.grip, w.points = &gripTool{w: w, sketch: page.NewSketch()}, &pointTool{w: w}
	view.SetTools(&measureTool{w: w, ends: desk.NewEnds()}, w.points, w.grip, &cutTool{w: w}, &boxTool{w: w})
	view.OnCamera = func(render.Camera) { w.quiet.stir(); w.grip.draw() }
	view.OnHover = w.hovered
}

// content lays the window out.
func (w *Window) content() fyne.CanvasObject {
	w.newRoom()
	// The upper right corner is the picture's own: its scale or key stands there.
	over := container.NewBorder(nil, container.NewVBox(container.New(page.InsetPlace{}, w.inset), w.note), nil, nil)
	w.corner = container.NewBorder(nil, nil, container.NewVBox(w.aids), nil)
	w.welcome = w.newWelcome()
	w.tour = page.NewTour(w.tourCard, w.tourEnded)
	scene := page.Border(nil, w.drop, nil, nil, container.NewStack(w.stage, w.grip.sketch, over, w.corner, w.reads, w.welcome, container.New(page.TourPlace{}, w.tour)))
	w.work = container.NewHSplit(scene, container.NewPadded(w.room))
	w.all = container.NewHSplit(w.drawer, w.work)
	w.divide()
	w.middle = container.NewStack()
	w.showDrawer(w.o.Look != theme.Review)
	all := page.Border(w.strip, container.NewVBox(w.notice, widget.NewSeparator(), w.status), nil, nil, w.middle)
	watch := &watched{resized: w.grown}
	if !w.o.Measured {
		return container.New(watch, all)
	}
	w.startPulse()
	return container.New(watch, all, newSentry(w.pulse))
}

// showDrawer shows or puts away the parts drawer: a projector needs the room.
func (w *Window) showDrawer(shown bool) {
	w.menu.drawer.Checked = shown
	w.middle.Objects = []fyne.CanvasObject{w.work}
	if shown {
		w.all.Trailing = w.work
		w.middle.Objects = []fyne.CanvasObject{w.all}
	}
	w.middle.Refresh()
	w.menu.main.Refresh()
}

// lookOf sets light, dark or review for the scene.
func (w *Window) lookOf(look theme.Look) {
	o := w.stage.Options()
	o.Dark = look == theme.Dark
	w.stage.SetOptions(o)
}

// Run shows the window and returns when it is closed. Changes that nobody could
// be asked about are rescued, and told to say.
func (w *Window) Run(say func(text string)) {
	rescue := func() {
		if !w.closing {
			w.keepView()
		}
		unsaved := !w.closing && w.desk.State().Unsaved
		switch path, err := w.Rescue(); {
		case unsaved && w.desk.Journaled():
			say(phrase.Of("unsaved edits are in the journal and are offered when the layout is opened next"))
		case err != nil:
			say(phrase.Of("unsaved changes are lost: ") + phrase.Err(err))
		case path != "":
			say(phrase.Of("unsaved changes are kept in ") + path)
		}
	}
	w.app.Lifecycle().SetOnStopped(rescue)
	w.app.Lifecycle().SetOnEnteredForeground(func() { w.o.beside(w.desk.LookAtDisk) })
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(signals)
	go func() {
		<-signals
		w.ended.Store(true)
		w.o.later(w.app.Driver().Quit) // the toolkit does the same once it listens: not yet while the window opens
	}()
	defer func() {
		if fault := recover(); fault != nil {
			rescue()
			panic(fault)
		}
	}()
	w.win.ShowAndRun()
	w.ended.Store(true)
	w.stop()
	_ = w.desk.Close() // the program ends: nobody is left to tell
}

// Window returns the toolkit's window.
func (w *Window) Window() fyne.Window { return w.win }

// changed is the desk's listener: it may be called from anywhere.
func (w *Window) changed() {
	w.quiet.stir()
	w.shows.do("show", func() {
		began := time.Now()
		w.show()
		time.Sleep(w.o.every - time.Since(began))
	})
}

// show fetches the state, composes the picture and brings both to the screen.
func (w *Window) show() {
	s := w.desk.State()
	at := w.attention()
	key := desk.KeyOf(&s, &at)
	var picture *desk.Picture
	if key != w.picture { // only this worker writes it
		p := w.painter.Picture(&s, &at)
		picture, w.picture = &p, key
	}
	w.o.onMain(func() { w.apply(s, at, picture) })
}

// apply lays out a state.
func (w *Window) apply(s desk.State, at desk.Attention, picture *desk.Picture) {
	w.state = s
	w.strip.SetTiles(s.Tiles, at.Page)
	w.drawer.Update(&s, &at)
	if !w.edits.waits(previewKey) {
		w.drop.Update(&s)
	}
	w.status.Update(&s)
	w.notice.Update(s.Notice)
	if s.Open && w.welcome.Visible() {
		w.welcome.Hide()
	}
	if w.asked != at.Page && !w.edited {
		w.showPage(at.Page)
	}
	w.pages[at.Page].Update(&s, &at)
	w.updateLinks(&s, &at)
	if w.edited {
		w.editor.Update(&s, &at)
	}
	w.menu.update(&s)
	if w.wall != nil {
		w.wall.Update(&s)
	}
	title := "aftbay"
	if s.Open {
		title += " - " + s.Title
		switch {
		case s.ReadOnly:
			title += " (read-only)"
		case s.Unsaved:
			title += " (unsaved)"
		}
	}
	if w.win.Title() != title {
		w.win.SetTitle(title)
	}
	if picture != nil {
		w.showPicture(picture)
	}
	if w.shown != nil {
		w.aids.Update(&at, w.shown.Measures)
	}
	w.inset.Update(&s, &at)
	w.leaveFinding(&at)
	w.updateOpening(s.Coming)
	if c := s.Coming; c != nil && c.Draft != nil {
		w.fitTo(c.Path)
	}
	if s.Open && s.Path != w.path {
		w.path = s.Path
		w.menu.recall(w)
		w.fitTo(s.Path)
		if w.tourWaits {
			w.tourWaits = false
			w.offerTour()
		}
	}
	w.grip.draw()
}

func (w *Window) showPicture(p *desk.Picture) {
	o := w.stage.Options()
	if o.Field != p.Field || o.Ground != p.Ground || !slices.Equal(o.Cuts, p.Cuts) {
		o.Field, o.Ground, o.Cuts = p.Field, p.Ground, p.Cuts
		w.stage.SetOptions(o)
	}
	w.named, w.shown = p.Parts, p
	w.stage.SetScene(p.Items)
	w.stage.SetOverlay(p.Overlay)
	w.note.SetText(p.Note)
}

// openPage shows the page of a question.
func (w *Window) openPage(q desk.Question) {
	w.Look(func(a *desk.Attention) { a.Page, a.Finding = q, "" })
	w.flyBack()
	w.endEditor()
	w.showPage(q)
}

func (w *Window) showPage(q desk.Question) {
	if w.asked != q {
		w.pages[w.asked].Leave()
	}
	w.asked = q
	w.showPlace(q)
}
