package page

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"aftbay/gui/desk"
)

// shown puts a page into a window, so that it has a size and renderers.
func shown(t *testing.T, o fyne.CanvasObject, width, height float32) {
	t.Helper()
	w := test.NewTempWindow(t, o)
	w.Resize(fyne.NewSize(width, height))
}

func TestFitRowShowsTheNarrowestPlace(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewFit(h)
	shown(t, p, 500, 600)
	s := d.State()
	p.Update(&s, &h.at)
	if rows := p.Grid.Rows(); len(rows) == 0 || rows[0].Cells[0] != "block" || rows[0].Cells[1] != "lid" || rows[0].Verdict != "short" {
		t.Fatalf("rows: %+v", rows)
	}
	p.Grid.list.Select(0)
	if h.at.Finding == "" || len(h.flown) != 1 || h.flown[0].From[2] != 600 || h.flown[0].To[2] != 612 {
		t.Errorf("a click on the row looked at %q and flew to %v", h.at.Finding, h.flown)
	}
	p.Update(&s, &h.at)
	if !strings.Contains(p.detail.Text, "12.00 mm") || p.detail.Hidden {
		t.Errorf("detail: %q", p.detail.Text)
	}
	if len(h.flown) != 1 {
		t.Error("an update turned the camera again")
	}
	p.filter.SetSelected(desk.FitFilters[2])
	if all := len(p.Grid.Rows()); all <= 1 {
		t.Errorf("all findings: %d", all)
	}
}

func TestFitSaysWhyThereIsNothing(t *testing.T) {
	test.NewTempApp(t)
	p := NewFit(&hostSpy{})
	s := desk.State{Status: "Open a layout."}
	p.Update(&s, &desk.Attention{})
	if p.says.Text != "Open a layout." {
		t.Errorf("an empty desk: %q", p.says.Text)
	}
	s.Open = true
	s.Answers.Fit.Err = errors.New("no way")
	p.Update(&s, &desk.Attention{})
	if p.says.Text != "no way" {
		t.Errorf("a failed answer: %q", p.says.Text)
	}
}

func TestDropBarPreviews(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewDrop(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	b := p.Bar
	if b.Slider.Max != 60 || !b.Keep.Disabled() {
		t.Fatalf("slider to %v, keep disabled %v", b.Slider.Max, b.Keep.Disabled())
	}
	b.Slider.SetValue(12.5)
	if len(h.drops) != 1 || h.drops[0] != 12.5 || b.Entry.Text != "12.50" {
		t.Fatalf("previews %v, field %q", h.drops, b.Entry.Text)
	}
	for _, bad := range []string{"61", "deep", ""} {
		b.Entry.SetText(bad)
		b.submit(bad)
		if len(h.drops) != 1 || b.line.Text == "" {
			t.Errorf("%q was taken: %v", bad, h.drops)
		}
	}
	b.submit("2 cm")
	if len(h.drops) != 2 || h.drops[1] != 20 {
		t.Errorf("2 cm: %v", h.drops)
	}
	if err := d.PreviewDrop(22); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	p.Update(&s, &h.at)
	if len(h.drops) != 2 {
		t.Errorf("an update previewed: %v", h.drops)
	}
	if b.Keep.Disabled() || b.Slider.Value != 22 || !strings.Contains(b.line.Text, "too low") {
		t.Errorf("at 22 mm: keep disabled %v, slider %v, %q", b.Keep.Disabled(), b.Slider.Value, b.line.Text)
	}
	test.Tap(b.Keep)
	test.Tap(b.Back)
	if h.kept != 1 || h.drops[len(h.drops)-1] != 0 {
		t.Errorf("kept %d, previews %v", h.kept, h.drops)
	}
	for i, r := range p.Grid.Rows() {
		if r.Key == "block to tray, static" {
			p.Grid.list.Select(i)
		}
	}
	if h.at.Finding == "" || len(h.flown) != 1 {
		t.Errorf("the limit of the tray shows %q, flights %v", h.at.Finding, h.flown)
	}
	if n := len(p.charts.Objects); n != 1 {
		t.Errorf("%d charts, want that of the half-shaft", n)
	}
}

func TestHeatCaseAndRow(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewHeat(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	if p.cases.Selected != "drive" || p.caution.Text != "Estimate for comparing positions. Not a release. Measure before use." {
		t.Errorf("case %q, caution %q", p.cases.Selected, p.caution.Text)
	}
	for i, r := range p.Grid.Rows() {
		if r.Key == "block" {
			p.Grid.list.Select(i)
		}
	}
	if len(h.at.Selected) != 1 || h.at.Selected[0] != "block" {
		t.Fatalf("selected %v", h.at.Selected)
	}
	p.Update(&s, &h.at)
	if !strings.HasPrefix(p.detail.Text, "block: ") {
		t.Errorf("detail %q", p.detail.Text)
	}
	p.picture.SetSelected("irradiation")
	if !h.at.Radiation {
		t.Error("the picture does not show irradiation")
	}
	h.at.Radiation = false
	p.Update(&s, &h.at)
	if p.picture.Selected != "temperature" || h.at.Radiation {
		t.Errorf("the choice does not follow: %q", p.picture.Selected)
	}
}

func TestSpotIsUsed(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewSpots(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	if len(p.Grid.Rows()) == 0 {
		t.Fatalf("no place: %q", p.says.Text)
	}
	if !p.Use.Disabled() {
		t.Error("a place can be used before one is chosen")
	}
	p.Grid.list.Select(0)
	if h.at.Rank != 1 || len(h.flown) != 1 {
		t.Fatalf("rank %d, flights %v", h.at.Rank, h.flown)
	}
	p.Update(&s, &h.at)
	test.Tap(p.Use)
	if len(h.used) != 1 || h.used[0].Study != "coil" || h.used[0].Place.Rank != 1 {
		t.Fatalf("used %+v", h.used)
	}
	s.Answers.Spots.Fresh = false
	p.Update(&s, &h.at)
	if !p.Use.Disabled() {
		t.Error("a place of an earlier state can be used")
	}
}

func TestSeeAndChangesSayWhatTheyKnow(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	see, changes := NewSee(h), NewChanges(h)
	s := d.State()
	see.Update(&s, &h.at)
	changes.Update(&s, &h.at)
	if !strings.Contains(see.says.Text, "Not computed yet") {
		t.Errorf("see: %q", see.says.Text)
	}
	if !strings.Contains(changes.says.Text, "No finding has changed") {
		t.Errorf("changes: %q", changes.says.Text)
	}
	if err := d.PreviewDrop(10); err != nil {
		t.Fatal(err)
	}
	settle(t, d)
	s = d.State()
	changes.Update(&s, &h.at)
	if rows := changes.Grid.Rows(); len(rows) == 0 || rows[len(rows)-1].Cells[0] == "" || !strings.Contains(changes.says.Text, "1 cured") {
		t.Errorf("changes after lowering: %q, %+v", changes.says.Text, rows)
	}
}
