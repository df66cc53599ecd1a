package view3d

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom"
	"aftbay/geom/render"
)

// newApart is newBench with its quick pictures drawn when the test says so.
func newApart(t *testing.T) (b *bench, quick *[]func()) {
	b = newBench(t)
	quick = &[]func(){}
	b.Beside(func(f func()) { f() }, func(job func()) { *quick = append(*quick, job) }, func(job func()) { b.jobs = append(b.jobs, job) })
	return b, quick
}

// While a picture is drawn apart the last one stands, nothing else is begun, and
// the next one is of the last state alone.
func TestPicturesDrawnApart(t *testing.T) {
	b, quick := newApart(t)
	old := b.generate(600, 400)
	drawnAt := b.Camera()
	c := drawnAt
	for _, turnRad := range []float64{0.1, 0.2, 0.3} {
		c.AzimuthRad = turnRad
		b.SetCamera(c)
		if b.generate(600, 400) != old {
			t.Fatal("the picture was drawn where the toolkit asked for it")
		}
	}
	if len(*quick) != 1 {
		t.Fatalf("%d pictures begun at once, want 1", len(*quick))
	}
	(*quick)[0]()
	if len(*quick) != 2 || b.paint.seen.AzimuthRad != 0.1 {
		t.Fatalf("%d pictures begun, the first looks from %v: want 2, 0.1 rad", len(*quick), b.paint.seen.AzimuthRad)
	}
	(*quick)[1]()
	if len(*quick) != 2 || b.paint.seen.AzimuthRad != 0.3 || b.fresh() == nil {
		t.Errorf("%d pictures begun, the last looks from %v: want the last state alone", len(*quick), b.paint.seen.AzimuthRad)
	}
	if f := b.fresh(); f != nil && b.generate(600, 400) != f.Image {
		t.Error("the picture of now is not shown")
	}
}

// What is drawn over the picture keeps to the picture that is shown; what lies
// under the pointer is that of now, without waiting for a picture.
func TestOverAPictureDrawnApart(t *testing.T) {
	b, quick := newApart(t)
	b.generate(600, 400)
	b.SetCamera(b.Camera()) // the same again, drawn apart
	(*quick)[0]()
	before, _ := b.Locate(geom.Vec{100, 80, 80})
	c := b.Camera()
	c.Target = c.Target.Add(geom.Vec{0, 300, 0})
	told := 0
	b.OnCamera = func(render.Camera) { told++ }
	b.SetCamera(c)
	if at, _ := b.Locate(geom.Vec{100, 80, 80}); at != before {
		t.Errorf("the place moved from %v to %v before the picture did", before, at)
	}
	var got Event
	b.OnHover = func(e Event) { got = e }
	b.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 200)}})
	if got.Hit {
		t.Errorf("the cube has left the middle, yet %+v is under the pointer", got)
	}
	b.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(0, 200)}})
	if !got.Hit || !near(got.Pick.Point, geom.Vec{100, 0, 0}, 1.5) {
		t.Errorf("the middle of the cube is at the left rim now: %+v", got)
	}
	(*quick)[1]()
	if at, _ := b.Locate(geom.Vec{100, 80, 80}); at.X > before.X-299 || told != 1 {
		t.Errorf("with the picture the place is at %v, told %d times", at, told)
	}
}

// A smooth picture follows the quick one at rest, none while the hand moves.
func TestSmoothAfterPicturesDrawnApart(t *testing.T) {
	b, quick := newApart(t)
	b.generate(600, 400)
	n := len(b.jobs)
	b.press(10, 10, desktop.MouseButtonPrimary, 0)
	b.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 5}})
	(*quick)[0]()
	if len(b.jobs) != n {
		t.Error("a smooth picture is drawn while the hand moves")
	}
	b.DragEnd()
	if len(b.jobs) != n+1 {
		t.Fatal("no smooth picture follows the drag")
	}
	b.jobs[n]()
	if b.paint.fineTurn != b.paint.turn || b.generate(600, 400) != b.paint.fine.Image {
		t.Error("the smooth picture is not shown")
	}
}

// A picture that cannot be drawn apart says why, and does not stop the next.
func TestPicturesDrawnApartFail(t *testing.T) {
	b, quick := newApart(t)
	b.generate(20000, 1)
	(*quick)[0]()
	if b.Fault() == "" {
		t.Error("a picture that cannot be drawn must say why")
	}
	b.generate(600, 400)
	(*quick)[1]()
	if b.Fault() != "" || b.fresh() == nil {
		t.Errorf("the next picture is not drawn: %q", b.Fault())
	}
}
