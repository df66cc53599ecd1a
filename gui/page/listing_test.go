package page

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

// The list of findings is searched as one types, narrowed by choices, follows
// the selected part, sorts by its heads, and goes on by keys.
func TestFindingsAreFoundSortedAndSteppedThrough(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewFit(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.filter.SetSelected(desk.FitFilters[2])
	p.Update(&s, &h.at)
	all := len(p.Grid.Rows())
	p.List.Finder.Search.SetText("lid")
	if n := len(p.Grid.Rows()); n == 0 || n >= all {
		t.Fatalf("searching: %d of %d", n, all)
	}
	for _, r := range p.Grid.Rows() {
		if !strings.Contains(strings.Join(r.Cells, " "), "lid") {
			t.Errorf("found %q", r.Cells)
		}
	}
	p.List.Finder.Search.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if n := len(p.Grid.Rows()); n != all {
		t.Errorf("Escape leaves %d of %d", n, all)
	}
	p.List.Finder.Search.SetText("nothing of the kind")
	if len(p.Grid.Rows()) != 0 || !strings.Contains(p.Grid.empty.Text, "none is like that") || p.List.Finder.count.Text == "" {
		t.Errorf("none: %q, %q", p.Grid.empty.Text, p.List.Finder.count.Text)
	}
	p.List.Finder.Search.SetText("")
	p.List.Finder.choices[2].SetSelected("exhaust")
	for _, r := range p.Grid.Rows() {
		if !strings.Contains(strings.Join(r.Roles, " "), "exhaust") {
			t.Errorf("narrowed to exhaust: %q", r.Cells)
		}
	}
	p.List.Finder.choices[2].SetSelectedIndex(0)

	h.at.Selected = []string{"tray"}
	p.List.Finder.Only.SetChecked(true)
	p.Update(&s, &h.at)
	if n := len(p.Grid.Rows()); n == 0 || n >= all {
		t.Errorf("of the selected part: %d of %d", n, all)
	}
	p.List.Finder.Only.SetChecked(false)

	heads := p.Grid.head.Objects
	heads[4].(*head).Tapped(nil) // the gap
	if h := heads[4].(*head).Text; !strings.HasSuffix(h, "▲") {
		t.Errorf("head %q", h)
	}
	first := p.Grid.Rows()[0].Key
	heads[4].(*head).Tapped(nil)
	if last := p.Grid.Rows(); last[len(last)-1].Key != first || last[0].Key == first {
		t.Error("a second tap does not turn the order")
	}
	heads[4].(*head).Tapped(nil)

	p.Step(1)
	if h.at.Finding != p.Grid.Rows()[0].Key {
		t.Errorf("the first step leads to %q", h.at.Finding)
	}
	p.Step(1)
	p.Step(1)
	p.Step(-1)
	if h.at.Finding != p.Grid.Rows()[1].Key {
		t.Errorf("two on, one back: %q", h.at.Finding)
	}
	p.Update(&s, &h.at)
	if p.Section.picture.Image == nil || p.Section.all.Hidden || p.Decides.Hidden {
		t.Error("the chosen finding has no section or decision")
	}
}

// A row of another question opens that question's page.
func TestEveryQuestionInOneList(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewFit(h)
	shown(t, p, 500, 700)
	if err := d.Edit("a lower limit", func(doc *layout.Document) error {
		doc.Parts[0].LimitDegC.ContinuousDegC = new(30.0)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	settle(t, d)
	s := d.State()
	p.filter.SetSelected(desk.FitFilters[3])
	p.Update(&s, &h.at)
	pages := map[desk.Question]bool{}
	for i, r := range p.Grid.Rows() {
		p.Grid.list.Select(i)
		pages[h.at.Page] = true
		if c, _ := desk.ConcernOf(&s, r.Key); h.at.Page != c.Page {
			t.Errorf("%q opens page %d", r.Key, h.at.Page)
		}
		h.at.Page = desk.Fits
	}
	if len(pages) < 2 {
		t.Errorf("rows of %d questions: %+v", len(pages), p.Grid.Rows())
	}
}

// What is searched for while new rows are still to be made is searched for in the
// new ones: the newer wish takes the place of the one that waits.
func TestSearchDoesNotOvertakeNewRows(t *testing.T) {
	h := &lazyHost{}
	l := NewListing(h, "few", nil)
	shown(t, l, 500, 400)
	table := func(names ...string) func() (desk.Table, string) {
		t := desk.Table{Columns: []desk.Column{{Head: "name"}}}
		for _, n := range names {
			t.Rows = append(t.Rows, desk.Row{Key: n, Cells: []string{n}, Parts: []string{n}})
		}
		return func() (desk.Table, string) { return t, "" }
	}
	last := func() {
		h.waits[len(h.waits)-1]()()
		h.waits = nil
	}
	l.Fill(1, "", table("lid", "tray"))
	last()
	l.Fill(2, "", table("lid", "lid of the tray", "block"))
	l.Finder.Search.SetText("lid")
	last()
	if keys := l.Keys(); len(keys) != 2 || keys[1] != "lid of the tray" {
		t.Errorf("found %q", keys)
	}
	l.Finder.Search.SetText("")
	last()
	if keys := l.Keys(); len(keys) != 3 {
		t.Errorf("all: %q", keys)
	}
}
