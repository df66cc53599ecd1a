package page

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"aftbay/gui/desk"
)

// TestFitShowsTheBudget of the chosen finding, and nothing before one is chosen.
func TestFitShowsTheBudget(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewFit(h)
	shown(t, p, 420, 600)
	s := d.State()
	p.Update(&s, &h.at)
	if !p.Budget.Hidden {
		t.Error("a budget without a finding")
	}
	h.at.Finding = "block ~ lid @ static"
	p.Update(&s, &h.at)
	heads, cells := p.Budget.Texts()
	if got := strings.Join(heads, ", ") + ": " + strings.Join(cells, ", "); got != "static, = left, required, margin: 12.00, 12.00, 15.00, -3.00" || p.Budget.Hidden {
		t.Errorf("budget: %s, hidden %v", got, p.Budget.Hidden)
	}
	h.at.Finding = ""
	p.Update(&s, &h.at)
	if !p.Budget.Hidden {
		t.Error("the budget stays when nothing is chosen")
	}
}

// TestSumStaysInItsRoom: seven figures fit the page at its usual width, none
// covers another, and each stands flush right under its head.
func TestSumStaysInItsRoom(t *testing.T) {
	test.NewTempApp(t)
	s := NewSum()
	table := desk.Table{Rows: []desk.Row{{Cells: []string{"−115.20", "109.22", "0.00", "3.00", "112.98", "150.00", "−102.02"}}}}
	for _, head := range []string{"static", "− motion", "− growth", "− tolerance", "= left", "required", "margin"} {
		table.Columns = append(table.Columns, desk.Column{Head: head, Right: true})
	}
	s.SetTable(table)
	for _, wide := range []float32{340, 420, 900} {
		r := test.WidgetRenderer(s)
		r.Layout(fyne.NewSize(wide, r.MinSize().Height))
		n := len(table.Columns)
		var lastRight float32
		for k := range n {
			head, cell := r.Objects()[k].(*canvas.Text), r.Objects()[n+k].(*canvas.Text)
			right := cell.Position().X + cell.MinSize().Width
			if left := min(head.Position().X, cell.Position().X); left < lastRight {
				t.Errorf("width %g: column %d begins at %g, the one before ends at %g", wide, k, left, lastRight)
			}
			if off := head.Position().X + head.MinSize().Width - right; off > 0.1 || off < -0.1 {
				t.Errorf("width %g: column %d: head and figure end %g apart", wide, k, off)
			}
			if head.Text != table.Columns[k].Head || cell.Text != table.Rows[0].Cells[k] {
				t.Errorf("column %d shows %q, %q", k, head.Text, cell.Text)
			}
			lastRight = right
		}
		if lastRight > wide {
			t.Errorf("width %g: the figures end at %g", wide, lastRight)
		}
	}
}
