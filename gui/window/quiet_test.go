package window

import (
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

// Quiet comes once after some seconds without anything, and again only after
// something has happened.
func TestQuiet(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var n atomic.Int32
		q := newQuiet(quietAfter, func() { n.Add(1) })
		for range 10 { // work goes on
			time.Sleep(quietAfter - time.Second)
			q.stir()
		}
		synctest.Wait()
		if n.Load() != 0 {
			t.Fatalf("quiet %d times while something happened", n.Load())
		}
		time.Sleep(10 * quietAfter)
		if synctest.Wait(); n.Load() != 1 {
			t.Fatalf("quiet %d times, want once", n.Load())
		}
		q.stir()
		time.Sleep(2 * quietAfter)
		if synctest.Wait(); n.Load() != 2 {
			t.Errorf("quiet %d times, want twice", n.Load())
		}
		var never quiet
		never.stir()
	})
}
