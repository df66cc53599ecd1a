//go:build window

package main_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"aftbay/gui/desk"
	"aftbay/gui/window"
)

// hung is how long input may wait before the window counts as hung. What is
// promised is 50 ms on a machine with nothing else to do; the figures are told,
// not held, because here the toolkit draws in software and others compute too.
const hung = 20 * time.Second

// The newcomer's story of DEVELOPERS.md, by keys and pointer: the six pages, a
// part that is moved and put back, the drop, a coil that is mounted elsewhere and
// put back, the packet, the review on the wall, the end. The window answers all
// the while, and the packet and the headless command say what it says.
func TestWindowGoesThroughTheStory(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 8*patience)
	defer cancel()
	u := sit(ctx, t)
	u.await("the demo", func() bool { return strings.Contains(u.title(), "Bramble") })

	for _, key := range []string{"ctrl+1", "ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+1"} {
		u.press(key)
		u.await("a picture of the page "+key, func() bool { return u.colours(u.id) > 100 })
	}
	u.press("ctrl+Down", "ctrl+Down", "ctrl+Up") // the findings of the page
	u.await("a picture of a finding", func() bool { return u.colours(u.id) > 100 })

	for n := 0; n < 3 && !strings.Contains(u.title(), "unsaved"); n++ { // a part under the pointer
		u.click(0.42+0.03*float64(n), 0.55, 1)
		time.Sleep(time.Second)
		u.press("Page_Up", "Page_Up")
		time.Sleep(time.Second)
	}
	u.await("a part that was moved", func() bool { return strings.Contains(u.title(), "unsaved") })
	u.await("undo", func() bool {
		u.press("ctrl+z")
		time.Sleep(300 * time.Millisecond)
		return !strings.Contains(u.title(), "unsaved")
	})

	fits := u.settled("the answers", func(window.Shown) bool { return true }).Tiles[desk.Fits]
	u.drag(0.217, 0.899, 0.30, 0.899) // the slider under the scene
	u.await("a fit that follows the drop", func() bool { return u.shows().Tiles[desk.Fits].Answer != fits.Answer })
	u.pushes("Back to start")
	u.settled("the fit of before", func(s window.Shown) bool { return s.Tiles[desk.Fits] == fits })
	u.click(0.42, 0.2, 3) // the menu of the scene
	u.press("Escape")

	u.mountsCoil()
	u.writesPacket()

	u.press("ctrl+t")
	time.Sleep(time.Second)
	u.press("space")
	u.await("the review", func() bool { return u.other("aftbay review") != 0 })
	wall := u.other("aftbay review")
	u.activate(wall)
	u.await("a slide", func() bool { return u.colours(wall) > 100 })
	u.press("a", "Right", "p", "t", "Left")
	u.await("a decision", func() bool { return strings.Contains(u.title(), "unsaved") })
	u.press("ctrl+z")
	u.await("the decision undone", func() bool { return !strings.Contains(u.title(), "unsaved") })
	u.press("End")
	u.await("the summary", func() bool { return u.colours(wall) > 20 })
	u.press("Escape")
	u.await("the end of the review", func() bool { return u.other("aftbay review") == 0 })
	u.activate(u.id)

	var most, median []int
	for _, v := range u.fared() {
		most, median = append(most, v.MostUS), append(median, v.MedianUS)
	}
	if len(most) == 0 {
		t.Fatal("the window told nothing of itself")
	}
	slices.Sort(most)
	slices.Sort(median)
	t.Logf("input waited, by the second: median %.1f ms; the longest wait of a second: median %.1f ms, most %.1f ms", ms(median[len(median)/2]), ms(most[len(most)/2]), ms(most[len(most)-1]))
	if longest := time.Duration(most[len(most)-1]) * time.Microsecond; longest > hung {
		t.Errorf("the window did not answer for %v", longest)
	}
	u.leave()
}

func ms(us int) float64 { return float64(us) / 1000 }
