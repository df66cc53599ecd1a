package window

import (
	"context"
	"errors"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// writeBench writes a block between a lid and a tray: 12 mm under the lid where
// 15 are asked, and 20 mm above where it must stop.
func writeBench(t *testing.T, title string) string {
	t.Helper()
	doc := &layout.Document{
		Title: title,
		Parts: []layout.Part{
			{Name: "block", Role: "engine", Mesh: "block.stl", Group: "powertrain"},
			{Name: "tray", Role: "tray", Mesh: "tray.stl"},
			{Name: "lid", Role: "cover", Mesh: "lid.stl"},
		},
		Groups: []layout.Group{{Name: "powertrain", PivotMM: geom.Vec{1700, 0, 400}}},
		Rules: []layout.Rule{
			{A: "part:block", B: "part:tray", LeastMM: 10, Source: "test"},
			{A: "part:block", B: "part:lid", LeastMM: 15, Source: "test"},
		},
		Drop: &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 60}},
		Heat: &layout.Heat{
			Rays: new(8), PatchMM: new(400.0), // few: quick
			Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), FilmWM2K: new(10.0)}},
		},
	}
	return fixture.Folder(t, doc, map[string]*mesh.Mesh{
		"block.stl": plain.Brick(geom.Vec{1500, -200, 230}, geom.Vec{1900, 200, 600}),
		"tray.stl":  plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   plain.Brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
	})
}

// bench is a window whose work runs when the test says so, on its goroutine.
type bench struct {
	*Window
	t    *testing.T
	jobs chan func()
}

// newBench opens the window with a layout, all answers on the screen.
func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{t: t, jobs: make(chan func(), 10000)}
	b.Window = New(test.NewTempApp(t), Options{
		Demo:     func(string) (string, error) { return "", errors.New("no demo here") },
		Variants: []string{"one", "two"},
		beside:   func(run func()) { b.jobs <- run },
		onMain:   func(run func()) { run() },
	})
	t.Cleanup(func() {
		if err := b.desk.Close(); err != nil {
			t.Error(err)
		}
	})
	b.Open(writeBench(t, "Bench"))
	b.settle()
	if !b.state.Open {
		t.Fatal("the layout did not open")
	}
	return b
}

// run does what has been asked for beside.
func (b *bench) run() {
	for {
		select {
		case job := <-b.jobs:
			job()
		default:
			return
		}
	}
}

// settle waits for all answers and shows them.
func (b *bench) settle() {
	b.t.Helper()
	b.run()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	if err := b.desk.Wait(ctx); err != nil {
		b.t.Fatal(err)
	}
	b.changed()
	b.run()
}

// texts returns all that the dialog on top says, and its buttons.
func (b *bench) dialog() (texts []string, buttons map[string]*widget.Button) {
	buttons = map[string]*widget.Button{}
	top := b.win.Canvas().Overlays().Top()
	if top == nil {
		return nil, buttons
	}
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *answer:
			buttons[o.Text] = &o.Button
		case *widget.Button:
			buttons[o.Text] = o
		case *widget.Label:
			texts = append(texts, o.Text)
		case *canvas.Text:
			texts = append(texts, o.Text)
		case *fyne.Container:
			for _, child := range o.Objects {
				walk(child)
			}
		case *container.Scroll:
			walk(o.Content)
		case fyne.Widget:
			for _, child := range test.WidgetRenderer(o).Objects() {
				walk(child)
			}
		}
	}
	walk(top)
	return texts, buttons
}
