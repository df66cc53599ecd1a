//go:build window

package main_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"aftbay/gui/window"
)

const (
	// mostGrowth is by how much memory may grow from the first tenth after the
	// warm-up to the last, or from the first rests to the last where these are few.
	mostGrowth = 1.10
	// warmUp is the share of the time in which caches fill and nothing is held
	// against it. Common practice, no source.
	warmUp = 0.1
	// restsEach is how often the user rests in the whole time, and is looked at.
	restsEach = 60
	// fewestFloor is the fewest rests whose floor is taken: what is shown differs
	// from one to the other, and with it what is in use, by a quarter.
	fewestFloor = 5
	// fewestRests is below how many a run is too short to tell.
	fewestRests = 12
	// quiet is for how many seconds all must have been answered, and nothing
	// collected in the second half of them: the window gives memory back after five.
	quiet = 12
	// fewGoroutines is how many may come and go without meaning anything: the
	// look at the disk, an answer handed over.
	fewGoroutines = 2
)

// rest is what a window holds while its user rests: all is answered, the first
// page is open, and it has been quiet for a while.
type rest struct{ residentKB, liveKB, goroutines int }

// A random user at the real window for AFTBAY_SOAK hours: keys, clicks, drags,
// wheel, and a rest now and then. AFTBAY_SEED chooses another user.
//
// What is held against growth is the floor at rest: the least that the process
// holds over the first tenth after the warm-up, and over the last. While jobs run,
// what is held goes up and down by a third within seconds, whatever grows below;
// at rest it is what is really kept. The median while at work may not grow either.
// Each page and dialog has been open once before: what is loaded once is no
// growth.
func TestSoak(t *testing.T) {
	hours, err := strconv.ParseFloat(os.Getenv("AFTBAY_SOAK"), 64)
	if err != nil {
		t.Skip("AFTBAY_SOAK says for how many hours")
	}
	seed, _ := strconv.ParseUint(os.Getenv("AFTBAY_SEED"), 10, 64)
	whole := time.Duration(hours * float64(time.Hour))
	ctx, cancel := context.WithTimeout(t.Context(), whole+20*patience)
	defer cancel()
	u := sit(ctx, t)
	u.waits = 5 * patience // over hours a machine has its moments
	u.await("the demo", func() bool { return strings.Contains(u.title(), "Bramble") })
	u.looksRound()
	u.rests()

	random := rand.New(rand.NewPCG(seed, 1))
	var rests []rest
	var atWorkKB []int // resident, evenly over the time
	began, rested, looked := time.Now(), time.Now(), time.Now()
	for time.Since(began) < whole {
		u.something(random)
		if time.Since(looked) > whole/2000 {
			looked = time.Now()
			atWorkKB = append(atWorkKB, residentKB(t, u.app.Process.Pid))
		}
		if time.Since(rested) > whole/restsEach {
			rests = append(rests, u.rests())
			rested = time.Now()
			t.Logf("%4.0f min: at rest %d MB resident, %d MB in use by Go, %d goroutines", time.Since(began).Minutes(), rests[len(rests)-1].residentKB/1024, rests[len(rests)-1].liveKB/1024, rests[len(rests)-1].goroutines)
		}
	}
	u.judge(rests, atWorkKB)
	var most []int
	for _, v := range u.fared() {
		most = append(most, v.MostUS)
	}
	slices.Sort(most)
	t.Logf("longest wait of input in a second: median %.1f ms, most %.1f ms", ms(most[len(most)/2]), ms(most[len(most)-1]))
	if text := u.said.String(); strings.Contains(text, wrongThread) || strings.Contains(text, "panic:") {
		t.Errorf("it complained:\n%s", text)
	}
	if err := u.app.Process.Kill(); err != nil { // it would ask about unsaved changes
		t.Error(err)
	}
}

// judge holds the last tenth after the warm-up against the first, and the last
// third of the work.
func (u *user) judge(rests []rest, atWorkKB []int) {
	u.t.Helper()
	if len(rests) < fewestRests {
		u.t.Fatalf("%d rests, want %d at least: give it longer", len(rests), fewestRests)
	}
	grew := func(what string, was, is int) {
		u.t.Logf("%s: %d MB, then %d MB (%+.1f %%)", what, was/1024, is/1024, 100*(float64(is)/float64(was)-1))
		if float64(is) > mostGrowth*float64(was) {
			u.t.Errorf("%s grew from %d to %d MB", what, was/1024, is/1024)
		}
	}
	rests = rests[int(warmUp*float64(len(rests))):]
	n := max(fewestFloor, len(rests)/10)
	first, last := rests[:n], rests[len(rests)-n:]
	grew("resident memory at rest", least(first, rest.resident), least(last, rest.resident))
	grew("in use by Go at rest", least(first, rest.live), least(last, rest.live))
	was, is := least(first, rest.running), least(last, rest.running)
	u.t.Logf("goroutines at rest: %d, then %d", was, is)
	if is > was+fewGoroutines {
		u.t.Errorf("goroutines grew from %d to %d", was, is)
	}
	atWorkKB = atWorkKB[int(warmUp*float64(len(atWorkKB))):]
	third := len(atWorkKB) / 3
	grew("resident memory at work, at the median", middle(atWorkKB[:third]), middle(atWorkKB[len(atWorkKB)-third:]))
}

func (r rest) resident() int { return r.residentKB }
func (r rest) live() int     { return r.liveKB }
func (r rest) running() int  { return r.goroutines }

func least(rests []rest, of func(rest) int) int {
	n := of(rests[0])
	for _, r := range rests {
		n = min(n, of(r))
	}
	return n
}

func middle(values []int) int { return slices.Sorted(slices.Values(values))[len(values)/2] }

// rests takes all edits and the previewed drop back, so that one rest is like the
// other, does nothing until all is answered and memory has been given back, and
// tells what is held then.
func (u *user) rests() rest {
	u.t.Helper()
	u.press("Escape", "Escape", "Escape", "ctrl+1")
	u.await("the layout as opened", func() bool {
		if !strings.Contains(u.title(), "(unsaved)") {
			return true
		}
		u.press("ctrl+z", "ctrl+z", "ctrl+z")
		return false
	})
	if at, on := u.shows().Buttons["Back to start"]; on {
		run(u.ctx, u.t, "xdotool", "mousemove", "--window", strconv.FormatUint(u.id, 10), strconv.Itoa(at[0]), strconv.Itoa(at[1]), "click", "1")
	}
	u.settled("a rest", func(window.Shown) bool { return true })
	from := len(u.fared())
	u.await("quiet", func() bool {
		all := u.fared()
		return len(all) >= from+quiet && !slices.ContainsFunc(all[len(all)-quiet/2:], func(v window.Vitals) bool { return v.LiveKB != all[len(all)-1].LiveKB })
	})
	all := u.fared()
	last := all[len(all)-1]
	return rest{residentKB(u.t, u.app.Process.Pid), last.LiveKB, last.Goroutines}
}

// looksRound opens every page, the editor, the review and the dialogs once.
func (u *user) looksRound() {
	u.t.Helper()
	for _, page := range []string{"ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+1"} {
		u.press(page)
		u.settled("page "+page, func(window.Shown) bool { return true })
	}
	u.press("ctrl+l")
	time.Sleep(2 * time.Second)
	u.press("ctrl+1")
	for _, dialog := range []string{"F1", "ctrl+e", "ctrl+r", "ctrl+shift+r", "ctrl+t"} {
		u.press(dialog)
		time.Sleep(time.Second)
		u.press("Escape")
	}
	u.reviews()
}

// reviews opens the review's window, goes on by a slide and closes it.
func (u *user) reviews() {
	u.t.Helper()
	var wall uint64
	for range 10 { // the list of revisions comes by itself, late where the machine is busy, and keeps the question from coming
		u.press("Escape", "Escape", "ctrl+t", "Return")
		for began := time.Now(); wall == 0 && time.Since(began) < 10*time.Second; time.Sleep(200 * time.Millisecond) {
			wall = u.other("aftbay review")
		}
		if wall != 0 {
			break
		}
	}
	if wall == 0 {
		u.t.Fatal("the review did not come")
	}
	u.activate(wall)
	time.Sleep(3 * time.Second) // it draws
	u.press("Right", "Escape")
	u.await("the end of the review", func() bool { return u.other("aftbay review") == 0 })
	u.activate(u.id)
}

// something does one thing that a user might do. What opens dialogs of files or
// ends the program is left out.
func (u *user) something(random *rand.Rand) {
	keys := []string{
		"ctrl+1", "ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+6", "ctrl+Down", "ctrl+Up", "ctrl+g", "ctrl+b", "ctrl+d", "ctrl+f",
		"Up", "Down", "Left", "Right", "Page_Up", "Page_Down", "ctrl+z", "ctrl+z", "ctrl+y", "Escape", "Tab", "space", "F1", "f", "p", "1", "5",
	}
	const left, right, top, low = 0.19, 0.65, 0.14, 0.85 // the scene
	x, y := left+random.Float64()*(right-left), top+random.Float64()*(low-top)
	switch n := random.IntN(20); {
	case n < 11:
		u.press(keys[random.IntN(len(keys))])
	case n < 13:
		u.click(x, y, 1)
	case n < 15:
		u.click(x, y, 4+random.IntN(2)) // the wheel
	case n < 17:
		u.drag(x, y, left+random.Float64()*(right-left), top+random.Float64()*(low-top))
	case n < 18:
		u.drag(0.217, 0.899, 0.217+0.2*random.Float64(), 0.899) // the drop
		u.drag(0.217+0.2*random.Float64(), 0.899, 0.217, 0.899)
	case n < 19:
		u.click(0.70+0.28*random.Float64(), 0.30+0.15*random.Float64(), 1) // a row of the page
	default:
		u.press("Escape", "Escape")
	}
	time.Sleep(time.Duration(40+random.IntN(200)) * time.Millisecond)
}

// residentKB returns how much memory a process holds.
func residentKB(t *testing.T, pid int) int {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("/proc", fmt.Sprint(pid), "status"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(data)) {
		if value, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			kB, err := strconv.Atoi(strings.Fields(value)[0])
			if err != nil {
				t.Fatal(err)
			}
			return kB
		}
	}
	t.Fatal("no VmRSS")
	return 0
}
