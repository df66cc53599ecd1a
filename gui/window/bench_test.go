package window

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
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
)

// brick returns a closed box mesh.
func brick(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		v := lo
		for k := range 3 {
			if i>>k&1 == 1 {
				v[k] = hi[k]
			}
		}
		m.Verts = append(m.Verts, v)
	}
	for _, f := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Tris = append(m.Tris, [3]int32{f[0], f[1], f[2]}, [3]int32{f[0], f[2], f[3]})
	}
	return m
}

// writeBench writes a block between a lid and a tray: 12 mm under the lid where
// 15 are asked, and 20 mm above where it must stop.
func writeBench(t *testing.T, title string) string {
	t.Helper()
	dir := t.TempDir()
	for name, m := range map[string]*mesh.Mesh{
		"block.stl": brick(geom.Vec{1500, -200, 230}, geom.Vec{1900, 200, 600}),
		"tray.stl":  brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 200}),
		"lid.stl":   brick(geom.Vec{1400, -300, 612}, geom.Vec{2000, 300, 620}),
	} {
		var buf bytes.Buffer
		if err := m.WriteSTL(&buf, name); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), buf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	doc := &layout.Document{
		Format: layout.Format, Version: layout.Version, Title: title,
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
		Heat: &layout.Heat{Rays: new(8), PatchMM: new(400.0)}, // no case: quick
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	return dir
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
