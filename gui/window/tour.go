package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/phrase"
	"aftbay/gui/settings"
)

// offerTour starts the tour at the first start, and never again.
func (w *Window) offerTour() {
	if w.o.SettingsDir != "" && !w.o.Remembered.TourSeen {
		w.startTour()
	}
}

// startTour shows the first card; without a layout there is nothing to show.
func (w *Window) startTour() {
	if w.state.Open {
		w.tour.Start()
	}
}

// tourEnded remembers that the tour was seen, or skipped.
func (w *Window) tourEnded() {
	w.o.Remembered.TourSeen = true
	w.o.beside(func() { w.keepSettings(func(s *settings.Settings) { s.TourSeen = true }) })
}

// tourCard shows what a card speaks of.
func (w *Window) tourCard(c *desk.Card) {
	w.endEditor()
	w.Look(func(a *desk.Attention) { c.Look(&w.state, a) })
	at := w.attention()
	if from, to, sizeMM, ok := desk.FindingView(&w.state, at.Finding); ok {
		w.Fly(page.Flight{From: from, To: to, SizeMM: sizeMM})
	} else if len(at.Selected) > 0 {
		w.Fly(page.Flight{Parts: at.Selected})
	} else {
		w.flyBack()
	}
}

// showHowMade tells how the numbers are made.
func (w *Window) showHowMade() {
	rows := container.NewVBox()
	all := ""
	for _, m := range desk.HowMade() {
		title, text := widget.NewLabel(m.Title), widget.NewLabel(m.Text)
		title.TextStyle.Bold, title.SizeName = true, fynetheme.SizeNameSubHeadingText
		text.Wrapping = fyne.TextWrapWord
		rows.Add(title)
		rows.Add(text)
		all += m.Title + "\n" + m.Text + "\n\n"
	}
	w.showCopyable(phrase.Of("How the numbers are made"), rows, all, fyne.NewSize(900, w.win.Canvas().Size().Height))
}
