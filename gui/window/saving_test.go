package window

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
	"aftbay/gui/settings"
)

// benchOn opens a window on a folder and keeps settings.
func benchOn(t *testing.T, path, settingsDir string) *bench {
	t.Helper()
	b := &bench{t: t, jobs: make(chan func(), 10000)}
	kept, err := settings.Load(settingsDir)
	if err != nil {
		t.Fatal(err)
	}
	b.Window = New(test.NewTempApp(t), Options{
		SettingsDir: settingsDir, Remembered: kept,
		beside: func(run func()) { b.jobs <- run }, onMain: func(run func()) { run() },
	})
	t.Cleanup(func() {
		if err := b.desk.Close(); err != nil {
			t.Error(err)
		}
	})
	if path != "" {
		b.Open(path)
	}
	b.settle()
	return b
}

// press taps a button of the dialog on top.
func (b *bench) press(says string) {
	b.t.Helper()
	texts, buttons := b.dialog()
	if buttons[says] == nil {
		b.t.Fatalf("no button %q in %q", says, texts)
	}
	test.Tap(buttons[says])
	b.settle()
}

func (b *bench) lift() {
	b.t.Helper()
	b.Pose("lid", geom.Vec{0, 0, 5}, geom.Vec{}, func(err error) { b.t.Error(err) })
	b.settle()
}

// TestRecoveryAfterTheEnd: a window that ended without a word leaves its edits
// to the next one, which offers them, also without being told the layout.
func TestRecoveryAfterTheEnd(t *testing.T) {
	kept, dir := t.TempDir(), writeBench(t, "Bench")
	first := benchOn(t, dir, kept)
	first.lift()
	if path, err := first.Rescue(); path != "" || err != nil {
		t.Errorf("rescued %q, %v although the journal has it", path, err)
	}
	if err := first.desk.Close(); err != nil { // as a signal does
		t.Fatal(err)
	}
	next := benchOn(t, "", kept)
	next.OfferRecovery()
	next.settle()
	texts, _ := next.dialog()
	if all := strings.Join(texts, "\n"); !strings.Contains(all, "1 edit after the last save; last: place lid") || !strings.Contains(all, "Unsaved edits found: Bench") {
		t.Errorf("offered %q", texts)
	}
	next.press("Not now")
	if next.state.Open || !next.welcome.Visible() {
		t.Error("opened although not now")
	}
	next.Open(dir)
	next.settle()
	next.press("Recover")
	if s := next.state; !s.Unsaved || s.Undo != "place lid" || s.Doc.Parts[2].MoveMM != (geom.Vec{0, 0, 5}) {
		t.Errorf("recovered: undo %q, unsaved %v", s.Undo, s.Unsaved)
	}

	next.askToClose()
	next.press("Discard changes")
	if err := next.desk.Close(); err != nil {
		t.Fatal(err)
	}
	third := benchOn(t, dir, kept)
	if third.state.Unsaved || third.win.Canvas().Overlays().Top() != nil {
		t.Error("discarded edits are offered again")
	}
	third.takeUp()
	third.settle()
	if !third.state.Unsaved {
		t.Error("edits set aside were not taken up")
	}
}

func TestSecondWindowSaysSo(t *testing.T) {
	dir := writeBench(t, "Bench")
	first := benchOn(t, dir, t.TempDir())
	second := benchOn(t, dir, t.TempDir())
	if !strings.Contains(second.notice.Text(), "open in another window") || second.notice.Hidden || !strings.HasSuffix(second.win.Title(), "(read-only)") {
		t.Errorf("title %q, notice %q", second.win.Title(), second.notice.Text())
	}
	second.Pose("lid", geom.Vec{0, 0, 5}, geom.Vec{}, func(err error) {
		if !errors.Is(err, desk.ErrReadOnly) {
			t.Error(err)
		}
	})
	second.settle()
	if err := first.desk.Close(); err != nil {
		t.Fatal(err)
	}
	second.desk.LookAtDisk()
	second.settle()
	second.act(desk.ActTakeOver)
	second.settle()
	second.lift()
	if second.state.ReadOnly || !second.state.Unsaved || !second.notice.Hidden {
		t.Errorf("taken over: read-only %v, unsaved %v", second.state.ReadOnly, second.state.Unsaved)
	}
}

func TestSavingOverOthersAsks(t *testing.T) {
	dir := writeBench(t, "Bench")
	b := benchOn(t, dir, t.TempDir())
	others := func(title string) {
		doc := *b.state.Doc
		doc.Title = title
		if err := layout.Save(dir, &doc); err != nil {
			t.Fatal(err)
		}
	}
	b.lift()
	others("theirs")
	b.save()
	b.settle()
	b.press("Reload")
	if b.state.Title != "theirs" || b.state.Unsaved {
		t.Errorf("reloaded %q", b.state.Title)
	}
	others("theirs again")
	b.undo()
	b.settle()
	b.save()
	b.settle()
	b.press("Save over it")
	data, err := os.ReadFile(filepath.Join(dir, layout.FileName))
	if err != nil || !strings.Contains(string(data), "Bench") || b.state.Unsaved {
		t.Errorf("saved over: %v, unsaved %v", err, b.state.Unsaved)
	}
}

func TestTheWindowRemembers(t *testing.T) {
	kept, dir := t.TempDir(), writeBench(t, "Bench")
	b := benchOn(t, dir, kept)
	b.work.SetOffset(0.5)
	b.rememberWindow()
	next := benchOn(t, "", kept)
	if next.work.Offset != 0.5 || len(next.menu.recent.ChildMenu.Items) != 1 || next.menu.recent.Disabled {
		t.Errorf("offset %v, %d recent", next.work.Offset, len(next.menu.recent.ChildMenu.Items))
	}
	offered := map[string][2]int{}
	next.buttons(next.welcome, offered)
	if _, ok := offered["Bench  ("+shortPath(fullPath(dir))+")"]; !ok {
		t.Errorf("at the start are offered %v", offered)
	}
	next.menu.recent.ChildMenu.Items[0].Action()
	next.settle()
	if next.state.Title != "Bench" {
		t.Errorf("opened %q", next.state.Title)
	}
}

func TestRevisionsFromTheMenu(t *testing.T) {
	b := benchOn(t, writeBench(t, "Bench"), t.TempDir())
	b.lift()
	if _, err := b.desk.KeepRevision("B", "for the review"); err != nil {
		t.Fatal(err)
	}
	b.undo()
	b.settle()
	b.showRevisions()
	b.settle()
	texts, _ := b.dialog()
	if all := strings.Join(texts, "\n"); !strings.Contains(all, "B (no. 1)") || !strings.Contains(all, "for the review") {
		t.Errorf("listed %q", texts)
	}
	b.press("Restore")
	if b.state.Undo != "restore revision B (no. 1)" || b.state.Doc.Parts[2].MoveMM != (geom.Vec{0, 0, 5}) {
		t.Errorf("undo %q", b.state.Undo)
	}
}
