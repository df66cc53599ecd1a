package window

import (
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"aftbay/geom/layout"
	"aftbay/geom/rearview"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/view3d"
)

// drag moves the pointer from one place of the scene to another with the primary
// button down.
func (b *bench) drag(from, to fyne.Position, keys fyne.KeyModifier) {
	b.stage.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary, Modifier: keys})
	b.stage.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: fyne.Delta{DX: to.X - from.X, DY: to.Y - from.Y}})
	b.stage.MouseUp(&desktop.MouseEvent{})
	b.stage.DragEnd()
	b.run()
}

func TestKeysOfTheScene(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.win.Canvas().Capture()
	b.Look(func(a *desk.Attention) { a.Select("block", false) })
	b.run()
	key := func(r rune) {
		b.stage.TypedRune(r)
		b.run()
	}
	key('g')
	if !b.at.Clear["block"] || !b.shown.Items[slices.Index(b.named, "block")].Ghost {
		t.Error("G does not make the selected part see-through")
	}
	key('g')
	key('i')
	if len(b.at.Clear) != 0 || !b.at.Hidden["lid"] || b.at.Hidden["block"] {
		t.Errorf("see-through %v, hidden %v", b.at.Clear, b.at.Hidden)
	}
	key('a')
	key('H')
	if len(b.at.Hidden) != 1 || !b.at.Hidden["block"] || len(b.at.Selected) != 0 {
		t.Errorf("H: hidden %v, selected %v", b.at.Hidden, b.at.Selected)
	}
	key('a')
	key('c')
	if said := b.note.Text(); !strings.Contains(said, "no finding is selected") || len(b.at.Sections) != 0 {
		t.Errorf("C without a finding: %q, %v", said, b.at.Sections)
	}
	b.Look(func(a *desk.Attention) { a.Finding = b.state.Answers.Fit.Value.Pairs[0].ID })
	key('c')
	key('y')
	if len(b.at.Sections) != 2 || len(b.stage.Options().Cuts) != 2 || !b.aids.Visible() || len(b.aids.Cuts) != 2 {
		t.Fatalf("cuts %+v", b.at.Sections)
	}
	key('n')
	if len(b.at.Sections) != 0 || b.aids.Visible() {
		t.Error("N leaves cuts")
	}
}

func TestCutsAreDraggedAndFlippedInTheScene(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.win.Canvas().Capture()
	b.stage.TypedRune('x')
	b.run()
	was := b.at.Sections[0]
	at, ok := b.stage.LocateAtRim(b.shown.Handles[0].At)
	to, _ := b.stage.Locate(b.shown.Handles[0].At.Add(was.Normal.Mul(40)))
	if !ok {
		t.Fatal("no handle")
	}
	camera := b.stage.Camera()
	b.drag(at, to, 0)
	if moved := b.at.Sections[0].Point.Sub(was.Point).Dot(was.Normal); moved < 39 || moved > 41 || b.stage.Camera() != camera {
		t.Errorf("moved by %v mm, want 40; the camera stays: %v", moved, b.stage.Camera() == camera)
	}
	at, _ = b.stage.LocateAtRim(b.shown.Handles[0].At)
	b.stage.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	if lines := b.reads.Lines(); len(lines) != 3 || !strings.Contains(lines[2], "flip") {
		t.Errorf("over the handle: %q", lines)
	}
	b.stage.Tapped(&fyne.PointEvent{Position: at})
	b.run()
	if b.at.Sections[0].Normal != was.Normal.Mul(-1) {
		t.Error("a click does not flip it")
	}
	line := b.aids.Cuts[0]
	line.At.OnSubmitted("nonsense")
	b.run()
	line.At.OnSubmitted("12 cm")
	b.run()
	if rows := desk.CutRows(&b.at); rows[0].At != "120.00" {
		t.Errorf("typed 12 cm: %+v", rows[0])
	}
	test.Tap(line.Remove)
	b.run()
	if len(b.at.Sections) != 0 {
		t.Error("it is not removed")
	}
}

func TestBoxSelects(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.win.Canvas().Capture()
	b.Look(func(a *desk.Attention) { a.Shells = true })
	b.run()
	size := b.stage.Size()
	all := fyne.NewPos(size.Width-1, size.Height-1)
	b.drag(fyne.NewPos(1, 1), all, fyne.KeyModifierControl)
	if len(b.at.Selected) != len(b.named) {
		t.Errorf("a box around all selects %v of %v", b.at.Selected, b.named)
	}
	b.drag(fyne.NewPos(1, 1), fyne.NewPos(5, 5), fyne.KeyModifierControl)
	if len(b.at.Selected) != 0 {
		t.Errorf("an empty box selects %v", b.at.Selected)
	}
	b.Look(func(a *desk.Attention) { a.Select("lid", false); a.Hide("block", true) })
	b.run()
	b.drag(fyne.NewPos(1, 1), all, fyne.KeyModifierControl|fyne.KeyModifierShift)
	if len(b.at.Selected) != len(b.named)-1 || slices.Contains(b.at.Selected, "block") {
		t.Errorf("added: %v", b.at.Selected)
	}
}

func TestMeasuringByClicks(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.win.Canvas().Capture()
	b.Look(func(a *desk.Attention) { a.Shells = true })
	b.run()
	click := func(part string, keys fyne.KeyModifier) {
		t.Helper()
		i := slices.Index(b.named, part)
		box := b.shown.Items[i].Mesh.Box()
		// The place on the part's own picture nearest to its middle.
		middle, _ := b.stage.Locate(b.shown.Items[i].Pose.Point(box.Center()))
		for _, at := range spiral(middle) {
			b.stage.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary, Modifier: keys})
			b.stage.MouseUp(&desktop.MouseEvent{})
			if hit(b, at) == i {
				b.stage.Tapped(&fyne.PointEvent{Position: at})
				b.run()
				return
			}
		}
		t.Fatalf("%s is not on the picture", part)
	}
	b.stage.TypedRune('m')
	b.run()
	if !strings.HasPrefix(b.note.Text(), "Measure: ") {
		t.Errorf("note %q", b.note.Text())
	}
	click("lid", fyne.KeyModifierControl)
	click("block", fyne.KeyModifierControl)
	b.settle()
	if len(b.state.Doc.Measurements) != 1 || len(b.aids.Lines) != 1 || !b.aids.Visible() {
		t.Fatalf("measurements %+v", b.state.Doc.Measurements)
	}
	test.Tap(b.aids.Lines[0].Copy)
	if text := b.app.Clipboard().Content(); !strings.HasPrefix(text, "1\t12.00 mm\tlid to block\t") {
		t.Errorf("copied %q", text)
	}
	b.stage.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.run()
	if b.at.Measuring {
		t.Error("Escape does not end it")
	}
	b.stage.TypedRune('d')
	b.run()
	if b.aids.Visible() {
		t.Error("D does not hide them")
	}
	b.stage.TypedRune('d')
	b.run()
	test.Tap(b.aids.Lines[0].Remove)
	b.settle()
	if len(b.state.Doc.Measurements) != 0 || b.aids.Visible() {
		t.Error("it is not removed")
	}
	b.undo()
	b.settle()
	if len(b.aids.Lines) != 1 {
		t.Error("undo does not bring it back")
	}
}

// spiral returns places around a middle, the nearest first.
func spiral(middle fyne.Position) []fyne.Position {
	var out []fyne.Position
	for ring := range 40 {
		for k := range 12 {
			s, c := math.Sincos(float64(k) * math.Pi / 6)
			out = append(out, middle.AddXY(float32(6*float64(ring)*c), float32(6*float64(ring)*s)))
		}
	}
	return out
}

// hit returns the item shown at a place, -1 for none.
func hit(b *bench, at fyne.Position) int {
	found, was := -1, b.stage.OnMenu
	b.stage.OnMenu = func(e view3d.Event) {
		if e.Hit {
			found = e.Pick.Item
		}
	}
	b.stage.TappedSecondary(&fyne.PointEvent{Position: at})
	b.stage.OnMenu = was
	return found
}

func TestMirrorInTheCorner(t *testing.T) {
	b := newBench(t)
	b.stage.TypedRune('v')
	b.run()
	if b.inset.Visible() || !strings.Contains(b.note.Text(), "no rear view") {
		t.Errorf("a layout without a rear view: %q", b.note.Text())
	}
	s := b.state
	doc := *s.Doc
	doc.RearView = &layout.RearView{}
	s.Doc = &doc
	a := desk.Attention{}
	if err := a.ToggleMirror(&s); err != nil || !a.Mirror {
		t.Fatal(err)
	}
	pictures := [2]*image.RGBA{image.NewRGBA(image.Rect(0, 0, 30, 10)), image.NewRGBA(image.Rect(0, 0, 30, 10))}
	s.Answers.Seen.Value = &desk.Seen{Result: &rearview.Result{}, Mirror: pictures}
	s.Answers.Seen.Fresh = false
	s.Answers.Seen.Value.Result.Seen.LeftShare, s.Answers.Seen.Value.Result.Seen.RightShare = 0.5, 0.25
	b.inset.Update(&s, &a)
	if !b.inset.Visible() || b.inset.Picture() != image.Image(pictures[0]) || b.inset.Caption() != "Left eye: 50.00 % of the road, computing" {
		t.Errorf("left: %q", b.inset.Caption())
	}
	b.inset.Tapped(nil)
	s.Answers.Seen.Fresh = true
	b.inset.Update(&s, &a)
	if b.inset.Picture() != image.Image(pictures[1]) || b.inset.Caption() != "Right eye: 25.00 % of the road" {
		t.Errorf("right: %q", b.inset.Caption())
	}
	a.Mirror = false
	if b.inset.Update(&s, &a); b.inset.Visible() {
		t.Error("it stays")
	}
}

// A click beside the close-up of a finding leads back out; one on a part stays
// where that part is seen, and elsewhere turns to it.
func TestLeavingAFinding(t *testing.T) {
	b := newBench(t)
	b.settle()
	id := b.state.Answers.Fit.Value.Worst().ID
	closeup := func() render.Camera {
		b.Look(func(a *desk.Attention) { a.Finding = id })
		from, to, sizeMM, ok := desk.FindingView(&b.state, id)
		if !ok {
			t.Fatal("no finding")
		}
		b.Fly(page.Flight{From: from, To: to, SizeMM: sizeMM})
		b.run()
		return b.stage.Camera()
	}
	outside := b.stage.Camera()
	if closeup() == outside {
		t.Fatal("the camera does not move")
	}
	b.picked(view3d.Event{})
	b.run()
	if got := b.stage.Camera(); got != outside {
		t.Errorf("beside the finding the camera stays at %+v", got)
	}
	closeup()
	b.picked(view3d.Event{Hit: true, Pick: render.Pick{Item: slices.Index(b.named, "lid")}})
	b.run()
	at := b.attention()
	if !desk.InSight(&b.state, &at, []string{"lid"}, b.stage.Camera()) {
		t.Errorf("the part that was clicked is hidden from %+v", b.stage.Camera())
	}
}

// While another layout is on its way nothing behind can be edited, and the window
// says that it can be stopped.
func TestOpeningAnotherLayoutIsTold(t *testing.T) {
	b := newBench(t)
	b.Open(writeBench(t, "Other"))
	texts, buttons := b.dialog()
	if !strings.Contains(strings.Join(texts, " "), "Opening another layout") || buttons["Cancel"] == nil {
		t.Fatalf("told %q", texts)
	}
	b.settle()
	if b.win.Canvas().Overlays().Top() != nil || b.win.Title() != "aftbay - Other" {
		t.Errorf("title %q", b.win.Title())
	}
}

// Letters, Escape and F1 work wherever nothing else takes them: after a click in a
// list as with no focus at all, but not behind a dialog.
func TestKeysReachTheScene(t *testing.T) {
	b := newBench(t)
	b.settle()
	list := b.focusList(t)
	b.Look(func(a *desk.Attention) { a.Finding = b.state.Answers.Fit.Value.Worst().ID })
	b.run()
	list.TypedRune('c')
	b.run()
	if len(b.at.Sections) != 1 {
		t.Fatal("c in the list does not cut through the finding")
	}
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.run()
	if b.at.Finding != "" {
		t.Error("Escape in the list leaves the finding")
	}
	b.win.Canvas().OnTypedRune()('n')
	b.run()
	if len(b.at.Sections) != 0 {
		t.Error("n with nothing focused leaves the cuts")
	}
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
	if b.win.Canvas().Overlays().Top() == nil {
		t.Fatal("F1 in the list shows nothing")
	}
	b.win.Canvas().OnTypedRune()('x')
	b.run()
	if len(b.at.Sections) != 0 {
		t.Error("a letter reached the scene behind a dialog")
	}
}

// focusList gives the keyboard to the first list of the open page.
func (b *bench) focusList(t *testing.T) fyne.Focusable {
	t.Helper()
	for range 60 {
		b.win.Canvas().FocusNext()
		f := b.win.Canvas().Focused()
		if _, isList := f.(interface{ ScrollToTop() }); isList {
			return f
		}
	}
	t.Fatal("no list takes the keyboard")
	return nil
}
