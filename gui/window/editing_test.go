package window

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/view3d"
)

// sightly opens the bench at a size with the block selected.
func sightly(t *testing.T) *bench {
	t.Helper()
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.win.Canvas().Capture()
	b.Look(func(a *desk.Attention) { a.Select("lid", false) })
	b.settle()
	return b
}

func (b *bench) placeOf(t *testing.T, part string) geom.Vec {
	t.Helper()
	i, ok := b.state.Scene.Index(part)
	if !ok {
		t.Fatalf("no part %q", part)
	}
	return b.state.Scene.Parts[i].Pose.T
}

// TestHandlesAreDragged: an arrow that is dragged by 30 mm on the screen moves
// the part by as much along its axis, as one edit; Escape in between takes it back.
func TestHandlesAreDragged(t *testing.T) {
	b := sightly(t)
	g, ok := b.grip.grips()
	if !ok || len(b.grip.sketch.Strokes()) == 0 {
		t.Fatal("no handles at the selected part")
	}
	from, _ := b.stage.Locate(g.At.Add(geom.Vec{0, 0, 0.7 * g.ArmMM}))
	to, _ := b.stage.Locate(g.At.Add(geom.Vec{0, 0, 0.7*g.ArmMM + 30}))
	camera := b.stage.Camera()
	b.stage.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	b.stage.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: fyne.Delta{DX: to.X - from.X, DY: to.Y - from.Y}})
	b.settle()
	if says := strings.Join(b.reads.Lines(), " "); !strings.HasPrefix(says, "z +") {
		t.Errorf("beside the pointer: %q", says)
	}
	if b.state.Undo != "" || math.Abs(b.placeOf(t, "lid")[2]-30) > 0.5 {
		t.Errorf("in the hand: at %v, undo %q", b.placeOf(t, "lid"), b.state.Undo)
	}
	b.stage.MouseUp(&desktop.MouseEvent{})
	b.stage.DragEnd()
	b.settle()
	if at := b.placeOf(t, "lid"); math.Abs(at[2]-30) > 0.5 || at[0] != 0 || at[1] != 0 || b.state.Undo != "move lid" || b.stage.Camera() != camera {
		t.Errorf("put down: at %v, undo %q", at, b.state.Undo)
	}
	b.menu.undo.Action()
	b.settle()
	b.stage.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	b.stage.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: fyne.Delta{DX: to.X - from.X, DY: to.Y - from.Y}})
	b.settle()
	b.stage.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.settle()
	if at := b.placeOf(t, "lid"); at != (geom.Vec{}) || b.state.Unsaved {
		t.Errorf("Escape leaves it at %v", at)
	}
	b.stage.MouseUp(&desktop.MouseEvent{})
	b.stage.DragEnd()
	b.menu.grips.Action()
	if len(b.grip.sketch.Strokes()) != 0 {
		t.Error("the handles stay although put away")
	}
}

// TestEditorBesideTheScene: the editor opens at what is selected, an edit in it
// reaches the scene, and closing gives the room back.
func TestEditorBesideTheScene(t *testing.T) {
	b := sightly(t)
	was := b.work.Offset
	b.Edit(b.editPath())
	b.settle()
	if !b.edited || !b.editor.Visible() || b.asking.Visible() || b.menu.drawer.Checked {
		t.Error("the editor has no room")
	}
	b.Change("lift", [][]desk.Change{{{Path: b.editPath() + "/move_mm", Value: []any{0.0, 0.0, 5.0}}}}, func(_ *desk.State, made int, err error) {
		if made != 0 || err != nil {
			t.Errorf("%d, %v", made, err)
		}
	})
	b.settle()
	if at := b.placeOf(t, "lid"); at != (geom.Vec{0, 0, 5}) {
		t.Errorf("the lid stands at %v", at)
	}
	var refused error
	b.Check([]desk.Change{{Path: b.editPath() + "/group", Value: "nothing"}}, func(err error) { refused = err })
	b.settle()
	if refused == nil {
		t.Error("a group that there is not passes the check")
	}
	b.CloseEditor()
	b.settle()
	if b.edited || !b.menu.drawer.Checked || math.Abs(b.work.Offset-was) > 1e-9 {
		t.Errorf("after closing: drawer %v, scene %v of %v", b.menu.drawer.Checked, b.work.Offset, was)
	}
}

// TestPointsArePicked: six clicks place the part; Escape ends picking.
func TestPointsArePicked(t *testing.T) {
	b := sightly(t)
	b.startPoints()
	click := func(p geom.Vec) {
		e := view3d.Event{Hit: true}
		e.Pick.Item, e.Pick.Point, e.Pick.Triangle = 1<<20, p, -1
		b.points.Tap(e)
	}
	click(geom.Vec{})
	b.run()
	if m := b.shown.Overlay.Markers; len(m) != 1 || m[0].Text != "1" || !strings.Contains(b.note.Text(), "second point") {
		t.Errorf("markers %+v, note %q", m, b.note.Text())
	}
	b.stage.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.run()
	if b.points.picks != nil || len(b.at.Selected) != 1 || len(b.at.Picked) != 0 || b.note.Text() != "" {
		t.Error("Escape ends picking and nothing else")
	}
	b.startPoints()
	for _, p := range []geom.Vec{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {10, 20, 30}, {110, 20, 30}, {10, 120, 30}} {
		click(p)
	}
	b.settle()
	if at := b.placeOf(t, "lid"); at != (geom.Vec{10, 20, 30}) || b.state.Undo != "place lid by three points" {
		t.Errorf("at %v, undo %q", at, b.state.Undo)
	}
	b.mirrorSelected()
	b.settle()
	if len(b.at.Selected) != 1 || b.at.Selected[0] != "lid copy" {
		t.Errorf("selected %v", b.at.Selected)
	}
	b.copySelected()
	b.group([]string{"lid copy"}, "left")
	b.settle()
	i, _ := b.state.Scene.Index("lid copy")
	if b.state.Scene.Parts[i].Group != "left" || len(b.state.Doc.Parts) != len(b.named)-len(b.state.Doc.Routes) {
		t.Errorf("%+v", b.state.Scene.Parts[i].Group)
	}
}
