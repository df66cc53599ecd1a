package window

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/render"
	"aftbay/gui/desk"
	"aftbay/gui/page"
	"aftbay/gui/settings"
	"aftbay/gui/theme"
	"aftbay/gui/view3d"
)

func TestOpensAndAnswers(t *testing.T) {
	b := newBench(t)
	if got := b.win.Title(); got != "aftbay - Bench" {
		t.Errorf("title %q", got)
	}
	if len(b.named) != 3 || !strings.Contains(b.status.Text(), "block to lid 12.00 mm") {
		t.Errorf("scene of %v, status %q", b.named, b.status.Text())
	}
}

func TestTileOpensPage(t *testing.T) {
	b := newBench(t)
	for q := range b.pages {
		test.Tap(b.strip.Tile(desk.Question(q)))
		b.run()
		if b.at.Page != desk.Question(q) || !b.pages[q].Visible() {
			t.Errorf("question %d: page %d is open", q, b.at.Page)
		}
	}
}

func TestBadLayoutIsToldAndNothingChanges(t *testing.T) {
	b := newBench(t)
	before := b.state.Scene
	bad := t.TempDir()
	if err := os.WriteFile(filepath.Join(bad, "layout.json"), []byte(`{"format":"aftbay-layout","version":1,"title":"x","parts":[],"colour":1}`), 0o644); err != nil {
		t.Fatal(err)
	}
	b.Open(bad)
	b.settle()
	texts, buttons := b.dialog()
	if said := strings.Join(texts, " "); !strings.Contains(said, "colour") || !strings.Contains(said, "layout.json") {
		t.Errorf("dialog says %q", said)
	}
	if b.state.Scene != before || b.win.Title() != "aftbay - Bench" {
		t.Error("the layout that was open is gone")
	}
	test.Tap(buttons["Close"])
	if b.win.Canvas().Overlays().Top() != nil {
		t.Error("the dialog stays")
	}
}

func TestFindingTurnsTheCameraAndBack(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	was := b.stage.Camera()
	b.Look(func(a *desk.Attention) { a.Finding = b.state.Answers.Fit.Value.Pairs[0].ID })
	b.Fly(page.Flight{From: geom.Vec{1700, 0, 600}, To: geom.Vec{1700, 0, 612}, SizeMM: 300})
	b.run()
	if c := b.stage.Camera(); c.Target != (geom.Vec{1700, 0, 606}) {
		t.Errorf("the camera looks at %v", c.Target)
	}
	b.stage.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.run()
	if b.stage.Camera() != was || b.at.Finding != "" {
		t.Error("escape does not lead back")
	}
}

func TestDropPreviewKeepUndo(t *testing.T) {
	b := newBench(t)
	b.drop.Slider.SetValue(5)
	b.settle()
	if b.state.DropMM != 5 || b.state.Unsaved || !strings.HasPrefix(b.status.Text(), "Everything fits") {
		t.Fatalf("previewed %v, unsaved %v, status %q", b.state.DropMM, b.state.Unsaved, b.status.Text())
	}
	test.Tap(b.drop.Keep)
	b.settle()
	if b.state.DropMM != 0 || !b.state.Unsaved || b.menu.undo.Label != "Undo lower by 5.00 mm" || !strings.HasSuffix(b.win.Title(), "(unsaved)") {
		t.Fatalf("kept: drop %v, %q, title %q", b.state.DropMM, b.menu.undo.Label, b.win.Title())
	}
	b.menu.undo.Action()
	b.settle()
	if b.state.Unsaved || b.menu.redo.Disabled || !b.menu.undo.Disabled {
		t.Errorf("undone: unsaved %v, redo %q", b.state.Unsaved, b.menu.redo.Label)
	}
	b.menu.redo.Action()
	b.settle()
	if !b.state.Unsaved {
		t.Error("redo does nothing")
	}
}

func TestArrowKeysNudge(t *testing.T) {
	b := newBench(t)
	press := func(key fyne.KeyName) {
		b.stage.TypedKey(&fyne.KeyEvent{Name: key})
		b.settle()
	}
	was := b.stage.Camera()
	press(fyne.KeyLeft)
	if b.state.Unsaved || b.stage.Camera() == was {
		t.Error("with nothing selected an arrow should turn the scene")
	}
	b.Look(func(a *desk.Attention) { a.Select("lid", false) })
	press(fyne.KeyPageUp)
	press(fyne.KeyPageUp)
	if i, _ := b.state.Scene.Index("lid"); b.state.Scene.Parts[i].Pose.T != (geom.Vec{0, 0, 2}) {
		t.Errorf("the lid stands at %v", b.state.Scene.Parts[i].Pose.T)
	}
	b.menu.undo.Action()
	b.settle()
	if b.state.Unsaved {
		t.Error("undo did not take back the whole way")
	}
	b.menu.group.Action()
	b.Look(func(a *desk.Attention) { a.Select("block", false) })
	press(fyne.KeyPageDown)
	if z := b.state.Doc.Groups[0].PivotMM[2]; z != 399 {
		t.Errorf("the group's pivot is at z %v", z)
	}
}

func TestDirection(t *testing.T) {
	for _, c := range []struct {
		view render.View
		key  fyne.KeyName
		want geom.Vec
	}{ // vehicle axes: X rearward, Y right, Z up
		{render.ViewRear, fyne.KeyRight, geom.Vec{0, 1, 0}},
		{render.ViewRear, fyne.KeyUp, geom.Vec{0, 0, 1}},
		{render.ViewRight, fyne.KeyRight, geom.Vec{-1, 0, 0}},
		{render.ViewLeft, fyne.KeyLeft, geom.Vec{-1, 0, 0}},
		{render.ViewTop, fyne.KeyUp, geom.Vec{-1, 0, 0}},
		{render.ViewBottom, fyne.KeyUp, geom.Vec{1, 0, 0}},
		{render.ViewFront, fyne.KeyPageDown, geom.Vec{0, 0, -1}},
	} {
		got, ok := direction(render.NewCamera().Look(c.view), c.key)
		if !ok || got.Sub(c.want).Len() > 1e-12 {
			t.Errorf("view %d, %s: %v, want %v", c.view, c.key, got, c.want)
		}
	}
	if _, ok := direction(render.NewCamera(), fyne.KeyA); ok {
		t.Error("A is no direction")
	}
}

func TestPartIsCarried(t *testing.T) {
	b := newBench(t)
	b.carried = &desk.Load{Parts: []string{"lid"}}
	b.carryTo(geom.Vec{0, 0.04, 3.26})
	b.settle()
	b.letGo()
	b.settle()
	if i, _ := b.state.Scene.Index("lid"); b.state.Scene.Parts[i].Pose.T != (geom.Vec{}) {
		t.Errorf("let go, the lid stands at %v", b.state.Scene.Parts[i].Pose.T)
	}
	b.carried = &desk.Load{Parts: []string{"lid"}}
	b.carryTo(geom.Vec{0, 0.04, 3.26})
	b.carryTo(geom.Vec{0, 0, 7.01})
	b.settle()
	if b.state.Unsaved {
		t.Error("the layout is changed before the part is put down")
	}
	b.putDown()
	b.settle()
	if i, _ := b.state.Scene.Index("lid"); b.state.Scene.Parts[i].Pose.T != (geom.Vec{0, 0, 7}) {
		t.Errorf("the lid stands at %v", b.state.Scene.Parts[i].Pose.T)
	}
	b.menu.undo.Action()
	b.settle()
	if b.state.Unsaved {
		t.Error("one undo does not take back the whole drag")
	}
}

func TestClosingAsksForUnsavedChanges(t *testing.T) {
	b := newBench(t)
	b.Pose("lid", geom.Vec{0, 0, 5}, geom.Vec{}, func(err error) { t.Error(err) })
	b.settle()
	b.askToClose()
	texts, buttons := b.dialog()
	if !strings.Contains(strings.Join(texts, " "), "not saved") || b.closing {
		t.Fatalf("dialog %q, closing %v", texts, b.closing)
	}
	test.Tap(buttons["Stay"])
	if b.closing || b.win.Canvas().Overlays().Top() != nil {
		t.Fatal("it closes although told to stay")
	}
	b.askToClose()
	_, buttons = b.dialog()
	test.Tap(buttons["Save"])
	b.settle()
	if !b.closing {
		t.Error("it stays although saved")
	}
	doc, folder, err := layout.Open(b.state.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if doc.Parts[2].MoveMM != (geom.Vec{0, 0, 5}) {
		t.Errorf("on disk the lid stands at %v", doc.Parts[2].MoveMM)
	}
}

func TestRefusedPoseSaysWhy(t *testing.T) {
	b := newBench(t)
	var said error
	b.Pose("nobody", geom.Vec{}, geom.Vec{}, func(err error) { said = err })
	b.run()
	if said == nil || b.state.Unsaved {
		t.Errorf("a part that is not there was placed: %v", said)
	}
	b.OpenDemo("one")
	b.run()
	if texts, _ := b.dialog(); !strings.Contains(strings.Join(texts, " "), "no demo here") {
		t.Errorf("the failed demo says %q", texts)
	}
}

func TestPicksAndMenus(t *testing.T) {
	b := newBench(t)
	b.picked(view3d.Event{Hit: true, Pick: render.Pick{Item: 1}})
	b.picked(view3d.Event{Hit: true, Pick: render.Pick{Item: 2}, Add: true})
	if got := strings.Join(b.at.Selected, ","); got != "lid,tray" {
		t.Errorf("selected %q", got)
	}
	b.picked(view3d.Event{})
	if len(b.at.Selected) != 0 {
		t.Errorf("a click beside leaves %v", b.at.Selected)
	}
	for _, m := range b.win.MainMenu().Items {
		for _, i := range m.Items {
			if i.Label == "Ghost all but the selected" {
				i.Action()
			}
		}
	}
	if !b.at.Ghost {
		t.Error("the menu does not ghost")
	}
	b.setLook(theme.Dark)
	if !b.stage.Options().Dark || !b.menu.looks[theme.Dark].Checked || b.menu.looks[theme.Light].Checked {
		t.Error("dark does not reach the scene and the menu")
	}
	b.setLook(theme.Review)
	if b.menu.drawer.Checked || b.stage.Options().Dark {
		t.Error("the review look keeps the drawer")
	}
}

func TestPointerReadsTheHeatPicture(t *testing.T) {
	b := newBench(t)
	b.win.Resize(fyne.NewSize(1200, 800))
	b.openPage(desk.Heats)
	b.run()
	item := slices.Index(b.named, "block")
	hit := view3d.Event{Hit: true, Pick: render.Pick{Item: item, Triangle: 0}, At: fyne.NewPos(100, 100)}
	b.hovered(hit)
	lines := b.reads.Lines()
	if len(lines) < 2 || !strings.HasPrefix(lines[0], "block  ") || !strings.HasSuffix(lines[0], "°C") || !strings.HasPrefix(lines[1], "low ") {
		t.Errorf("reads %q", lines)
	}
	b.hovered(view3d.Event{})
	if b.reads.Lines() != nil {
		t.Errorf("beside the parts it reads %q", b.reads.Lines())
	}
	b.openPage(desk.Fits)
	b.run()
	b.hovered(hit)
	if b.reads.Lines() != nil {
		t.Errorf("on another page it reads %q", b.reads.Lines())
	}
}

func TestShieldOnTrialThroughTheWindow(t *testing.T) {
	b := newBench(t)
	b.openPage(desk.Heats)
	b.run()
	offsetMM := 5.0
	b.TryShield(layout.Shield{Name: "sheet", Over: "tray", For: "block", Form: "plate", OffsetMM: &offsetMM})
	b.settle()
	if b.state.Trial == nil || !b.state.Answers.Shield.Fresh || len(b.named) != 4 {
		t.Fatalf("trial %v, scene of %q, %v", b.state.Trial, b.named, b.state.Answers.Shield.Err)
	}
	b.KeepShield()
	b.settle()
	if b.state.Trial != nil || !slices.Contains(b.named, "sheet") || b.state.Undo != "keep sheet" {
		t.Errorf("kept: trial %v, scene of %q, undo %q", b.state.Trial, b.named, b.state.Undo)
	}
	b.undo()
	b.settle()
	if slices.Contains(b.named, "sheet") {
		t.Error("undo leaves the sheet")
	}
	b.TryShield(layout.Shield{Name: "sheet", Over: "tray", For: "block", Form: "plate", OffsetMM: &offsetMM})
	b.settle()
	b.DropShield()
	b.settle()
	if b.state.Trial != nil || len(b.named) != 3 {
		t.Errorf("dropped: trial %v, scene of %q", b.state.Trial, b.named)
	}
}

func TestUndoInAFieldIsTheFields(t *testing.T) {
	b := newBench(t)
	b.Pose("lid", geom.Vec{0, 0, 5}, geom.Vec{}, func(err error) { t.Error(err) })
	b.settle()
	b.win.Canvas().Focus(b.drawer.Search)
	test.Type(b.drawer.Search, "lid")
	b.undo()
	b.settle()
	if !b.state.Unsaved || b.drawer.Search.Text == "lid" {
		t.Errorf("undo in a field: unsaved %v, field %q", b.state.Unsaved, b.drawer.Search.Text)
	}
	for range 3 { // nothing is left to undo in the field after the letters
		b.undo()
		b.settle()
	}
	if b.state.Unsaved || b.drawer.Search.Text != "" {
		t.Errorf("undo in an empty field: unsaved %v, field %q", b.state.Unsaved, b.drawer.Search.Text)
	}
	b.redo()
	b.settle()
	if b.drawer.Search.Text == "" || b.state.Unsaved {
		t.Errorf("redo in a field: unsaved %v, field %q", b.state.Unsaved, b.drawer.Search.Text)
	}
}

// What is typed and placed is an edit: undo takes it back although the field
// still has the focus.
func TestUndoAfterPlacing(t *testing.T) {
	b := newBench(t)
	b.Look(func(a *desk.Attention) { a.Selected = []string{"lid"} })
	b.settle()
	field := b.drawer.Form.Fields[2]
	b.win.Canvas().Focus(field)
	field.SetText("")
	test.Type(field, "5.00")
	test.Tap(b.drawer.Form.Place)
	b.settle()
	if got := b.state.Doc.Parts[2].MoveMM; got != (geom.Vec{0, 0, 5}) {
		t.Fatalf("placed at %v", got)
	}
	b.undo()
	b.settle()
	if got := b.state.Doc.Parts[2].MoveMM; got != (geom.Vec{}) || field.Text != "0.00" {
		t.Errorf("undone: %v, field %q", got, field.Text)
	}
}

func TestWorkerKeepsOrderAndTheNewest(t *testing.T) {
	var mu sync.Mutex
	var got []string
	note := func(s string) func() {
		return func() { mu.Lock(); got = append(got, s); mu.Unlock() }
	}
	hold, done := make(chan struct{}), make(chan struct{})
	w := newWorker(beside, func(run func()) { run() })
	w.do("", func() { <-hold })
	w.do("slide", note("slide 1"))
	w.do("", note("edit 1"))
	w.do("slide", note("slide 2"))
	w.do("", note("edit 2"))
	w.do("", func() { close(done) })
	if !w.waits("slide") {
		t.Error("the preview does not wait")
	}
	close(hold)
	select {
	case <-done:
	case <-time.After(time.Minute):
		t.Fatal("the worker hangs")
	}
	if s := strings.Join(got, ", "); s != "slide 2, edit 1, edit 2" {
		t.Errorf("ran %s", s)
	}
}

func TestFaultOfOurOwnIsShownAndWorkRescued(t *testing.T) {
	b := newBench(t)
	if path, err := b.Rescue(); path != "" || err != nil {
		t.Errorf("rescued %q, %v although nothing is unsaved", path, err)
	}
	if err := b.desk.Open(context.Background(), b.state.Path); err != nil { // without a journal
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", t.TempDir())
	b.edit(func() error { panic("broken promise") })
	b.edit(func() error { panic("again") })
	b.Pose("lid", geom.Vec{0, 0, 5}, geom.Vec{}, func(err error) { t.Error(err) })
	b.settle()
	if texts, _ := b.dialog(); !strings.Contains(strings.Join(texts, " "), "broken promise") {
		t.Errorf("dialog %q", texts)
	}
	path, err := b.Rescue()
	if err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if doc.Parts[2].MoveMM != (geom.Vec{0, 0, 5}) || !b.state.Unsaved {
		t.Errorf("rescued the lid at %v, unsaved %v", doc.Parts[2].MoveMM, b.state.Unsaved)
	}
}

func TestWelcomeUntilALayoutIsOpen(t *testing.T) {
	b := &bench{t: t, jobs: make(chan func(), 10000)}
	b.Window = New(test.NewTempApp(t), Options{beside: func(run func()) { b.jobs <- run }, onMain: func(run func()) { run() }})
	defer b.desk.Close()
	b.run()
	if !b.welcome.Visible() || b.win.Title() != "aftbay" || !b.menu.save.Disabled {
		t.Errorf("welcome %v, title %q", b.welcome.Visible(), b.win.Title())
	}
	b.Open(t.TempDir())
	b.run()
	if !b.welcome.Visible() || b.win.Canvas().Overlays().Top() == nil {
		t.Error("a folder without a layout: no word, or no way on")
	}
	b.win.Canvas().Overlays().Remove(b.win.Canvas().Overlays().Top())
	b.dropped([]fyne.URI{storage.NewFileURI(writeBench(t, "Dropped"))})
	b.settle()
	if b.welcome.Visible() || b.state.Title != "Dropped" {
		t.Errorf("welcome %v, title %q", b.welcome.Visible(), b.state.Title)
	}
}

// The review opens in a window of its own, follows its slides in this one, and
// takes decisions as edits.
func TestReviewOnTheWall(t *testing.T) {
	b := newBench(t)
	b.menu.review.Action()
	texts, buttons := b.dialog()
	if said := strings.Join(texts, " "); !strings.Contains(said, "slide") {
		t.Fatalf("dialog %q", said)
	}
	test.Tap(buttons["Start"])
	b.settle()
	if b.wall == nil || b.at.Finding != "block ~ lid @ static" {
		t.Fatalf("no review, or the window does not follow: %q", b.at.Finding)
	}
	wall := b.wall.Window()
	wall.Canvas().OnTypedRune()('r')
	b.settle()
	if got := desk.DecisionOf(b.state.Doc, "block ~ lid @ static"); got.State != "rejected" || !b.state.Unsaved {
		t.Errorf("decided %+v", got)
	}
	b.menu.undo.Action()
	b.settle()
	if b.state.Unsaved {
		t.Error("the decision cannot be undone")
	}
	b.menu.review.Action() // one is enough
	if b.win.Canvas().Overlays().Top() != nil {
		t.Error("a second review is offered")
	}
	wall.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.wall != nil {
		t.Error("Escape leaves the review open")
	}
}

// The tour comes with the first demo, can be skipped, never comes by itself
// again, and is in the help.
func TestTourComesOnce(t *testing.T) {
	b := newBench(t)
	dir := writeBench(t, "Demo")
	b.o.SettingsDir, b.o.Demo = t.TempDir(), func(string) (string, error) { return dir, nil }
	b.OpenDemo("one")
	b.settle()
	if !b.tour.Visible() {
		t.Fatal("no tour at the first start")
	}
	titles := map[string]bool{}
	at := fyne.Position{}
	for n := 0; b.tour.Visible(); n++ {
		here := b.app.Driver().AbsolutePositionForObject(b.tour.Next)
		if n > 0 && here.Y != at.Y {
			t.Errorf("card %d: the button moved from under the pointer: from %v to %v", n+1, at, here)
		}
		at = here
		if n > 6 {
			t.Fatal("the tour does not end")
		}
		heads := desk.Tour()
		titles[heads[min(n, 5)].Title] = true
		if n == 1 && b.at.Finding == "" {
			t.Error("the second card shows no finding")
		}
		test.Tap(b.tour.Next)
		b.settle()
	}
	if len(titles) != 6 {
		t.Errorf("%d cards", len(titles))
	}
	kept, err := settings.Load(b.o.SettingsDir)
	if err != nil || !kept.TourSeen {
		t.Errorf("not remembered: %+v, %v", kept, err)
	}
	b.o.Demo = func(string) (string, error) { return writeBench(t, "Again"), nil }
	b.OpenDemo("one")
	b.settle()
	if b.tour.Visible() {
		t.Error("the tour comes a second time")
	}
	b.startTour()
	test.Tap(b.tour.Skip)
	escape := &fyne.KeyEvent{Name: fyne.KeyEscape}
	for _, press := range []func(){
		func() { b.sceneKey(escape) }, func() { b.tour.Next.TypedKey(escape) }, func() { b.win.Canvas().OnTypedKey()(escape) },
	} {
		b.startTour()
		if press(); b.tour.Visible() {
			t.Error("Escape left the tour standing")
			b.tour.End()
		}
	}
	if b.tour.Visible() {
		t.Error("the tour cannot be skipped")
	}
}

func TestHowTheNumbersAreMade(t *testing.T) {
	b := newBench(t)
	b.showHowMade()
	texts, _ := b.dialog()
	said := strings.Join(texts, " ")
	for _, want := range []string{"0.000001 mm", "UN R46", "CODATA 2018", desk.HeatCaution, "habit, no standard"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not told", want)
		}
	}
}
