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
)

const (
	// mostGrowth is by how much memory and goroutines may grow after the warm-up.
	mostGrowth = 1.10
	// warmUp is the share of the time in which caches fill and nothing is held
	// against it. Common practice, no source.
	warmUp = 0.3
	// fewGoroutines is how many may come and go without meaning anything: a job
	// that happens to run has some.
	fewGoroutines = 8
)

// A random user at the real window for AFTBAY_SOAK hours: keys, clicks, drags,
// wheel. Memory and goroutines must not grow by more than a tenth after the
// warm-up. AFTBAY_SEED chooses another user.
func TestSoak(t *testing.T) {
	hours, err := strconv.ParseFloat(os.Getenv("AFTBAY_SOAK"), 64)
	if err != nil {
		t.Skip("AFTBAY_SOAK says for how many hours")
	}
	seed, _ := strconv.ParseUint(os.Getenv("AFTBAY_SEED"), 10, 64)
	whole := time.Duration(hours * float64(time.Hour))
	ctx, cancel := context.WithTimeout(t.Context(), whole+10*patience)
	defer cancel()
	u := sit(ctx, t)
	u.await("the demo", func() bool { return strings.Contains(u.title(), "Bramble") })

	random := rand.New(rand.NewPCG(seed, 1))
	var held []int // resident memory in kB, evenly over the time
	began, looked := time.Now(), time.Now()
	for time.Since(began) < whole {
		u.something(random)
		if time.Since(looked) > whole/100 {
			looked = time.Now()
			held = append(held, residentKB(t, u.app.Process.Pid))
		}
		select {
		case err := <-u.ended:
			t.Fatalf("it ended: %v\n%s", err, u.said.String())
		default:
		}
	}
	u.press("Escape")
	var goroutines, most, heap, goes []int
	for _, v := range u.fared() {
		goroutines, most = append(goroutines, v.Goroutines), append(most, v.MostUS)
		heap, goes = append(heap, v.HeapKB), append(goes, v.HeldKB)
	}
	early, late := halves(held)
	t.Logf("resident memory: %d MB after the warm-up, %d MB at the end", early/1024, late/1024)
	if float64(late) > mostGrowth*float64(early) {
		t.Errorf("memory grew from %d to %d MB", early/1024, late/1024)
	}
	heapEarly, heapLate := halves(heap)
	goEarly, goLate := halves(goes)
	t.Logf("of it held by Go: %d MB, then %d MB, in use or waiting to be collected: %d MB, then %d MB", goEarly/1024, goLate/1024, heapEarly/1024, heapLate/1024)
	was, is := halves(goroutines)
	t.Logf("goroutines: %d, then %d", was, is)
	if is > was+max(fewGoroutines, int((mostGrowth-1)*float64(was))) {
		t.Errorf("goroutines grew from %d to %d", was, is)
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

// halves returns the medians of the first and of the second half of what comes
// after the warm-up.
func halves(values []int) (early, late int) {
	values = values[int(warmUp*float64(len(values))):]
	middle := func(some []int) int {
		if len(some) == 0 {
			return 0
		}
		some = slices.Sorted(slices.Values(some))
		return some[len(some)/2]
	}
	return middle(values[:len(values)/2]), middle(values[len(values)/2:])
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
