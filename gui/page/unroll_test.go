package page

import (
	"testing"

	"fyne.io/fyne/v2/test"
)

// All rows come in the end; a row that is asked for comes at once.
func TestUnroll(t *testing.T) {
	test.NewTempApp(t)
	var u unroll
	refreshed := 0
	u.start(100, func() { refreshed++ })
	if u.of(100) != 100 || refreshed == 0 { // the tests' driver ends animations at once
		t.Errorf("%d of 100 rows shown, list refreshed %d times", u.of(100), refreshed)
	}
	u.start(rowsAtOnce, func() { t.Error("few rows need no unrolling") })
	u.shown = rowsAtOnce
	if u.of(100) != rowsAtOnce || u.of(3) != 3 {
		t.Errorf("%d of 100, %d of 3 shown at first, want %d, 3", u.of(100), u.of(3), rowsAtOnce)
	}
	u.upTo(40)
	if u.of(100) <= 40 {
		t.Errorf("row 40 was asked for, %d are shown", u.of(100))
	}
}
