//go:build window

package main_test

import (
	"context"
	"strings"
	"testing"
)

const (
	// heldWarm and heldRounds are how often every page and dialog is opened before
	// the first rest, and between the two.
	heldWarm, heldRounds = 10, 50
	// mostHeldKB is by how much what is in use at rest may grow with each opening
	// of a page or dialog, of which there are heldEach in a round. A dialog takes
	// 36 (measured: each kept in a list). From one rest to another what is in use
	// differs by up to 6 MB, by the pictures of the moment: 10 for each opening.
	mostHeldKB = 15
	heldEach   = 12
)

// Opening and closing every page, the editor, the dialogs and the review again and
// again leaves nothing behind: what is in use after a collection, and the
// goroutines, are after 720 openings what they were after 120. The toolkit forgets
// what it has drawn of closed ones after five seconds here, not after its minute.
func TestWindowLetsGo(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 8*patience)
	defer cancel()
	u := sit(ctx, t, "FYNE_CACHE=5s")
	u.await("the demo", func() bool { return strings.Contains(u.title(), "Bramble") })
	u.looksRound()
	opened := func(rounds int) rest {
		for range rounds {
			u.press("ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+1")
			u.press("F1", "Escape", "ctrl+e", "Escape", "ctrl+r", "Escape", "ctrl+shift+r", "Escape", "ctrl+t", "Escape", "ctrl+l", "ctrl+1")
		}
		u.reviews()
		r := u.rests()
		t.Logf("at rest %d MB resident, %d kB in use by Go, %d goroutines", r.residentKB/1024, r.liveKB, r.goroutines)
		return r
	}
	first, last := opened(heldWarm), opened(heldRounds)
	if most := first.liveKB + mostHeldKB*heldEach*heldRounds; last.liveKB > most {
		t.Errorf("%d kB are in use at the end, want %d at most", last.liveKB, most)
	}
	if last.goroutines > first.goroutines {
		t.Errorf("goroutines grew from %d to %d", first.goroutines, last.goroutines)
	}
	if err := u.app.Process.Kill(); err != nil { // nothing is to be asked
		t.Error(err)
	}
}
