package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Status is the line at the bottom of the window: what stops us most, what is
// being computed, and a way to stop it.
type Status struct {
	widget.BaseWidget
	text, note *widget.Label
	bar        *widget.ProgressBar
	Button     *widget.Button
	cancelled  bool
	says, hint string // the status; what is under the pointer, instead of it
	content    fyne.CanvasObject
}

// NewStatus returns an empty line.
func NewStatus(cancel, resume func()) *Status {
	s := &Status{text: widget.NewLabel(""), note: widget.NewLabel(""), bar: widget.NewProgressBar()}
	s.text.Truncation = fyne.TextTruncateEllipsis
	s.note.Importance = widget.LowImportance
	s.bar.TextFormatter = func() string { return "" }
	s.Button = widget.NewButton(phrase.Of("Cancel"), func() {
		if s.cancelled {
			resume()
		} else {
			cancel()
		}
	})
	s.bar.Hide()
	s.Button.Hide()
	right := container.NewHBox(s.note, container.NewGridWrap(fyne.NewSize(90, s.Button.MinSize().Height), s.bar), s.Button)
	s.content = container.NewBorder(nil, nil, nil, right, s.text)
	s.ExtendBaseWidget(s)
	return s
}

// Text returns the sentence shown.
func (s *Status) Text() string { return s.text.Text }

// Update shows a state.
func (s *Status) Update(st *desk.State) {
	s.says = st.Status
	if s.hint == "" && s.text.Text != st.Status {
		s.text.SetText(st.Status)
	}
	share, running := st.Share()
	s.note.Hidden = large() // the tile says it
	if note := st.Job(); s.note.Text != note {
		s.note.SetText(note)
	}
	if s.bar.Value != share {
		s.bar.SetValue(share)
	}
	s.cancelled = !running && st.Cancelled()
	s.bar.Hidden = !running
	text := phrase.Of("Cancel")
	if s.cancelled {
		text = phrase.Of("Compute")
	}
	if s.Button.Text != text {
		s.Button.SetText(text)
	}
	if shown := running || s.cancelled; shown == s.Button.Hidden {
		s.Button.Hidden = !shown
		s.Button.Refresh()
		s.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (s *Status) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.content) }

// Hint says what is under the pointer, "" for the status again.
func (s *Status) Hint(text string) {
	s.hint = text
	if text == "" {
		text = s.says
	}
	if s.text.Text != text {
		s.text.SetText(text)
	}
}

// Say shows a text until the next state.
func (s *Status) Say(text string) { s.text.SetText(text) }
