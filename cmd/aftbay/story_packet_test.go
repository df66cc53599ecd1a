//go:build window

package main_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"

	"aftbay/gui/desk"
	"aftbay/gui/window"
)

// mountsCoil takes the first place that is proposed for the hot coil: it is no
// longer the one that gets too hot. Then it takes that back.
func (u *user) mountsCoil() {
	u.t.Helper()
	u.press("ctrl+5")
	before := u.settled("the answers", func(window.Shown) bool { return true })
	hot := before.Tiles[desk.Heats].Answer
	if !strings.Contains(hot, "worst coil 5") {
		u.t.Fatalf("what gets hot? %q: coil 5 should be the worst", hot)
	}
	u.press("ctrl+Down")
	u.await("a chosen place", func() bool { return u.shows().Spots != "" })
	chosen := u.shows().Spots
	if !strings.Contains(chosen, "block") {
		u.t.Errorf("the first place for coil 5 is not on the block: %q", chosen)
	}
	u.pushes("Use this place")
	u.await("a coil that is mounted elsewhere", func() bool { return strings.Contains(u.title(), "unsaved") })
	after := u.settled("the answers with it", func(s window.Shown) bool { return s.Tiles[desk.Heats].Answer != hot })
	if cool := after.Tiles[desk.Heats].Answer; strings.Contains(cool, "coil 5") {
		u.t.Errorf("mounted elsewhere, coil 5 is still the worst: %q", cool)
	}
	u.t.Logf("mounted elsewhere: %q, was %q", after.Tiles[desk.Heats].Answer, hot)
	u.press("ctrl+z")
	u.await("the coil put back", func() bool { return !strings.Contains(u.title(), "unsaved") })
	u.settled("the answers of before", func(s window.Shown) bool {
		for q := desk.Fits; q <= desk.Mounts; q++ {
			if s.Tiles[q] != before.Tiles[q] {
				return false
			}
		}
		return true
	})
}

// writesPacket writes the packet and finds in its PDF every answer of the strip
// and the line at the foot; baycheck clearance gives that line and the worst
// finding too.
func (u *user) writesPacket() {
	u.t.Helper()
	u.at(0.42, 0.3) // off the buttons: over one, the line at the foot tells of it
	screen := u.settled("the answers", func(s window.Shown) bool { return strings.Contains(s.Status, "Worst:") })
	u.press("ctrl+e")
	u.pushes("Choose folder…")
	u.pushes("Write here")
	var pdf string
	u.await("the packet", func() bool {
		found, err := filepath.Glob(filepath.Join(u.tmp, "packet-*", "report.pdf"))
		if err != nil || len(found) != 1 {
			return false
		}
		pdf = found[0]
		_, told := u.shows().Buttons["Close"]
		return told
	})
	u.pushes("Close")
	text := spaced(run(u.ctx, u.t, "pdftotext", "-layout", pdf, "-"))
	for _, tile := range screen.Tiles {
		if !strings.Contains(text, spaced(tile.Question+" "+tile.Answer+" "+tile.Verdict)) {
			u.t.Errorf("the PDF has no row %q, %q, %q", tile.Question, tile.Answer, tile.Verdict)
		}
	}
	if !strings.Contains(text, spaced(screen.Status)) {
		u.t.Errorf("the PDF does not say %q", screen.Status)
	}
	u.asksWithoutWindow(screen, text)
}

// asksWithoutWindow asks the headless command whether the demo fits.
func (u *user) asksWithoutWindow(screen window.Shown, pdf string) {
	u.t.Helper()
	dirs, err := filepath.Glob(filepath.Join(u.tmp, "aftbay-demo-*"))
	if err != nil || len(dirs) != 1 {
		u.t.Fatalf("the demo is in %q: %v", dirs, err)
	}
	check := filepath.Join(u.t.TempDir(), "baycheck")
	run(u.ctx, u.t, "go", "build", "-o", check, "../baycheck")
	asked := func(more ...string) []byte {
		out, err := exec.CommandContext(u.ctx, check, append([]string{"clearance", dirs[0]}, more...)...).Output()
		var ended *exec.ExitError
		if !errors.As(err, &ended) || ended.ExitCode() != 1 { // something overlaps
			u.t.Fatalf("baycheck clearance ended with %v, should with 1", err)
		}
		return out
	}
	if said := spaced(string(asked())); !strings.Contains(said, spaced(screen.Status)) {
		u.t.Errorf("baycheck clearance does not say %q", screen.Status)
	}
	var v struct {
		Pairs []struct {
			A, B, State, Verdict string
			ClearanceMM          float64 `json:"clearance_mm"`
			MarginMM             float64 `json:"margin_mm"`
		}
	}
	if err := json.Unmarshal(asked("--json", "-", "--quiet"), &v); err != nil || len(v.Pairs) == 0 {
		u.t.Fatalf("baycheck clearance: %d pairs, %v", len(v.Pairs), err)
	}
	worst := v.Pairs[0]
	told := fmt.Sprintf("worst %s overlaps %s by %.2f mm (%s)", worst.A, worst.B, -worst.ClearanceMM, worst.State)
	if fits := screen.Tiles[desk.Fits].Answer; worst.Verdict != "overlap" || !strings.HasSuffix(fits, told) || !strings.Contains(pdf, told) {
		u.t.Errorf("baycheck clearance: %s, %s; on the screen: %q", worst.Verdict, told, fits)
	}
}

// spaced puts one space between words.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }
