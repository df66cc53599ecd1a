//go:build window

package main_test

import (
	"context"
	"strings"
	"testing"
)

const (
	// heldRounds is how often every page and dialog is opened between two rests.
	heldRounds = 10
	// heldRests is how many rests are compared.
	heldRests = 4
	// mostHeldKB is by how much what is in use at rest may grow with each opening
	// of a page or dialog, of which there are heldEach in a round. A dialog takes
	// 36 (measured: each kept in a list, the test fails); the letters of one review
	// more than all of it.
	mostHeldKB = 5
	heldEach   = 12
)

// Opening and closing every page, the editor, the dialogs and the review again and
// again leaves nothing behind: what is in use after a collection, and the
// goroutines, are after 480 openings what they were after 120. The toolkit forgets
// what it has drawn of closed ones after five seconds here, not after its minute.
func TestWindowLetsGo(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 8*patience)
	defer cancel()
	u := sit(ctx, t, "FYNE_CACHE=5s")
	u.await("the demo", func() bool { return strings.Contains(u.title(), "Bramble") })
	u.looksRound()
	var rests []rest
	for range heldRests {
		for range heldRounds {
			u.press("ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+1")
			u.press("F1", "Escape", "ctrl+e", "Escape", "ctrl+r", "Escape", "ctrl+shift+r", "Escape", "ctrl+t", "Escape", "ctrl+l", "ctrl+1")
		}
		u.reviews()
		r := u.rests()
		t.Logf("at rest %d MB resident, %d kB in use by Go, %d goroutines", r.residentKB/1024, r.liveKB, r.goroutines)
		rests = append(rests, r)
	}
	first, last := rests[0], rests[heldRests-1]
	if most := first.liveKB + mostHeldKB*heldEach*heldRounds*(heldRests-1); last.liveKB > most {
		t.Errorf("%d kB are in use at the end, want %d at most", last.liveKB, most)
	}
	if last.goroutines > first.goroutines {
		t.Errorf("goroutines grew from %d to %d", first.goroutines, last.goroutines)
	}
	if err := u.app.Process.Kill(); err != nil { // nothing is to be asked
		t.Error(err)
	}
}
