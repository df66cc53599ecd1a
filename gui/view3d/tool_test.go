package view3d

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"aftbay/geom"
)

// wanting is a tool that takes what it is told to take.
type wanting struct {
	wants    bool
	pressed  Event
	drags    []Event
	released int
	taps     int
	hovers   int
}

func (w *wanting) Press(e Event) bool { w.pressed = e; return w.wants }
func (w *wanting) Drag(e Event)       { w.drags = append(w.drags, e) }
func (w *wanting) Release()           { w.released++ }
func (w *wanting) Tap(Event) bool     { w.taps++; return w.wants }
func (w *wanting) Hover(Event) bool   { w.hovers++; return w.wants }

func TestToolsTakeThePointerFirst(t *testing.T) {
	b := newBench(t)
	idle, eager := &wanting{}, &wanting{wants: true}
	behind := &wanting{wants: true}
	b.SetTools(idle, eager, behind)
	picked, over := 0, 0
	b.OnPick = func(Event) { picked++ }
	b.OnHover = func(Event) { over++ }
	b.Grab = func(Event) bool { t.Error("a part is taken along too"); return true }
	was := b.Camera()
	b.press(350, 150, desktop.MouseButtonPrimary, fyne.KeyModifierControl)
	b.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(400, 100)}, Dragged: fyne.Delta{DX: 50, DY: -50}})
	b.MouseUp(&desktop.MouseEvent{})
	b.DragEnd()
	if b.Camera() != was {
		t.Error("the view turns while a tool has the pointer")
	}
	if !eager.pressed.Hit || !near(eager.pressed.Pick.Point, geom.Vec{100, 50, 50}, 1) || eager.pressed.Modifier != fyne.KeyModifierControl {
		t.Errorf("pressed: %+v", eager.pressed)
	}
	if len(eager.drags) != 1 || eager.released != 1 || idle.released+behind.released != 0 || (behind.pressed != Event{}) {
		t.Fatalf("%d drags, %d ends; idle %+v, behind %+v", len(eager.drags), eager.released, idle, behind)
	}
	// Parallel, from behind: the sight through (400, 100) runs along X at y = z = 100.
	d := eager.drags[0]
	if !near(d.Dir, geom.Vec{-1, 0, 0}, 1e-9) || !near(geom.Vec{0, d.From[1], d.From[2]}, geom.Vec{0, 100, 100}, 1e-3) {
		t.Errorf("sight from %v along %v", d.From, d.Dir)
	}
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(300, 200))
	test.MoveMouse(b.win.Canvas(), fyne.NewPos(310, 190))
	if picked != 0 || over != 0 || eager.taps != 1 || eager.hovers == 0 {
		t.Errorf("%d picks, %d hovers, tool %+v", picked, over, eager)
	}
	b.SetTools(idle)
	test.TapCanvas(b.win.Canvas(), fyne.NewPos(300, 200))
	if picked != 1 {
		t.Error("a click that no tool wants must pick")
	}
	if sizeMM := b.UnitMM(geom.Vec{}); sizeMM < 0.99 || sizeMM > 1.01 {
		t.Errorf("a unit is %v mm, want 1", sizeMM)
	}
}
