package review

import (
	"context"
	"errors"
	"image"
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// hostSpy is a presenter's window that keeps decisions at once.
type hostSpy struct {
	desk     *desk.Desk
	now      time.Time
	followed []string
	undone   int
	refuse   error
	stills   []string
}

func (h *hostSpy) Decide(of layout.Decision, failed func(err error)) {
	err := h.refuse
	if err == nil {
		err = h.desk.Decide(of)
	}
	if err != nil {
		failed(err)
	}
}
func (h *hostSpy) Follow(key string) { h.followed = append(h.followed, key) }
func (h *hostSpy) Undo()             { h.undone++ }
func (h *hostSpy) Redo()             {}
func (h *hostSpy) Now() time.Time    { return h.now }
func (h *hostSpy) Still(key string, section, _ desk.StillSize, show func(section, around *desk.Still)) {
	h.stills = append(h.stills, key)
	show(&desk.Still{Image: image.NewRGBA(image.Rect(0, 0, section.WPx, section.HPx)), Caption: "cut"}, nil)
}

// bench opens a review of a block that is 12 mm under a lid where 15 are asked,
// and 8 mm over a tray where 10 are.
func bench(t *testing.T) (*Window, *hostSpy) {
	t.Helper()
	app := test.NewTempApp(t)
	app.Settings().SetTheme(theme.New(theme.Light))
	doc := &layout.Document{
		Title: "Bench",
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl"}, {Name: "tray", Role: "tray", Mesh: "tray.stl"}, {Name: "lid", Role: "deck", Mesh: "lid.stl"},
		},
		Rules: []layout.Rule{{A: "part:block", B: "part:tray", LeastMM: 10, Source: "test"}, {A: "part:block", B: "part:lid", LeastMM: 15, Source: "test"}},
	}
	d := desk.New(2, nil)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := d.Open(context.Background(), fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 208}, geom.Vec{1900, 200, 600}),
		"tray.stl":  plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
	})); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	if err := d.Wait(ctx); err != nil {
		t.Fatal(err)
	}
	h := &hostSpy{desk: d, now: time.Date(2027, 1, 31, 9, 0, 0, 0, time.UTC)}
	s := d.State()
	w := New(app, h, &s, desk.NewReview(&s, desk.ReviewChoices[0], desk.ReviewOrders[0], nil, h.now), func() {})
	w.Show()
	t.Cleanup(w.Close)
	if len(w.review.Keys) != 2 {
		t.Fatalf("slides: %q", w.review.Keys)
	}
	return w, h
}

// press sends a key as the canvas does, runes what is typed.
func (w *Window) press(keys ...fyne.KeyName) {
	for _, k := range keys {
		if f, ok := w.win.Canvas().Focused().(*field); ok {
			f.TypedKey(&fyne.KeyEvent{Name: k})
			continue
		}
		w.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: k})
	}
}

func (w *Window) runes(text string) {
	for _, r := range text {
		if f, ok := w.win.Canvas().Focused().(*field); ok {
			f.TypedRune(r)
			continue
		}
		w.win.Canvas().OnTypedRune()(r)
	}
}

func TestKeysGoThroughTheSlides(t *testing.T) {
	w, h := bench(t)
	if w.slide.title.Text.Text != "block to tray" && w.slide.title.Text.Text != "block to lid" {
		t.Errorf("title %q", w.slide.title.Text.Text)
	}
	h.now = h.now.Add(time.Minute)
	w.press(fyne.KeyRight)
	if w.review.At != 1 || w.slide.place.Text.Text != "2 of 2" || len(h.followed) != 1 || h.followed[0] != w.review.Key() {
		t.Errorf("slide %d, %q; the presenter's window follows %q", w.review.At, w.slide.place.Text.Text, h.followed)
	}
	w.press(fyne.KeySpace)
	if !w.slide.content.Hidden || w.summary.content.Hidden {
		t.Error("no summary after the last slide")
	}
	w.press(fyne.KeyHome, fyne.KeyEnd, fyne.KeyPageUp)
	if w.review.At != 1 {
		t.Errorf("at %d", w.review.At)
	}
	w.runes("1")
	w.press(fyne.KeyReturn)
	if w.review.At != 0 {
		t.Errorf("a number and Enter: at %d", w.review.At)
	}
	w.runes("t")
	if !w.review.Resting() || !strings.Contains(w.slide.clock.Text.Text, "rests") {
		t.Errorf("clock %q", w.slide.clock.Text.Text)
	}
	w.runes("f")
	if !w.win.FullScreen() {
		t.Error("F does not fill the screen")
	}
	w.press(fyne.KeyEscape)
	if w.win.FullScreen() {
		t.Error("Escape does not give the screen back")
	}
	w.runes("?")
	w.press(fyne.KeyEscape)
	if !w.help.Hidden {
		t.Error("Escape does not put the keys away")
	}
	if len(h.stills) < 2 || w.slide.section.Image == nil || w.slide.caption.Text.Text != "cut" {
		t.Errorf("pictures asked for: %q", h.stills)
	}
}

// Words that come faster than the layout takes them build on each other; one
// that is refused leaves what was before.
func TestDecisionsComeFasterThanStates(t *testing.T) {
	w, h := bench(t)
	before := h.desk.State()
	w.runes("rwAda ")
	w.Update(&before) // of before the edit
	w.press(fyne.KeyReturn)
	w.Update(&before)
	w.runes("d2027-03-01")
	w.press(fyne.KeyReturn)
	s := h.desk.State()
	w.Update(&s)
	key := w.review.Key()
	want := layout.Decision{Finding: key, State: "rejected", Owner: "Ada", Due: "2027-03-01"}
	if got := desk.DecisionOf(s.Doc, key); !desk.SameDecision(got, want) || !desk.SameDecision(w.slide.bar.is, want) || w.slide.bar.asked != nil {
		t.Errorf("kept %+v, shown %+v", got, w.slide.bar.is)
	}
	w.runes("a") // and undone at once, so that no state ever has it
	if err := h.desk.Undo(); err != nil {
		t.Fatal(err)
	}
	s = h.desk.State()
	w.Update(&s)
	for range mostTicks + 1 {
		w.Tick()
	}
	if w.slide.bar.is.State != "rejected" {
		t.Errorf("a decision that was undone at once stays shown: %+v", w.slide.bar.is)
	}
	h.refuse = errors.New("the layout is read-only")
	w.runes("c")
	if w.slide.bar.is.State != "rejected" || !strings.Contains(w.slide.bar.fault.Text.Text, "read-only") {
		t.Errorf("refused: shown %+v, said %q", w.slide.bar.is, w.slide.bar.fault.Text.Text)
	}
}

func TestDecisionIsTypedLive(t *testing.T) {
	w, h := bench(t)
	key := w.review.Key()
	now := func() layout.Decision {
		s := h.desk.State()
		w.Update(&s)
		return desk.DecisionOf(s.Doc, key)
	}
	w.runes("a")
	if now().State != "accepted" {
		t.Fatalf("A: %+v", now())
	}
	w.runes("wAda")
	now() // an answer comes in while typing
	w.runes(" L")
	w.press(fyne.KeyReturn)
	if w.slide.bar.is.State != "accepted" { // before a state with it was shown
		t.Error("the next word does not build on the last")
	}
	w.runes("d+2w")
	w.press(fyne.KeyReturn)
	w.runes("nmove it")
	w.press(fyne.KeyReturn)
	want := layout.Decision{Finding: key, State: "accepted", Owner: "Ada L", Due: "2027-02-14", Notes: "move it"}
	if got := now(); !desk.SameDecision(got, want) {
		t.Fatalf("kept %+v", got)
	}
	if w.win.Canvas().Focused() != nil {
		t.Error("Enter leaves the field in the way of the keys")
	}
	w.runes("dsoon")
	w.press(fyne.KeyReturn)
	if !desk.SameDecision(now(), want) || !strings.Contains(w.slide.bar.fault.Text.Text, "2027-01-31") {
		t.Errorf("a bad day: %+v, said %q", now(), w.slide.bar.fault.Text.Text)
	}
	w.press(fyne.KeyEscape, fyne.KeyRight)
	if w.review.At != 1 || w.slide.bar.owner.Text != "" {
		t.Errorf("the next slide has owner %q", w.slide.bar.owner.Text)
	}
	w.press(fyne.KeyEnd)
	if got := strings.Join(w.summary.shown.Rows[0].Cells, "|"); !strings.Contains(got, "accepted|Ada L|2027-02-14|move it") {
		t.Errorf("summary %q", got)
	}
	if len(w.summary.rows.Objects) != 4 || !strings.Contains(w.summary.foot.Text, "1 decided, 0 open, 1 without a word") {
		t.Errorf("%d rows, %q", len(w.summary.rows.Objects), w.summary.foot.Text)
	}
	if err := errors.Join(h.desk.Undo(), h.desk.Undo(), h.desk.Undo(), h.desk.Undo()); err != nil {
		t.Fatal(err)
	}
	if got := now(); !desk.SameDecision(got, layout.Decision{Finding: key}) {
		t.Errorf("four times undone: %+v", got)
	}
}

// Digits are an inch high on any wall picture from 0.9 m width on,
// all text fits its window, and its contrast is 7 at least (WCAG 2.1, 1.4.6).
func TestReadableFromTheBack(t *testing.T) {
	const inchMM, pictureMM = 25.4, 900
	w, _ := bench(t)
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1920, Height: 1080}, {Width: 3840, Height: 2160}} {
		w.win.Resize(size)
		room := w.room.Size()
		for _, f := range w.slide.figures {
			if f.number.Text.Text == "" {
				continue
			}
			digitMM := digitShare * float64(f.number.TextSize) / float64(size.Width) * pictureMM
			if digitMM < inchMM {
				t.Errorf("%v: %q is %.1f mm high", size, f.number.Text.Text, digitMM)
			}
		}
		for _, o := range w.slide.content.Objects {
			text, ok := o.(*canvas.Text)
			if !ok || text.Text == "" {
				continue
			}
			wide := fyne.MeasureText(text.Text, text.TextSize, text.TextStyle).Width
			if wide > text.Size().Width+1 || text.Position().X+text.Size().Width > room.Width+1 {
				t.Errorf("%v: %q is cut: %v wide in %v", size, text.Text, wide, text.Size().Width)
			}
			if ratio := theme.Contrast(text.Color, w.wall.color(fynetheme.ColorNameBackground)); ratio < theme.LeastReviewContrast {
				t.Errorf("%q has a contrast of %.1f", text.Text, ratio)
			}
		}
		if low := w.slide.bar.content.Position().Y + w.slide.bar.content.MinSize().Height; low > room.Height+1 {
			t.Errorf("%v: the decision ends at %v of %v", size, low, room.Height)
		}
	}
}

// digitShare is what the outlines of the bold font say: the height of a zero
// over the size of the letters.
func TestDigitShareIsTheFonts(t *testing.T) {
	f, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	var b sfnt.Buffer
	i, err := f.GlyphIndex(&b, '1') // straight: no overshoot
	if err != nil {
		t.Fatal(err)
	}
	const ppem = 1000
	bounds, _, err := f.GlyphBounds(&b, i, fixed.I(ppem), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(bounds.Max.Y-bounds.Min.Y) / 64 / ppem; math.Abs(got-digitShare) > 0.02 {
		t.Errorf("a digit takes %.3f of the size of its letters, digitShare says %v", got, digitShare)
	}
}
