package desk

import (
	"context"
	"math"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/thermal/balance"
)

// heated returns a desk with the small layout, quick to solve, and a soak.
func heated(t *testing.T) *Desk {
	t.Helper()
	d := New(2, nil)
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := d.Open(context.Background(), smallLayout(t)); err != nil {
		t.Fatal(err)
	}
	err := d.Edit("heat", func(doc *layout.Document) error {
		doc.Heat.Cases = append(doc.Heat.Cases, layout.HeatCase{
			Name: "off", After: "drive", Minutes: ptr(20.0), AirSettlesDegC: ptr(50.0), AirTimeS: ptr(600.0),
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	wait(t, d)
	return d
}

func sumBars(bars []Bar) (share float64) {
	for _, b := range bars {
		share += b.Share + b.SecondShare
	}
	return share
}

func TestHeatPartTellsBandSourcesAndWays(t *testing.T) {
	s := heated(t).State()
	a := Attention{Page: Heats, Selected: []string{"block"}}
	p := HeatPartOf(&s, &a)
	ph := partHeat(&s, 0, "block")
	if p == nil || ph == nil {
		t.Fatal("nothing is told of the block")
	}
	b := p.Band
	if b.FromDegC > b.LowDegC || b.LowDegC > b.NominalDegC || b.NominalDegC > b.HighDegC || b.HighDegC > b.ToDegC || b.LimitDegC != 120 || b.LimitText != "limit 120" {
		t.Errorf("band %+v", b)
	}
	if got := sumBars(p.From); math.Abs(got-1) > 0.01 {
		t.Errorf("sources sum to %v: %+v", got, p.From)
	}
	if got := sumBars(p.Ways); math.Abs(got-1) > 0.02 {
		t.Errorf("ways of heat sum to %v: %+v", got, p.Ways)
	}
	if !strings.Contains(strings.Join(p.Says, " "), "Close: nominal 95, up to 115 °C, limit 120 °C: the high end is 5 K below it.") || !strings.Contains(strings.Join(p.Others, " "), "Band: most from") {
		t.Errorf("says %q, %q", p.Says, p.Others)
	}
	a.Selected = []string{"pipe"}
	if held := HeatPartOf(&s, &a); !strings.Contains(held.Says[0], "held at this temperature, 600 °C") {
		t.Errorf("the pipe says %q", held.Says)
	}
	for _, none := range []Attention{{Page: Heats}, {Selected: []string{"block"}, Case: 7}, {Selected: []string{"nobody"}}} {
		if HeatPartOf(&s, &none) != nil {
			t.Errorf("something is told of %v in case %d", none.Selected, none.Case)
		}
	}
}

func TestHeatWarnings(t *testing.T) {
	s := heated(t).State()
	r := s.Answers.Heat.Value
	r.Warnings = append(r.Warnings,
		balance.Warning{Kind: balance.Ignites, Part: "tray", Near: "pipe", Text: say.Of("tray: leaks")},
		balance.Warning{Kind: balance.Ignites, Part: "lid", Near: "pipe", Text: say.Of("lid: leaks")},
		balance.Warning{Kind: balance.Ignites, Part: "tray", Near: "block", Text: say.Of("tray: drips")},
		balance.Warning{Kind: balance.Ignites, Part: "lid", Near: "block", Text: say.Of("lid: drips")},
	)
	all := strings.Join(HeatWarnings(&s, &Attention{Page: Heats}), "\n")
	for _, want := range []string{"Tray: leaks", "Tray: drips", "And 1 more like these", "Drive: ", "within a second of contact"} {
		if !strings.Contains(all, want) {
			t.Errorf("without a part %q is missing:\n%s", want, all)
		}
	}
	if strings.Contains(all, "Off: ") || strings.Contains(all, "Lid: drips") {
		t.Errorf("too much is told:\n%s", all)
	}
	pipe := strings.Join(HeatWarnings(&s, &Attention{Page: Heats, Selected: []string{"pipe"}}), "\n")
	if !strings.Contains(pipe, "Touching it for ") || !strings.Contains(pipe, "Tray: leaks\nLid: leaks") || strings.Contains(pipe, "drips") {
		t.Errorf("of the pipe:\n%s", pipe)
	}
}

// The slider keeps one scale, and every moment shows the curve's figure.
func TestSoakPictureFollowsTheCurve(t *testing.T) {
	s := heated(t).State()
	p := NewPainter()
	a := Attention{Page: Heats, Case: 1, Selected: []string{"block"}}
	chart, ok := SoakChart(&s, &a)
	if !ok || chart.X != [2]float64{0, 20} || chart.At >= 0 || len(chart.Marks) != 1 || len(chart.Lines) != 4 {
		t.Fatalf("chart %+v", chart)
	}
	ph := partHeat(&s, 1, "block")
	peaks := p.Picture(&s, &a)
	if got := peaks.Items[0].Field[0]; got != float32(ph.Temperature.NominalDegC) {
		t.Errorf("peaks show %v, want %v", got, ph.Temperature.NominalDegC)
	}
	for _, k := range []int{0, 20, 60} {
		at := ph.Curve[k]
		a.Timed, a.TimeS = true, at.TimeS
		pic := p.Picture(&s, &a)
		if got := float64(pic.Items[0].Field[0]); math.Abs(got-at.TemperatureDegC) > 0.01 {
			t.Errorf("at %v s the picture shows %v, the curve %v", at.TimeS, got, at.TemperatureDegC)
		}
		if pic.Field.Low != peaks.Field.Low || pic.Field.High != peaks.Field.High {
			t.Errorf("at %v s the scale goes from %v to %v, before from %v to %v", at.TimeS, pic.Field.Low, pic.Field.High, peaks.Field.Low, peaks.Field.High)
		}
		if !strings.Contains(pic.Field.Title, units.FormatMin(at.TimeS)+" after key-off") {
			t.Errorf("title %q", pic.Field.Title)
		}
		if c, _ := SoakChart(&s, &a); c.At != at.TimeS/60 {
			t.Errorf("the plot marks %v min", c.At)
		}
	}
	a.Case = 0
	if _, ok := SoakChart(&s, &a); ok {
		t.Error("a standing case has no curves")
	}
}

func TestAboveIsWhereTheCurvePassesTheLimit(t *testing.T) {
	s := heated(t).State()
	curve := partHeat(&s, 1, "pipe").Curve
	start, end := curve[0].HighDegC, curve[len(curve)-1].HighDegC
	limitDegC := (start + end) / 2
	bad := above(curve, limitDegC)
	if len(bad) != 1 || bad[0][0] != 0 || bad[0][1] <= 0 || bad[0][1] >= 20 {
		t.Fatalf("the cooling pipe is above the middle during %v min", bad)
	}
	if bad := above(curve, start+1); bad != nil {
		t.Errorf("above what it never reaches: %v", bad)
	}
}

func TestReadoutTellsPartValueAndBand(t *testing.T) {
	s := heated(t).State()
	p := NewPainter()
	ph := partHeat(&s, 0, "block")
	for _, c := range []struct {
		shows HeatPicture
		unit  string
		also  string
	}{
		{PartTemperature, " °C", "low " + units.NumberDegC(ph.Temperature.LowDegC)},
		{SkinTemperature, " °C", "part as a whole"},
		{Irradiated, " kW/m²", "mean " + units.NumberKWM2(ph.Irradiation.MeanWM2)},
	} {
		a := Attention{Page: Heats, Heat: c.shows}
		pic := p.Picture(&s, &a)
		lines := Readout(&s, &a, &pic, 0, 3)
		text := strings.Join(lines, "; ")
		if len(lines) != 3 || !strings.HasPrefix(lines[0], "block  ") || !strings.HasSuffix(lines[0], c.unit) || !strings.Contains(text, c.also) || !strings.Contains(text, "limit 120 °C") {
			t.Errorf("%s: %q", HeatPictures[c.shows], text)
		}
		if len(pic.Items[0].Field) != len(pic.Items[0].Mesh.Tris) {
			t.Errorf("%s: %d values for %d triangles", HeatPictures[c.shows], len(pic.Items[0].Field), len(pic.Items[0].Mesh.Tris))
		}
		s.Answers.Heat.Fresh = false
		if stale := Readout(&s, &a, &pic, 0, 3); !strings.Contains(strings.Join(stale, ";"), "earlier state") {
			t.Errorf("stale: %q", stale)
		}
		if old := p.Picture(&s, &a); !old.Field.Faded || !strings.HasPrefix(old.Note, "Of an earlier state") {
			t.Errorf("stale picture: faded %v, note %q", old.Field.Faded, old.Note)
		}
		s.Answers.Heat.Fresh = true
	}
	fits := Attention{Page: Fits}
	pic := p.Picture(&s, &fits)
	if lines := Readout(&s, &fits, &pic, 0, 3); lines != nil {
		t.Errorf("another page: %q", lines)
	}
}

// The surface is shown as finely as it was solved, and the edges stay those of
// the part.
func TestSkinIsShownAsFinelyAsSolved(t *testing.T) {
	s := heated(t).State()
	p := NewPainter()
	whole := p.Picture(&s, &Attention{Page: Heats})
	skin := p.Picture(&s, &Attention{Page: Heats, Heat: SkinTemperature})
	if len(skin.Items[0].Mesh.Tris) <= len(whole.Items[0].Mesh.Tris) || len(skin.Items[0].Edges) != len(whole.Items[0].Edges) {
		t.Errorf("%d triangles and %d edges, as a whole %d and %d", len(skin.Items[0].Mesh.Tris), len(skin.Items[0].Edges), len(whole.Items[0].Mesh.Tris), len(whole.Items[0].Edges))
	}
	low, high := skin.Items[0].Field[0], skin.Items[0].Field[0]
	for _, v := range skin.Items[0].Field {
		low, high = min(low, v), max(high, v)
	}
	if high-low < 0.1 { // a metal wall evens it out
		t.Errorf("the side towards the pipe is no hotter: %v to %v °C", low, high)
	}
}

func TestArrowsLeadFromTheSources(t *testing.T) {
	s := heated(t).State()
	p := NewPainter()
	pic := p.Picture(&s, &Attention{Page: Heats, Selected: []string{"block"}})
	if len(pic.Overlay.Flows) == 0 {
		t.Fatal("no arrows")
	}
	f := pic.Overlay.Flows[0]
	ph := partHeat(&s, 0, "block")
	if !strings.HasPrefix(f.Text, "pipe ") || f.To != ph.Irradiation.PeakAtMM || f.From[1] < 259.9 {
		t.Errorf("first arrow %+v, hottest place %v", f, ph.Irradiation.PeakAtMM)
	}
	stale := s
	stale.Answers.Heat.Fresh = false
	if old := p.Picture(&stale, &Attention{Page: Heats, Selected: []string{"block"}}); old.Overlay.Flows != nil {
		t.Error("arrows of an earlier state stay")
	}
	if len(pic.Field.Marks) != 1 || pic.Field.Marks[0].Text != "limit 120" {
		t.Errorf("marks %+v", pic.Field.Marks)
	}
}

// A coarse answer comes first, is told as such, and is never taken for fresh.
func TestCoarseComesFirst(t *testing.T) {
	d := heated(t)
	d.mu.Lock()
	d.answers.Heat.lapse()
	first, ok := d.next()
	d.mu.Unlock()
	if !ok {
		t.Fatal("nothing to do")
	}
	if err := first.run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	s := d.State()
	if h := &s.Answers.Heat; h.Fresh || !h.Rough || !h.Value.Coarse || !h.pending() {
		t.Fatalf("after the first job: fresh %v, rough %v", h.Fresh, h.Rough)
	}
	if text := HeatSentence(&s, 0); !strings.HasPrefix(text, "Coarse, refining. ") || s.Tiles[Heats].Stale {
		t.Errorf("says %q, stale %v", text, s.Tiles[Heats].Stale)
	}
	pic := NewPainter().Picture(&s, &Attention{Page: Heats})
	if pic.Field.Faded || !strings.HasPrefix(pic.Note, "Coarse, refining.") {
		t.Errorf("faded %v, note %q", pic.Field.Faded, pic.Note)
	}
	d.poke()
	wait(t, d)
	if s := d.State(); !s.Answers.Heat.Fresh || s.Answers.Heat.Rough || s.Answers.Heat.Value.Coarse {
		t.Error("the fine answer does not follow")
	}
}

// TestHeatWords: what is counted is said in good words, and a layout without a
// heat case says so on the command line as in the window.
func TestHeatWords(t *testing.T) {
	for want, n := range map[string]judgedHeat{
		"0 parts over their limit at the high end, 2 close":                       {near: 2},
		"1 part over its limit at the high end, 0 close":                          {over: 1},
		"2 parts over their limit at the high end, 1 at the nominal too, 3 close": {over: 2, nominal: 1, near: 3},
	} {
		if got := n.text(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	foot := strings.Join(HeatTable(&balance.Result{}).Foot, "\n")
	s := State{Answers: Answers{Heat: Answer[balance.Result]{Value: &balance.Result{}, Fresh: true}}}
	if !strings.Contains(foot, "no heat case") || !strings.Contains(foot, HeatSentence(&s, 0)) {
		t.Errorf("%q, the page says %q", foot, HeatSentence(&s, 0))
	}
}
