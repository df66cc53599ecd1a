package page

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	fynetheme "fyne.io/fyne/v2/theme"

	"aftbay/gui/desk"
	"aftbay/gui/theme"
	"aftbay/thermal/balance"
)

// letters measures a text by counting.
func letters(text string) float32 { return float32(len([]rune(text))) }

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width float32
		most  int
		want  string
		whole bool
	}{
		{"one two three", 20, 2, "one two three", true},
		{"one two three", 8, 2, "one two|three", true},
		{"one two three", 8, 1, "one two…", false},
		{"one two three four", 8, 2, "one two|three f…", false},
		{"unbreakable", 6, 2, "unbre…", false},
		{"", 6, 2, "", true},
		{"block at 95 °C; pump", 12, 3, "block at|95 °C; pump", true},
		{"down to 6.5 mm", 10, 3, "down to|6.5 mm", true},
	} {
		lines, whole := wrap(c.text, c.width, c.most, letters)
		if got := strings.Join(lines, "|"); got != c.want || whole != c.whole {
			t.Errorf("wrap(%q, %v, %d) = %q, %v; want %q, %v", c.text, c.width, c.most, got, whole, c.want, c.whole)
		}
		for _, l := range lines {
			if letters(l) > c.width {
				t.Errorf("%q is wider than %v", l, c.width)
			}
		}
	}
}

// What a tile says of a job is shortened by whole words.
func TestShorterNews(t *testing.T) {
	for _, c := range []struct {
		news  string
		width float32
		want  string
	}{
		{"computing … 39 %", 16, "computing … 39 %"},
		{"computing … 39 %", 15, "… 39 %"},
		{"computing …", 8, "…"},
		{"computing … 39 %", 4, "…"},
		{"earlier state", 9, "earlier…"},
	} {
		if got := shorter(c.news, c.width, letters); got != c.want {
			t.Errorf("%q in %g: %q, want %q", c.news, c.width, got, c.want)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64 // Bare numbers: of an axis
		most      int
		want      []float64
	}{
		{0, 80, 8, []float64{0, 10, 20, 30, 40, 50, 60, 70, 80}},
		{8.2, 17.6, 5, []float64{10, 12, 14, 16}},
		{-3, 3, 3, []float64{-2, 0, 2}},
		{5, 5, 4, nil},
	} {
		got := ticks(c.low, c.high, c.most)
		if len(got) != len(c.want) {
			t.Errorf("ticks(%v, %v, %d) = %v, want %v", c.low, c.high, c.most, got, c.want)
			continue
		}
		for i := range got {
			if diff := got[i] - c.want[i]; diff > 1e-9 || diff < -1e-9 {
				t.Errorf("ticks(%v, %v, %d) = %v, want %v", c.low, c.high, c.most, got, c.want)
			}
		}
	}
}

func TestTileOpensItsPage(t *testing.T) {
	test.NewTempApp(t)
	var opened []desk.Question
	s := NewStrip(func(q desk.Question) { opened = append(opened, q) })
	shown(t, s, 1200, 80)
	s.SetTiles([6]desk.Tile{{Question: "Does it fit?", Answer: "no", Verdict: "short", Busy: "computing … 3 %"}}, desk.Fits)
	test.Tap(s.Tile(desk.Heats))
	s.Tile(desk.Mounts).TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	s.Tile(desk.Mounts).TypedKey(&fyne.KeyEvent{Name: fyne.KeyA})
	if len(opened) != 2 || opened[0] != desk.Heats || opened[1] != desk.Mounts {
		t.Errorf("opened %v", opened)
	}
	r := test.WidgetRenderer(s.Tile(desk.Fits)).(*tileRenderer)
	if r.question[0].Text != "Does it fit?" || r.answer[0].Text != "no" || !strings.HasSuffix(r.news.Text, "3 %") {
		t.Errorf("tile shows %q, %q, %q", r.question[0].Text, r.answer[0].Text, r.news.Text)
	}
}

func TestGridKeepsNamesWholeAndItsChoice(t *testing.T) {
	test.NewTempApp(t)
	var told []string
	g := NewGrid("nothing", func(r desk.Row) { told = append(told, r.Key) })
	shown(t, g, 800, 300)
	table := desk.Table{
		Columns: []desk.Column{{Head: "part"}, {Head: "to"}, {Head: "gap mm", Right: true}, {Head: "asked", Right: true}, {Head: "margin", Right: true}},
		Rows: []desk.Row{
			{Cells: []string{"oil hose feed", "subframe side left", "-3.23", "10.00", "-13.23"}, Verdict: "overlap", Key: "a", Parts: []string{"oil hose feed", "subframe side left"}},
			{Cells: []string{"plenum", "deck lid", "5.98", "15.00", "-9.02"}, Verdict: "short", Key: "b", Parts: []string{"plenum", "deck lid"}},
		},
	}
	g.SetTable(table)
	if g.fit.stacked {
		t.Error("two lines a row although there is room")
	}
	g.Resize(fyne.NewSize(260, 300))
	if !g.fit.stacked {
		t.Error("one line a row although names are cut")
	}
	g.list.Select(1)
	g.Choose("a")
	if len(told) != 1 || told[0] != "b" {
		t.Errorf("told %v, want the click only", told)
	}
	table.Rows = append([]desk.Row{{Cells: []string{"x", "y", "1", "2", "-1"}, Key: "c"}}, table.Rows...)
	g.SetTable(table)
	if len(told) != 1 || g.chosen != "a" {
		t.Errorf("after new rows: told %v, chosen %q", told, g.chosen)
	}
	g.SetTable(desk.Table{Columns: table.Columns})
	if g.empty.Hidden || !g.list.Hidden {
		t.Error("an empty table does not say so")
	}
}

func TestStatusCancelsAndResumes(t *testing.T) {
	test.NewTempApp(t)
	cancelled, resumed := 0, 0
	s := NewStatus(func() { cancelled++ }, func() { resumed++ })
	shown(t, s, 700, 40)
	st := desk.State{Status: "working"}
	st.Answers.Heat.Job = desk.Job{Running: true, Done: 1, Total: 4}
	s.Update(&st)
	if s.Text() != "working" || s.Button.Hidden || s.bar.Value != 0.25 {
		t.Fatalf("%q, button hidden %v, bar %v", s.Text(), s.Button.Hidden, s.bar.Value)
	}
	test.Tap(s.Button)
	st.Answers.Heat = desk.Answer[balance.Result]{Err: desk.ErrCancelled}
	s.Update(&st)
	test.Tap(s.Button)
	if cancelled != 1 || resumed != 1 {
		t.Errorf("cancelled %d, resumed %d", cancelled, resumed)
	}
	s.Update(&desk.State{})
	if !s.Button.Hidden {
		t.Error("the button stays when nothing runs")
	}
}

// TestDropFieldGrowsWithItsLetters: a look of larger letters, taken while the bar
// stands, does not cut the figure.
func TestDropFieldGrowsWithItsLetters(t *testing.T) {
	app := test.NewTempApp(t)
	app.Settings().SetTheme(theme.New(theme.Light))
	b := NewDropBar(&hostSpy{})
	shown(t, b, 900, 200)
	app.Settings().SetTheme(theme.New(theme.Review))
	b.Refresh()
	test.WidgetRenderer(b).Layout(fyne.NewSize(900, 200))
	if got, least := b.Entry.Size(), b.Entry.MinSize(); got.Height < least.Height || got.Width < figureLetters*20 {
		t.Errorf("the field is %v, it needs %v", got, least)
	}
}

// Names of curves, however long, and of limits do not stand in each other.
func TestChartNamesStandApart(t *testing.T) {
	test.NewTempApp(t)
	c := NewChart()
	chart := desk.Chart{Title: "clearance", Unit: "mm", Against: "the drop", X: [2]float64{0, 80}, Y: [2]float64{0, 30}}
	for i, name := range []string{"crank pulley to subframe cross front, moving", "bell housing to undertray, moving", "bell housing to undertray, static", "plenum", "sump to undertray, all together"} {
		y := 10 + 0.1*float64(i)
		chart.Lines = append(chart.Lines, desk.ChartLine{Name: name, X: []float64{0, 80}, Y: []float64{y, y}})
	}
	chart.Lines = append(chart.Lines, desk.ChartLine{Name: "what is asked", Limit: true, X: []float64{0, 80}, Y: []float64{10, 10}})
	c.SetChart(chart)
	shown(t, c, 420, c.MinSize().Height)
	var names []*canvas.Text
	for _, o := range test.WidgetRenderer(c).Objects() {
		if text, ok := o.(*canvas.Text); ok && len(text.Text) > 3 && !text.TextStyle.Bold {
			names = append(names, text)
		}
	}
	if len(names) != len(chart.Lines) {
		t.Fatalf("%d names of %d", len(names), len(chart.Lines))
	}
	for i, a := range names {
		for _, b := range names[:i] {
			p, q := a.Position(), b.Position()
			if p.X < q.X+b.MinSize().Width && q.X < p.X+a.MinSize().Width && p.Y < q.Y+b.TextSize && q.Y < p.Y+a.TextSize {
				t.Errorf("%q at %v and %q at %v", a.Text, p, b.Text, q)
			}
		}
	}
}

// A tile never cuts its question, and its answer only where even small letters
// have no room.
func TestTileTextsStayWhole(t *testing.T) {
	app := test.NewTempApp(t)
	answers := []string{
		"5 fail; worst oil hose feed overlaps subframe side left by 3.23 mm (static)",
		"9.03 to 28.54 mm; then half-shaft left reaches 12.0° at full bump",
		"100.00 % of the road seen, 85 % asked; deck lid may rise 5.64 mm",
		"4 over; worst coil 5 nominal 140, up to 162 °C, limit 130 °C (slow climb)",
		"coil 5 elsewhere: on block at 100 °C; crank sensor elsewhere: on block at 95 °C",
		"nothing changed since opening",
	}
	questions := []string{"Does it fit?", "How low can it go?", "Can the driver see?", "What gets hot?", "Where can it be mounted?", "What changed?"}
	for _, th := range []*theme.Theme{theme.New(theme.Light), theme.For(theme.Review, 800)} {
		app.Settings().SetTheme(th)
		for i, answer := range answers {
			tile := NewTile(nil)
			shown(t, tile, 206, 150)
			tile.SetTile(desk.Tile{Question: questions[i], Answer: answer, Verdict: "ok", Stale: true}, false)
			r := test.WidgetRenderer(tile).(*tileRenderer)
			said := func(lines []*canvas.Text) string {
				var words []string
				for _, line := range lines {
					words = append(words, strings.Fields(line.Text)...)
				}
				return strings.Join(words, " ")
			}
			if got := said(r.question[:]); got != questions[i] {
				t.Errorf("%v: %q asks %q", th.Look, questions[i], got)
			}
			if got := said(r.answer[:]); strings.ReplaceAll(got, ";", "") != strings.ReplaceAll(answer, ";", "") {
				t.Errorf("%v: %q says %q", th.Look, answer, got)
			}
			if least := th.Size(fynetheme.SizeNameCaptionText); r.question[0].TextSize < least {
				t.Errorf("%v: a question in letters of %g", th.Look, r.question[0].TextSize)
			}
		}
	}
}
