package desk

import (
	"context"
	"io"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/disk"
	failing "aftbay/geom/disk/faulty"
	"aftbay/geom/layout"
)

// onFaultyDisk returns a desk whose disk fails at operation number at.
func onFaultyDisk(t *testing.T, dir string, at int, kind failing.Kind) (*Desk, *failing.Disk) {
	t.Helper()
	root, err := disk.At(dir)
	must(t, err)
	t.Cleanup(func() { root.Close() })
	bad := failing.New(root, at, kind)
	d := bareDesk(t)
	d.system.disks = func(string) (disk.Disk, io.Closer, error) { return bad, io.NopCloser(nil), nil }
	return d, bad
}

// TestEveryDiskFailure fails every disk operation of journal and save in turn,
// in every way. Editing always goes on; what was journaled or saved is there
// at the next start; a save that says it is done is done.
func TestEveryDiskFailure(t *testing.T) {
	for _, kind := range failing.Kinds() {
		ends := kind == failing.Crash || kind == failing.PowerCut
		failures, said := 0, 0
		first, step := 1, 1
		if os.Getenv(longRuns) == "" { // every third operation in one of the ways
			first, step = 1+3*int(kind), 3*len(failing.Kinds())
		}
		for n := first; ; n += step {
			dir := plainLayout(t)
			d, bad := onFaultyDisk(t, dir, n, kind)
			if err := d.OpenToWork(context.Background(), dir, Ask); err != nil {
				if !bad.Failed() {
					t.Fatal(err)
				}
				continue // the journal could not be read: nothing was opened
			}
			d.Cancel()
			var safe []string // titles, of which the last is sure to come back
			note := func(saved error, title string) {
				if saved == nil && d.Journaled() && !(ends && bad.Failed()) {
					safe = append(safe, title)
				}
				if strings.Contains(d.State().Notice.Text, "not safe against a crash") {
					said++
				}
			}
			for _, title := range []string{"one", "two", "three", "four", "five", "six"} {
				retitle(t, d, title)
				note(nil, title)
				if title == "two" || title == "four" {
					if err := d.Save(); err == nil && savedTitle(t, dir) != title {
						t.Errorf("%v at %d: saved, and %q is there", kind, n, savedTitle(t, dir))
					}
				}
			}
			if err := d.Undo(); err != nil || d.State().Title != "five" {
				t.Fatalf("%v at %d: undo: %v", kind, n, err)
			}
			note(nil, "five")
			closed := d.Close()
			if closed != nil && !bad.Failed() {
				t.Fatal(closed)
			}
			if !bad.Failed() {
				break
			}
			failures++
			again := atWork(t, dir, Recover)
			got := again.State().Title
			must(t, again.Close())
			switch {
			case ends && len(safe) > 0 && !slices.Contains(after(safe[len(safe)-1]), got):
				t.Errorf("%v at %d (%s): %q was safe, %q came back", kind, n, bad.Log()[n-1], safe[len(safe)-1], got)
			case !ends && got != "five":
				t.Errorf("%v at %d (%s): %q came back", kind, n, bad.Log()[n-1], got)
			}
		}
		t.Logf("%v: %d operations failed in turn, %d edits told that they are not safe", kind, failures, said)
		if said == 0 {
			t.Errorf("%v: never told", kind)
		}
	}
}

// after returns what may come back where a title was the last that was sure:
// that, or the edit under way.
func after(title string) []string {
	all := []string{"one", "two", "three", "four", "five", "six"}
	i := slices.Index(all, title)
	return []string{title, all[min(i+1, len(all)-1)], "five"}
}

// TestTenThousandEditsOnTheDesk: random edits, undone and redone, then undone to
// the first byte. What is stored stays small.
func TestTenThousandEditsOnTheDesk(t *testing.T) {
	n := 800
	if os.Getenv(longRuns) != "" {
		n = 10000
	}
	d := bareDesk(t)
	must(t, d.Open(context.Background(), plainLayout(t)))
	d.Cancel()
	encoded := func() string {
		data, err := layout.Encode(d.State().Doc)
		must(t, err)
		return string(data)
	}
	first := encoded()
	r := rand.New(rand.NewPCG(11, 0))
	before := heapBytes()
	for i := range n {
		switch k := r.IntN(8); k {
		case 0:
			must(t, d.Undo())
		case 1:
			must(t, d.Redo())
		case 2:
			must(t, d.Nudge([]string{"lid"}, geom.Vec{0, r.Float64(), 0}, true))
		default:
			must(t, d.Edit("edit", func(doc *layout.Document) error { editOfStep(doc, i); return nil }))
		}
	}
	grown := heapBytes() - before
	for d.State().Redo != "" {
		must(t, d.Redo())
	}
	last := encoded()
	steps := 0
	for ; d.State().Undo != ""; steps++ {
		must(t, d.Undo())
	}
	if encoded() != first {
		t.Error("all undone is not the layout as opened")
	}
	for d.State().Redo != "" {
		must(t, d.Redo())
	}
	if steps < n/3 || encoded() != last {
		t.Errorf("%d steps; all redone is the last: %v", steps, encoded() == last)
	}
	t.Logf("%d edits left %d steps and %d bytes, %d a step", n, steps, grown, grown/int64(steps))
	if mostBytes := int64(4096); grown/int64(steps) > mostBytes {
		t.Errorf("%d bytes a step, more than %d", grown/int64(steps), mostBytes)
	}
}

func heapBytes() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}
