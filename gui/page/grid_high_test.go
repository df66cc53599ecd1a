package page

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"aftbay/gui/desk"
)

// The toolkit asks for the least size at every frame: that must make no rows,
// which it would hold.
func TestRowsHighMeasuresARowOnce(t *testing.T) {
	test.NewTempApp(t)
	g := NewGrid("nothing", nil)
	g.SetTable(desk.Table{Columns: []desk.Column{{Head: "part"}, {Head: "gap mm"}}, Rows: []desk.Row{{Cells: []string{"a", "1"}}, {Cells: []string{"b", "2"}}}})
	l := &rowsHigh{grid: g}
	first := l.MinSize(nil)
	if min := g.newRow().MinSize().Height; first.Height < 2*min {
		t.Errorf("%g high for two rows of %g", first.Height, min)
	}
	allocs := testing.AllocsPerRun(20, func() {
		if l.MinSize(nil) != first {
			t.Error("another size for the same table")
		}
	})
	row := testing.AllocsPerRun(20, func() { g.newRow().MinSize() })
	if allocs >= row {
		t.Errorf("%g allocations to ask for the size, a row costs %g", allocs, row)
	}
}
