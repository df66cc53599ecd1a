package view3d

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/gui/theme"
)

// cube returns a closed cube of half side halfMM around the origin.
func cube(halfMM float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, c := range (geom.Box{Min: geom.Vec{-halfMM, -halfMM, -halfMM}, Max: geom.Vec{halfMM, halfMM, halfMM}}).Corners() {
		m.Verts = append(m.Verts, c)
	}
	for _, q := range [][4]int32{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}} {
		m.Tris = append(m.Tris, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// bench is a view of one cube in a window, with its jobs held back.
type bench struct {
	*View
	win  fyne.Window
	jobs []func()
}

// newBench shows a cube of 200 mm, 1 mm a unit, seen from behind.
func newBench(t *testing.T) *bench {
	test.NewTempApp(t)
	b := &bench{View: New()}
	b.paint.beside = func(job func()) { b.jobs = append(b.jobs, job) }
	b.paint.onMain = func(f func()) { f() }
	b.paint.restS = 0
	b.SetScene([]render.Item{{Mesh: cube(100), Pose: geom.Identity(), Closed: true, Color: render.Swatch(0)}})
	b.win = test.NewTempWindow(t, b.View)
	b.win.SetPadded(false)
	b.win.Resize(fyne.NewSize(600, 400))
	b.SetCamera(render.Camera{DistMM: 1100, FieldRad: 2 * math.Atan(0.2), Parallel: true}.Look(render.ViewRear))
	b.cam.DistMM = 1000
	b.win.Canvas().Capture()
	return b
}

func (b *bench) press(x, y float32, button desktop.MouseButton, modifier fyne.KeyModifier) {
	at := fyne.PointEvent{Position: fyne.NewPos(x, y), AbsolutePosition: fyne.NewPos(x, y)}
	b.MouseDown(&desktop.MouseEvent{PointEvent: at, Button: button, Modifier: modifier})
}

func near(a, b geom.Vec, tolMM float64) bool { return a.Sub(b).Len() <= tolMM }

func TestClickPicks(t *testing.T) {
	b := newBench(t)
	var got []Event
	b.OnPick = func(e Event) { got = append(got, e) }
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(300, 200))
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(395, 105))
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(420, 200))
	if len(got) != 3 {
		t.Fatalf("%d clicks told, want 3", len(got))
	}
	if !got[0].Hit || got[0].Pick.Item != 0 || !near(got[0].Pick.Point, geom.Vec{100, 0, 0}, 1) {
		t.Errorf("middle: %+v", got[0])
	}
	if !got[1].Hit || !near(got[1].Pick.Point, geom.Vec{100, 95, 95}, 1) {
		t.Errorf("upper right corner: %+v, want (100, 95, 95)", got[1])
	}
	if got[2].Hit {
		t.Errorf("background: %+v", got[2])
	}
	if b.win.Canvas().Focused() != b.View {
		t.Error("a click must take the focus")
	}
}

func TestSecondaryClickAndHover(t *testing.T) {
	b := newBench(t)
	var menu, over Event
	b.OnMenu = func(e Event) { menu = e }
	b.OnHover = func(e Event) { over = e }
	test.TapSecondaryAt(b.View, fyne.NewPos(300, 200))
	if !menu.Hit {
		t.Errorf("menu: %+v", menu)
	}
	test.MoveMouse(b.win.Canvas(), fyne.NewPos(310, 190))
	if !over.Hit || !near(over.Pick.Point, geom.Vec{100, 10, 10}, 1) {
		t.Errorf("hover: %+v", over)
	}
	b.MouseOut()
	if over.Hit {
		t.Error("nothing is under a pointer that has left")
	}
}

// A cut takes away what was under a pointer that rests: what was told of it goes.
func TestRestingPointerIsToldOfANewPicture(t *testing.T) {
	b := newBench(t)
	var over Event
	b.OnHover = func(e Event) { over = e }
	test.MoveMouse(b.win.Canvas(), fyne.NewPos(310, 190))
	if !over.Hit {
		t.Fatal("nothing is told of the cube")
	}
	b.SetOptions(render.Options{Cuts: []render.Cut{{Point: geom.Vec{-200, 0, 0}, Normal: geom.Vec{1, 0, 0}}}})
	b.generate(600, 400)
	b.jobs[len(b.jobs)-1]()
	if over.Hit {
		t.Errorf("still told of what is gone: %+v", over)
	}
	b.MouseOut()
	told := 0
	b.OnHover = func(Event) { told++ }
	b.SetOptions(render.Options{})
	b.generate(600, 400)
	b.jobs[len(b.jobs)-1]()
	if told > 0 {
		t.Error("told of a pointer that is elsewhere")
	}
}

func TestDragTurnsAboutTheGrip(t *testing.T) {
	b := newBench(t)
	told := 0
	b.OnCamera = func(render.Camera) { told++ }
	grip := geom.Vec{100, 50, 50}
	b.press(350, 150, desktop.MouseButtonPrimary, 0)
	before, _ := b.Locate(grip)
	test.Drag(b.win.Canvas(), fyne.NewPos(350, 150), 40, 20)
	after, ok := b.Locate(grip)
	if !ok || told != 1 {
		t.Fatalf("located %v, told %d times", ok, told)
	}
	if d := after.Subtract(before); math.Hypot(float64(d.X), float64(d.Y)) > 0.6 {
		t.Errorf("the grip moved from %v to %v", before, after)
	}
	// 40 of 400 units are 18°, to the left: the scene follows the hand.
	if got := b.Camera().AzimuthRad; math.Abs(got+0.1*math.Pi) > 1e-6 {
		t.Errorf("azimuth %v, want %v", got, -0.1*math.Pi)
	}
	if got := b.Camera().ElevationRad; math.Abs(got-0.05*math.Pi) > 1e-6 {
		t.Errorf("elevation %v, want %v", got, 0.05*math.Pi)
	}
}

func TestShiftOrMiddleDragFollowsThePointer(t *testing.T) {
	for _, how := range []struct {
		button   desktop.MouseButton
		modifier fyne.KeyModifier
	}{{desktop.MouseButtonPrimary, fyne.KeyModifierShift}, {desktop.MouseButtonTertiary, 0}} {
		b := newBench(t)
		c := b.Camera()
		c.Parallel = false
		b.SetCamera(c)
		grip := geom.Vec{100, 0, 0}
		before, _ := b.Locate(grip)
		b.press(before.X, before.Y, how.button, how.modifier)
		test.Drag(b.win.Canvas(), before, 60, -35)
		after, _ := b.Locate(grip)
		if d := after.Subtract(before); math.Abs(float64(d.X)-60) > 0.6 || math.Abs(float64(d.Y)+35) > 0.6 {
			t.Errorf("%+v: the grip moved by %v, want (60, -35)", how, d)
		}
	}
}

func TestDragTakesAPartAlong(t *testing.T) {
	for _, parallel := range []bool{true, false} {
		b := newBench(t)
		c := b.Camera()
		c.Parallel = parallel
		b.SetCamera(c)
		var moved geom.Vec
		dropped := 0
		b.Grab = func(e Event) bool { return e.Hit }
		b.OnMove = func(shift geom.Vec) { moved = shift }
		b.OnDrop = func() { dropped++ }
		b.press(300, 200, desktop.MouseButtonPrimary, 0)
		b.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 30, DY: 10}})
		b.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 20, DY: 0}})
		b.DragEnd()
		// In perspective the grip is 900 mm away, where a unit is 0.9 mm.
		mm := map[bool]float64{true: 1, false: 0.9}[parallel]
		if want := (geom.Vec{0, 50 * mm, -10 * mm}); !near(moved, want, 1e-9) || dropped != 1 {
			t.Errorf("parallel %v: moved %v, dropped %d times; want %v once", parallel, moved, dropped, want)
		}
		if b.Camera() != c {
			t.Error("the camera must stay while a part is taken along")
		}
		b.press(10, 10, desktop.MouseButtonPrimary, 0)
		test.Drag(b.win.Canvas(), fyne.NewPos(10, 10), 5, 0)
		if b.Camera() == c || dropped != 1 {
			t.Error("a drag beside the part turns the view")
		}
	}
}

func TestWheelZoomsToThePointer(t *testing.T) {
	b := newBench(t)
	c := b.Camera()
	c.Parallel = false
	b.SetCamera(c)
	grip := geom.Vec{100, 60, 40}
	before, _ := b.Locate(grip)
	b.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: before}, Scrolled: fyne.Delta{DY: 25}})
	after, _ := b.Locate(grip)
	if d := after.Subtract(before); math.Hypot(float64(d.X), float64(d.Y)) > 0.6 {
		t.Errorf("the point under the pointer moved from %v to %v", before, after)
	}
	if b.Camera().DistMM >= 900 {
		t.Errorf("wheel up must come nearer, distance %v", b.Camera().DistMM)
	}
}

func TestKeys(t *testing.T) {
	b := newBench(t)
	var runes []rune
	var keys []fyne.KeyName
	b.OnRune = func(r rune) { runes = append(runes, r) }
	b.OnKey = func(e *fyne.KeyEvent) { keys = append(keys, e.Name) }
	b.win.Canvas().Focus(b.View)
	if !b.ring.Visible() {
		t.Error("focus must show")
	}
	test.Type(b.View, "x6")
	if b.Camera().ElevationRad != math.Pi/2 || string(runes) != "x" {
		t.Errorf("6 is the view from above, x goes on: %v, %q", b.Camera().ElevationRad, string(runes))
	}
	if mm := b.Camera().MMPerPx(400); math.Abs(mm-200*1.08/400) > 1e-9 {
		t.Errorf("a standard view fits all: %v mm a pixel", mm)
	}
	far := b.Camera().DistMM
	test.Type(b.View, "+")
	if got := b.Camera().DistMM; math.Abs(got-0.8*far) > 1e-9 {
		t.Errorf("+ comes nearer: %v of %v", got, far)
	}
	test.Type(b.View, "f")
	if got := b.Camera().DistMM; math.Abs(got-far) > 1e-9 {
		t.Errorf("f fits: %v, want %v", got, far)
	}
	test.Type(b.View, "p")
	if b.Camera().Parallel {
		t.Error("p changes the projection")
	}
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	if got := b.Camera().AzimuthRad; math.Abs(got+keyTurnRad) > 1e-9 {
		t.Errorf("arrow turns: %v", got)
	}
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDelete})
	if len(keys) != 1 || keys[0] != fyne.KeyDelete {
		t.Errorf("other keys go on: %v", keys)
	}
	b.win.Canvas().Unfocus()
	if b.ring.Visible() {
		t.Error("no focus, no ring")
	}
}

func TestSmoothPictureIsSwappedIn(t *testing.T) {
	b := newBench(t)
	quick := b.generate(600, 400)
	if len(b.jobs) == 0 {
		t.Fatal("no smooth picture is being drawn")
	}
	b.jobs[len(b.jobs)-1]()
	fine := b.generate(600, 400)
	if fine == quick || b.paint.fine == nil {
		t.Fatal("the smooth picture is not shown")
	}
	if fine.Bounds() != image.Rect(0, 0, 600, 400) {
		t.Errorf("size %v", fine.Bounds())
	}
	n := len(b.jobs)
	b.generate(600, 400)
	if len(b.jobs) != n {
		t.Error("nothing changed: nothing is to be drawn")
	}
}

func TestStaleSmoothPictureIsDropped(t *testing.T) {
	b := newBench(t)
	job := b.jobs[len(b.jobs)-1]
	b.TypedRune('2')
	job() // cancelled
	if b.paint.fine != nil {
		t.Error("a picture of an old view was swapped in")
	}
	f, turn := b.current(), b.paint.turn
	b.TypedRune('3')
	b.swapIn(f, turn) // finished just before the change
	if b.paint.fine != nil {
		t.Error("a picture of an old view was swapped in")
	}
}

func TestSlowScenesAreDrawnAtHalfSizeWhileDragging(t *testing.T) {
	b := newBench(t)
	b.paint.tookS = 2 * slowS
	b.press(10, 10, desktop.MouseButtonPrimary, 0)
	n := len(b.jobs)
	b.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 5}})
	if got := b.generate(600, 400).Bounds(); got != image.Rect(0, 0, 300, 200) {
		t.Errorf("size %v while dragging, want half", got)
	}
	if len(b.jobs) != n {
		t.Error("no smooth picture while dragging")
	}
	at, _ := b.Locate(b.Camera().Target)
	if math.Abs(float64(at.X)-300) > 1 || math.Abs(float64(at.Y)-200) > 1 {
		t.Errorf("the target is at %v, want the middle", at)
	}
	b.DragEnd()
	if got := b.generate(600, 400).Bounds(); got != image.Rect(0, 0, 600, 400) {
		t.Errorf("size %v after dragging", got)
	}
	if len(b.jobs) != n+1 {
		t.Error("a smooth picture follows the drag")
	}
}

// What is written in the scene grows with the text beside it, without any other
// change of the scene.
func TestLettersFollowTheLook(t *testing.T) {
	b := newBench(t)
	b.SetOverlay(render.Overlay{Labels: []render.Label{{At: geom.Vec{100, 0, 0}, Text: "cube"}}})
	b.generate(600, 400)
	if b.paint.textPx != leastLetters {
		t.Fatalf("letters of %v px at the desk, want %v", b.paint.textPx, leastLetters)
	}
	small := b.current()
	fyne.CurrentApp().Settings().SetTheme(theme.New(theme.Review))
	b.generate(600, 400)
	if want := float64(theme.New(theme.Review).Size(fynetheme.SizeNameText)); b.paint.textPx != want || want < 24 {
		t.Errorf("letters of %v px for the projector, want %v", b.paint.textPx, want)
	}
	if b.current() == small {
		t.Error("the picture with small letters stays")
	}
	b.generate(1200, 800)
	if want := 2 * float64(theme.New(theme.Review).Size(fynetheme.SizeNameText)); b.paint.textPx != want {
		t.Errorf("letters of %v px on a fine screen, want %v", b.paint.textPx, want)
	}
}

func TestPicksNeverUseAnOldScene(t *testing.T) {
	b := newBench(t)
	var got Event
	b.OnPick = func(e Event) { got = e }
	b.SetScene(nil)
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(300, 200))
	if got.Hit {
		t.Errorf("picked a part that is gone: %+v", got)
	}
}

func TestFirstSceneIsFitted(t *testing.T) {
	test.NewTempApp(t)
	v := New()
	v.paint.beside = func(func()) {}
	if _, ok := v.Locate(geom.Vec{}); ok {
		t.Error("no picture, no place")
	}
	v.SetScene([]render.Item{{Mesh: cube(700), Pose: geom.Shift(geom.Vec{9000, 0, 0}), Closed: true}})
	v.FitItems(0, 5)
	v.Resize(fyne.NewSize(300, 300))
	v.generate(300, 300)
	if at, ok := v.Locate(geom.Vec{9000, 0, 0}); !ok || math.Abs(float64(at.X)-150) > 20 || math.Abs(float64(at.Y)-150) > 20 {
		t.Errorf("the cube is at %v, want near the middle", at)
	}
	if v.Fault() != "" {
		t.Error(v.Fault())
	}
}

func TestTooLargePicturesSayWhy(t *testing.T) {
	test.NewTempApp(t)
	v := New()
	v.paint.beside = func(func()) {}
	v.generate(20000, 1)
	if v.Fault() == "" {
		t.Error("a picture that cannot be drawn must say why")
	}
}

func TestGlideGoesTheShorterWay(t *testing.T) {
	a := render.Camera{AzimuthRad: 3, DistMM: 100, Target: geom.Vec{0, 0, 0}}
	b := render.Camera{AzimuthRad: -3, ElevationRad: 1, DistMM: 400, Target: geom.Vec{10, 0, 0}, Parallel: true}
	c := betweenCameras(a, b, 0.5)
	if math.Abs(math.Remainder(c.AzimuthRad-math.Pi, 2*math.Pi)) > 1e-9 {
		t.Errorf("azimuth %v, want straight over the back, π", c.AzimuthRad)
	}
	if math.Abs(c.DistMM-200) > 1e-9 || c.ElevationRad != 0.5 || c.Target[0] != 5 || !c.Parallel {
		t.Errorf("half way: %+v", c)
	}
}

func TestGrippingStopsAGlide(t *testing.T) {
	b := newBench(t)
	b.glide = fyne.NewAnimation(1, func(float32) {})
	n := len(b.jobs)
	b.changed()
	b.generate(600, 400)
	if len(b.jobs) != n {
		t.Error("no smooth picture while gliding")
	}
	b.press(300, 200, desktop.MouseButtonPrimary, 0)
	if b.glide != nil {
		t.Error("the glide goes on under the hand")
	}
}
