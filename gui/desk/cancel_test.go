package desk

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"aftbay/geom"
)

// Every job that runs can be given up, says so, and its answer comes once it is
// wanted again.
func TestEveryJobIsCancelled(t *testing.T) {
	var at atomic.Pointer[Desk]
	var target atomic.Value // what is to be cancelled as soon as it runs
	target.Store("")
	d := New(2, func() {
		what, _ := target.Load().(string)
		if d := at.Load(); d != nil && what != "" {
			if s := d.State(); strings.HasPrefix(s.Job(), what+": ") && target.CompareAndSwap(what, "") {
				d.Cancel()
			}
		}
	})
	at.Store(d)
	t.Cleanup(func() { must(t, d.Close()) })
	must(t, d.Open(context.Background(), smallLayout(t)))
	wait(t, d)
	d.WantMap()
	wait(t, d)
	reached, s := 0, d.State()
	for i, l := range s.Answers.lanes() {
		target.Store(l.what)
		must(t, d.Place("lid", geom.Vec{0, 0, float64(i + 1)}, geom.Vec{}))
		if l.what == "map" {
			d.WantMap()
		}
		wait(t, d)
		ran := target.Swap("") == ""
		s := d.State()
		switch {
		case !ran:
		case l.what == "map" && s.Answers.Map.Fresh, l.what != "map" && !s.Cancelled():
			t.Errorf("%s: cancelled as soon as it ran, and yet it came", l.what)
		default:
			reached++
		}
		d.Resume()
		wait(t, d)
		if s := d.State(); s.Cancelled() || !s.Answers.Fit.Fresh || !s.Answers.Heat.Fresh {
			t.Errorf("%s: not resumed: %v", l.what, s.Tiles)
		}
		t.Logf("%s: seen to run %v", l.what, ran)
	}
	if reached < 9 {
		t.Errorf("only %d jobs ran: the layout tests too little", reached)
	}
}

// A command that is stopped on its way changes nothing.
func TestStoppedCommandsChangeNothing(t *testing.T) {
	d := plainAtWork(t)
	must(t, d.Wait(t.Context()))
	rev, err := d.KeepRevision("A", "to compare with")
	must(t, err)
	before := d.State()
	out := filepath.Join(t.TempDir(), "packet")
	for name, run := range map[string]func(ctx context.Context, progress geom.Progress) error{
		"move until": func(ctx context.Context, progress geom.Progress) error {
			_, err := d.MoveUntil(ctx, Until{Load: Load{Parts: []string{"lid"}}, Dir: DirectionOf("down"), KeepMM: 10}, progress)
			return err
		},
		"compare": func(ctx context.Context, progress geom.Progress) error {
			return d.CompareWith(ctx, RevisionFolder(before.Path, rev), progress)
		},
		"packet": func(ctx context.Context, progress geom.Progress) error {
			_, err := d.Packet(ctx, out, PacketOptions{Progress: progress})
			return err
		},
	} {
		ctx, stop := context.WithCancel(t.Context())
		told := 0
		err := run(ctx, func(done, total int) {
			if told++; done < 0 || done > total {
				t.Errorf("%s: %d of %d done", name, done, total)
			}
			stop() // as soon as it has begun
		})
		stop()
		if !errors.Is(err, context.Canceled) || told == 0 {
			t.Errorf("%s: ended with %v, told %d times", name, err, told)
		}
	}
	after := d.State()
	if after.Doc != before.Doc || after.Against != before.Against || after.Undo != before.Undo {
		t.Error("a command that was stopped left something")
	}
	if _, err := os.Stat(out); !errors.Is(err, os.ErrNotExist) {
		if left, _ := os.ReadDir(out); len(left) > 0 {
			t.Errorf("the packet that was stopped left %v", left)
		}
	}
}

// The Cancel of the line at the foot stops an opening on its way too.
func TestCancelStopsAnOpening(t *testing.T) {
	var at atomic.Pointer[Desk]
	d := New(2, func() {
		if d := at.Load(); d != nil && d.State().Coming != nil {
			d.Cancel()
		}
	})
	at.Store(d)
	t.Cleanup(func() { must(t, d.Close()) })
	if err := d.OpenToWork(t.Context(), smallLayout(t), Ask); !errors.Is(err, context.Canceled) {
		t.Errorf("the opening ended with %v", err)
	}
	if s := d.State(); s.Open || s.Coming != nil || s.Cancelled() {
		t.Errorf("open %v, coming %v, cancelled %v", s.Open, s.Coming, s.Cancelled())
	}
}
