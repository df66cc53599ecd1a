package window

import (
	"testing"
	"testing/synctest"
	"time"
)

// Quiet comes once after some seconds without anything, and again only after
// something has happened.
func TestQuiet(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		n := 0
		q := newQuiet(quietAfter, func() { n++ })
		for range 10 { // work goes on
			time.Sleep(quietAfter - time.Second)
			q.stir()
		}
		synctest.Wait()
		if n != 0 {
			t.Fatalf("quiet %d times while something happened", n)
		}
		time.Sleep(10 * quietAfter)
		if synctest.Wait(); n != 1 {
			t.Fatalf("quiet %d times, want once", n)
		}
		q.stir()
		time.Sleep(2 * quietAfter)
		if synctest.Wait(); n != 2 {
			t.Errorf("quiet %d times, want twice", n)
		}
		var never quiet
		never.stir()
	})
}
