package page

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"aftbay/geom/layout"
	texts "aftbay/geom/say"
	"aftbay/gui/desk"
	"aftbay/gui/theme"
	"aftbay/thermal/outcome"
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
	p, b := NewDrop(h), NewDropBar(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	b.Update(&s)
	if b.Slider.Max != 60 || !b.Keep.Disabled() {
		t.Fatalf("slider to %v, keep disabled %v", b.Slider.Max, b.Keep.Disabled())
	}
	b.Slider.SetValue(25)
	if h.drops = nil; !strings.Contains(b.line.Text(), "too low") {
		t.Errorf("the sentence lags behind the slider: %q", b.line.Text())
	}
	b.Slider.SetValue(12.5)
	if len(h.drops) != 1 || h.drops[0] != 12.5 || b.Entry.Text != "12.50" {
		t.Fatalf("previews %v, field %q", h.drops, b.Entry.Text)
	}
	for _, bad := range []string{"61", "deep", ""} {
		b.Entry.SetText(bad)
		b.submit(bad)
		if len(h.drops) != 1 || b.line.Text() == "" {
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
	b.Update(&s)
	if len(h.drops) != 2 {
		t.Errorf("an update previewed: %v", h.drops)
	}
	if b.Keep.Disabled() || b.Slider.Value != 22 || !strings.Contains(b.line.Text(), "too low") {
		t.Errorf("at 22 mm: keep disabled %v, slider %v, %q", b.Keep.Disabled(), b.Slider.Value, b.line.Text())
	}
	test.Tap(b.Keep)
	test.Tap(b.Back)
	if h.kept != 1 || len(h.stands) != 1 || h.stands[0] != (desk.Stand{}) {
		t.Errorf("kept %d, back to %v", h.kept, h.stands)
	}
	test.Tap(b.Limit)
	if n := len(h.drops); n != 3 || h.drops[2] < 19.9 || h.drops[2] > 20 {
		t.Errorf("to the limit: %v", h.drops)
	}
	for i, r := range p.Grid.Rows() {
		if r.Key == "block to tray, static" {
			p.Grid.list.Select(i)
		}
	}
	if h.at.Finding == "" || len(h.flown) != 1 {
		t.Errorf("the limit of the tray shows %q, flights %v", h.at.Finding, h.flown)
	}
	p.Tabs.SelectIndex(1)
	if n := len(p.charts.Objects); n != 2 {
		t.Errorf("%d charts, want those of the half-shaft and of the clearances", n)
	}
	p.charts.Objects[0].(*Chart).OnAt(7.512)
	if h.drops[len(h.drops)-1] != 7.5 {
		t.Errorf("a place on a curve: %v", h.drops)
	}
	p.Tabs.SelectIndex(2)
	if rows := p.Gains.Rows(); len(rows) == 0 || !strings.HasPrefix(rows[0].Cells[0], "highest part") {
		t.Errorf("what it buys: %+v", rows)
	}
	p.Tabs.SelectIndex(4)
	if rows := p.Masses.Rows(); len(rows) < 4 {
		t.Errorf("masses: %+v", rows)
	}
}

// TestMapIsDrawnAndPicked: the button asks for the map, a tap on the plot
// previews the place under the pointer.
func TestMapIsDrawnAndPicked(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewDrop(h)
	shown(t, p, 500, 800)
	s := d.State()
	p.Update(&s, &h.at)
	p.Tabs.SelectIndex(3)
	test.Tap(p.Map.Start)
	if len(h.maps) != 1 || !h.maps[0] {
		t.Fatalf("asked for %v", h.maps)
	}
	d.WantMap()
	settle(t, d)
	s = d.State()
	p.Update(&s, &h.at)
	m := s.Answers.Map.Value
	if m == nil || !s.Answers.Map.Fresh || p.Map.says.Text != m.Sentence().String() || !p.Map.Start.Disabled() {
		t.Fatalf("map %v, %q", m != nil, p.Map.says.Text)
	}
	left, top, width, height := p.Map.Plot.frame()
	test.TapAt(p.Map.Plot, fyne.NewPos(left+width*0.75, top+height*0.5))
	n := len(m.ShiftsMM)
	if want := (desk.Stand{DropMM: m.DropsMM[len(m.DropsMM)/2], ShiftMM: m.ShiftsMM[n*3/4]}); len(h.stands) != 1 || h.stands[0] != want {
		t.Fatalf("picked %v, want %v", h.stands, want)
	}
	if err := d.PreviewStand(h.stands[0]); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	p.Update(&s, &h.at)
	b := NewDropBar(h)
	b.Update(&s)
	if !strings.Contains(p.Map.here.Text, desk.MapPageOf(&s).Here) || s.ShiftMM == 0 || b.Back.Disabled() {
		t.Errorf("here %q, shifted %v", p.Map.here.Text, s.ShiftMM)
	}
}

func TestHeatCaseAndRow(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewHeat(h)
	shown(t, p, 500, 700)
	s := d.State()
	p.Update(&s, &h.at)
	if p.cases.Selected != "drive" || p.caution.Text != "Estimate for comparing positions. Not a release. Measure before use. No measured validation yet." {
		t.Errorf("case %q, caution %q", p.cases.Selected, p.caution.Text)
	}
	if p.Part.hint.Hidden || !p.Soak.Hidden {
		t.Error("without a part and a soak: the hint alone")
	}
	for i, r := range p.Grid.Rows() {
		if r.Key == "block" {
			p.Grid.list.Select(i)
		}
	}
	if len(h.at.Selected) != 1 || h.at.Selected[0] != "block" || len(h.flown) != 1 {
		t.Fatalf("selected %v, flights %v", h.at.Selected, h.flown)
	}
	p.Update(&s, &h.at)
	if !strings.HasPrefix(p.Part.says.Text, "block: ") || p.Part.band.Hidden || p.Part.band.band.LimitText != "limit 120" {
		t.Errorf("says %q, band %+v", p.Part.says.Text, p.Part.band.band)
	}
	bars := p.Part.from.Bars()
	if len(bars) == 0 || bars[0].Part == "" && len(bars) == 1 {
		t.Fatalf("sources %+v", bars)
	}
	for i, b := range bars {
		if b.Part == "pipe" {
			p.Part.from.Tapped(&fyne.PointEvent{Position: fyne.NewPos(5, (float32(i)+0.5)*p.Part.from.step())})
		}
	}
	if h.at.Selected[0] != "pipe" {
		t.Errorf("a tap on the pipe's bar chose %v", h.at.Selected)
	}
	stale := s
	stale.Answers.Heat.Fresh = false
	p.Update(&stale, &h.at)
	if !p.veil.Visible() || !strings.HasPrefix(p.says.Text, "Before the last change: ") {
		t.Errorf("old figures pass as current: veil %v, says %q", p.veil.Visible(), p.says.Text)
	}
	stale.Answers.Heat.Rough = true
	p.Update(&stale, &h.at)
	if p.veil.Visible() || !strings.HasPrefix(p.says.Text, "Coarse, refining. ") {
		t.Errorf("coarse figures: veil %v, says %q", p.veil.Visible(), p.says.Text)
	}
	p.Update(&s, &h.at)
	p.picture.SetSelected("irradiation")
	if h.at.Heat != desk.Irradiated {
		t.Error("the picture does not show irradiation")
	}
	h.at.Heat = desk.SkinTemperature
	p.Update(&s, &h.at)
	if p.picture.Selected != "temperature of skin" || h.at.Heat != desk.SkinTemperature {
		t.Errorf("the choice does not follow: %q", p.picture.Selected)
	}
}

func TestSoakIsWalkedThrough(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	if err := d.Edit("soak", func(doc *layout.Document) error {
		doc.Spots = nil // not asked here
		doc.Heat.Cases = append(doc.Heat.Cases, layout.HeatCase{Name: "off", After: "drive", Minutes: new(10.0), AirSettlesDegC: new(40.0), AirTimeS: new(300.0)})
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	settle(t, d)
	p := NewHeat(h)
	shown(t, p, 500, 900)
	s := d.State()
	h.at.Selected = []string{"block"}
	p.Update(&s, &h.at)
	p.cases.SetSelectedIndex(1)
	p.Update(&s, &h.at)
	if h.at.Case != 1 || p.Soak.Hidden || p.Soak.Slider.Max != 10 || !p.Soak.Peaks.Disabled() || h.at.Timed {
		t.Fatalf("case %d, slider to %v, hidden %v", h.at.Case, p.Soak.Slider.Max, p.Soak.Hidden)
	}
	p.Soak.Slider.SetValue(3.5)
	if !h.at.Timed || h.at.TimeS != 210 {
		t.Errorf("the slider at 3.5 min looks at %v s", h.at.TimeS)
	}
	p.Update(&s, &h.at)
	if p.Soak.time.Text != "3.5 min" || p.Soak.Chart.chart.At != 3.5 || p.Soak.Peaks.Disabled() {
		t.Errorf("told %q, mark at %v", p.Soak.time.Text, p.Soak.Chart.chart.At)
	}
	p.Soak.Chart.Resize(fyne.NewSize(400, 150))
	left, right := p.Soak.Chart.plot()
	p.Soak.Chart.Tapped(&fyne.PointEvent{Position: fyne.NewPos(left+0.8*(right-left), 40)})
	if h.at.TimeS < 479 || h.at.TimeS > 481 {
		t.Errorf("a tap at 8 min looks at %v s", h.at.TimeS)
	}
	p.Update(&s, &h.at)
	if p.Soak.Slider.Value != 8 {
		t.Errorf("the slider stands at %v", p.Soak.Slider.Value)
	}
	test.Tap(p.Soak.Peaks)
	if h.at.Timed {
		t.Error("the peaks are not shown again")
	}
	p.Soak.Slider.SetValue(2)
	p.cases.SetSelectedIndex(0)
	if h.at.Timed || h.at.TimeS != 0 {
		t.Error("another case keeps the time of this one")
	}
}

func TestShieldFormTriesKeepsAndDrops(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewHeat(h)
	shown(t, p, 500, 900)
	s := d.State()
	p.Update(&s, &h.at)
	f := p.Shield
	if !f.Hidden {
		t.Error("without a part there is nothing to shield")
	}
	h.at.Selected = []string{"block"}
	p.Update(&s, &h.at)
	if f.Hidden || len(f.over.Options) == 0 || f.over.Selected != f.over.Options[0] || !f.act.Hidden {
		t.Fatalf("hidden %v, may cover %v, chosen %q", f.Hidden, f.over.Options, f.over.Selected)
	}
	f.offset.SetText("far")
	test.Tap(f.Try)
	if len(h.tried) != 0 || !strings.Contains(f.says.Text, "far") {
		t.Errorf("a bad offset: tried %d, says %q", len(h.tried), f.says.Text)
	}
	f.over.SetSelected("pipe")
	f.form.SetSelected("plate")
	f.offset.SetText("20 mm")
	test.Tap(f.Try)
	if len(h.tried) != 1 || h.tried[0].Over != "pipe" || h.tried[0].For != "block" || h.tried[0].Form != "plate" || *h.tried[0].OffsetMM != 20 {
		t.Fatalf("tried %+v", h.tried)
	}
	if err := d.TryShield(h.tried[0]); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	p.Update(&s, &h.at)
	if f.act.Hidden || !s.Answers.Shield.Fresh && !f.Keep.Disabled() {
		t.Error("it can be kept before its answer")
	}
	settle(t, d)
	s = d.State()
	p.Update(&s, &h.at)
	if f.Keep.Disabled() || len(f.table.Rows()) == 0 || f.table.Rows()[0].Key != "block/drive" {
		t.Errorf("keep disabled %v, says %q", f.Keep.Disabled(), f.says.Text)
	}
	f.without.SetChecked(true)
	if !h.at.Without {
		t.Error("the scene stays with it")
	}
	test.Tap(f.Keep)
	test.Tap(f.Drop)
	if h.keptShield != 1 || h.dropped != 1 {
		t.Errorf("kept %d, dropped %d", h.keptShield, h.dropped)
	}
}

// TestLayoutShieldGoesOnTrial: a row of the shields of the layout chooses its part
// and tries its shield.
func TestLayoutShieldGoesOnTrial(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewHeat(h)
	shown(t, p, 500, 900)
	s := d.State()
	p.Update(&s, &h.at)
	if !p.Shields.Hidden {
		t.Error("a table of no shields")
	}
	if err := d.Edit("a shield", func(doc *layout.Document) error {
		doc.Heat.Shields = []layout.Shield{{Name: "plate", Over: "pipe", For: "block", Form: "plate", OffsetMM: new(15.0)}}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	settle(t, d)
	s = d.State()
	p.Update(&s, &h.at)
	if p.Shields.Hidden || p.Shields.room.Hidden || len(p.Shields.table.Rows()) != 1 {
		t.Fatalf("hidden %v, %d rows", p.Shields.Hidden, len(p.Shields.table.Rows()))
	}
	p.Shields.table.Step(1)
	if len(h.tried) != 1 || h.tried[0].Name != "plate" || len(h.at.Selected) != 1 || h.at.Selected[0] != "block" {
		t.Errorf("tried %+v for %v", h.tried, h.at.Selected)
	}
}

func TestReadoutKeepsClearOfThePointerAndTheEdge(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(theme.New(theme.Light))
	r := NewReadout()
	shown(t, r, 300, 200)
	for _, at := range []fyne.Position{fyne.NewPos(10, 10), fyne.NewPos(290, 10), fyne.NewPos(10, 190), fyne.NewPos(290, 190)} {
		r.ShowAt(at, []string{"coil 5  133 °C", "low 96, nominal 133, high 172 °C"})
		plate := test.WidgetRenderer(r).(*readoutRenderer).plate
		low, high := plate.Position(), plate.Position().Add(plate.Size())
		if plate.Hidden || low.X < 0 || low.Y < 0 || high.X > r.Size().Width || high.Y > r.Size().Height {
			t.Errorf("pointer at %v: plate from %v to %v", at, low, high)
		}
		if at.X > low.X && at.X < high.X && at.Y > low.Y && at.Y < high.Y {
			t.Errorf("pointer at %v: under the plate", at)
		}
	}
	r.ShowAt(fyne.Position{}, nil)
	if !test.WidgetRenderer(r).(*readoutRenderer).plate.Hidden {
		t.Error("an empty plate stays")
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
	p.Why.SetChecked(true)
	if !h.at.Why {
		t.Error("the map is not asked for")
	}
	p.matters.SetSelected(desk.PriorityCool)
	if len(h.preferred) != 1 || h.preferred[0] != "coil: "+desk.PriorityCool {
		t.Errorf("preferred %q", h.preferred)
	}
	if !p.UseAll.Hidden {
		t.Error("one component alone can be used together")
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
	if !strings.Contains(see.says.Text, "no rear_view") {
		t.Errorf("see: %q", see.says.Text)
	}
	if !strings.Contains(changes.says.Text, "Nothing changed from opening to now.") {
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

// TestChangesMakeRoomForTheirWords: sentences that come later, on more lines,
// push the lists down instead of running into them.
func TestChangesMakeRoomForTheirWords(t *testing.T) {
	d, h := bench(t), &hostSpy{}
	p := NewChanges(h)
	shown(t, p, 420, 700)
	s := d.State()
	p.Update(&s, &h.at)
	words := strings.Repeat("Heat: a part is newly over its limit. ", 12)
	s.Answers.Outcomes = desk.Answer[outcome.Result]{Value: &outcome.Result{Heat: &outcome.Heat{Change: outcome.New, Sentence: texts.Of(words)}}, Fresh: true}
	p.Update(&s, &h.at)
	if !strings.Contains(p.rest.Text, words) {
		t.Fatalf("no word of the heat: %q", p.rest.Text)
	}
	at := func(o fyne.CanvasObject) float32 {
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y
	}
	if foot, list := at(p.rest)+p.rest.MinSize().Height, at(p.List); foot > list+1 {
		t.Errorf("the words end at %g, the list begins at %g", foot, list)
	}
}
