package window

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/phrase"
	"aftbay/gui/review"
	"aftbay/gui/theme"
)

// askToReview asks which findings go on the wall, and in which order.
func (w *Window) askToReview() {
	if !w.state.Open || w.wall != nil {
		return
	}
	which := widget.NewRadioGroup(desk.ReviewChoices, nil)
	which.Required = true
	order := widget.NewSelect(desk.ReviewOrders, nil)
	order.SetSelectedIndex(0)
	count := widget.NewLabel("")
	walk := func() *desk.Review {
		return desk.NewReview(&w.state, which.Selected, order.Selected, w.fit.Keys(), time.Now())
	}
	which.OnChanged = func(string) { count.SetText(desk.SlidesText(walk())) }
	which.SetSelected(desk.ReviewChoices[0])
	said := widget.NewLabel(phrase.Of("It opens in a window of its own: put that on the projector's screen, F fills it. This window stays with you."))
	said.Wrapping = fyne.TextWrapWord
	content := container.NewVBox(which, container.NewBorder(nil, nil, widget.NewLabel(phrase.Of("Order")), nil, order), count, said)
	d := dialog.NewCustomWithoutButtons(phrase.Of("Review on the wall"), container.NewVScroll(content), w.win)
	cancel := w.newAnswer(phrase.Of("Cancel"), d.Hide)
	start := w.newAnswer(phrase.Of("Start"), func() {
		if r := walk(); len(r.Keys) > 0 {
			d.Hide()
			w.startReview(r)
		}
	})
	start.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{cancel, start})
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(560, size.Width*0.9), min(420, size.Height*0.85)))
	w.showClosable(d)
	w.win.Canvas().Focus(start) // Enter or the space bar starts
}

// startReview opens the window of a review.
func (w *Window) startReview(r *desk.Review) {
	done := make(chan struct{})
	host := &reviewHost{w, desk.NewPainter()}
	w.wall = review.New(w.app, host, &w.state, r, func() {
		close(done)
		w.wall = nil
		host.painter = desk.NewPainter() // the old one knows the results that it showed
		// The toolkit loads the letters anew for each wall and keeps them until
		// the look is set.
		w.app.Settings().SetTheme(theme.New(w.o.Look))
	})
	w.wall.Show()
	w.follow(r.Key())
	if w.o.every == 0 {
		return // a test turns the clock
	}
	go func() {
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for {
			select {
			case <-done:
				return
			case <-w.context.Done():
				return
			case <-tick.C:
				w.o.onMain(func() {
					if w.wall != nil {
						w.wall.Tick()
					}
				})
			}
		}
	}()
}

// endReview closes the window of a review, if one is open.
func (w *Window) endReview() {
	if w.wall != nil {
		w.wall.Close()
	}
}

// follow opens the page of a concern and shows what it speaks of.
func (w *Window) follow(key string) {
	c, ok := desk.ConcernOf(&w.state, key)
	if !ok {
		return
	}
	w.openPage(c.Page)
	w.Look(func(a *desk.Attention) { desk.LookAtConcern(a, &c) })
	if from, to, sizeMM, ok := desk.FindingView(&w.state, key); ok {
		w.Fly(page.Flight{From: from, To: to, SizeMM: sizeMM})
	} else if len(c.Parts) > 0 {
		w.Fly(page.Flight{Parts: c.Parts})
	}
}

// reviewHost is what the window of a review asks of the presenter's.
type reviewHost struct {
	*Window
	painter *desk.Painter // of the worker of the pictures
}

func (h *reviewHost) Follow(key string) { h.follow(key) }
func (h *reviewHost) Undo()             { h.edit(h.desk.Undo) }
func (h *reviewHost) Redo()             { h.edit(h.desk.Redo) }
func (h *reviewHost) Now() time.Time    { return time.Now() }

// Decide settles a finding.
func (h *reviewHost) Decide(of layout.Decision, failed func(err error)) { h.Window.Decide(of, failed) }

// Still makes the pictures of a slide beside.
func (h *reviewHost) Still(key string, section, around desk.StillSize, show func(section, around *desk.Still)) {
	s, painter := h.state, h.painter
	h.stills.do("slide", func() {
		cut, err := painter.SectionStill(h.patience(), &s, key, section)
		if err != nil {
			return // the window is going
		}
		if cut == nil { // no finding of two parts: one large picture
			around = section
		}
		where, err := painter.AroundStill(h.patience(), &s, key, around)
		if err != nil {
			return
		}
		h.o.onMain(func() { show(cut, where) })
	})
}
