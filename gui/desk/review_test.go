package desk

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"aftbay/geom/layout"
)

// minutes is a time of a review, counted from its start.
func minutes(n int) time.Time {
	return time.Date(2027, 1, 31, 9, n, 0, 0, time.UTC)
}

func TestReviewGoesThroughWhatFails(t *testing.T) {
	d := opened(t)
	s := d.State()
	all := NewReview(&s, ReviewChoices[1], ReviewOrders[0], nil, minutes(0))
	fails := NewReview(&s, ReviewChoices[0], ReviewOrders[0], nil, minutes(0))
	if len(fails.Keys) == 0 || len(fails.Keys) > len(all.Keys) {
		t.Fatalf("fails %q, with close %q", fails.Keys, all.Keys)
	}
	if !slices.Contains(fails.Keys, "block ~ lid @ static") {
		t.Errorf("the short pair has no slide: %q", fails.Keys)
	}
	for _, key := range fails.Keys {
		c, ok := ConcernOf(&s, key)
		if !ok || gravity(c.Verdict) >= gravity("close") {
			t.Errorf("%q is %q", key, c.Verdict)
		}
	}
	list := NewReview(&s, ReviewChoices[2], ReviewOrders[0], []string{"x", "y"}, minutes(0))
	if !slices.Equal(list.Keys, []string{"x", "y"}) {
		t.Errorf("the filtered list: %q", list.Keys)
	}
	if slide := SlideOf(&s, "x"); !slide.Gone {
		t.Error("a finding that is none is not told")
	}
	r := NewReview(&s, ReviewChoices[4], ReviewOrders[0], nil, minutes(0))
	must(t, d.Decide(layout.Decision{Finding: "block ~ lid @ static", State: "accepted", Owner: "Ada"}))
	s = d.State()
	if now := NewReview(&s, ReviewChoices[4], ReviewOrders[0], nil, minutes(0)); len(now.Keys) != len(r.Keys)-1 {
		t.Errorf("decided: %q of %q need a decision", now.Keys, r.Keys)
	}
	if open := NewReview(&s, ReviewChoices[3], ReviewOrders[3], nil, minutes(0)); len(open.Keys) != 0 {
		t.Errorf("open decisions: %q", open.Keys)
	}
}

func TestReviewClocks(t *testing.T) {
	r := &Review{Keys: []string{"a", "b"}, spent: make([]time.Duration, 3), since: minutes(0)}
	r.Go(1, minutes(2))
	if item, all := r.Spent(minutes(5)); item != 3*time.Minute || all != 5*time.Minute {
		t.Errorf("after five minutes: %v of %v", item, all)
	}
	r.Rest(minutes(6))
	if got := r.Clock(minutes(50)); got != "this 4:00   all 6:00   clock rests" {
		t.Errorf("resting: %q", got)
	}
	r.Rest(minutes(50))
	r.Go(-3, minutes(51))
	if r.At != 0 || r.Place() != "1 of 2" {
		t.Errorf("before the first: %d, %q", r.At, r.Place())
	}
	r.Go(7, minutes(52))
	if item, all := r.Spent(minutes(52)); r.Key() != "" || r.Place() != "summary" || item != 0 || all != 8*time.Minute {
		t.Errorf("summary: %q, %v of %v", r.Place(), item, all)
	}
	if got := clockText(3725 * time.Second); got != "1:02:05" {
		t.Errorf("an hour: %q", got)
	}
}

func TestSlideAndSummaryTellWhatWasSettled(t *testing.T) {
	d := opened(t)
	s := d.State()
	const key = "block ~ lid @ static"
	slide := SlideOf(&s, key)
	if slide.Title != "block to lid" || slide.Verdict != "short" || slide.Figures[0].Number != "12.00" || slide.Figures[1].Number != "15.00" || slide.Figures[2].Number != "-3.00" {
		t.Errorf("slide: %+v", slide)
	}
	if !strings.Contains(strings.Join(slide.Lines, "\n"), "Source: test") {
		t.Errorf("the source is missing: %q", slide.Lines)
	}
	r := &Review{Keys: []string{key, "gone ~ away @ static"}, spent: make([]time.Duration, 3), since: minutes(0)}
	must(t, d.Decide(layout.Decision{Finding: key, State: "accepted", Owner: "Ada", Due: "2027-02-14", Notes: "move it"}))
	s = d.State()
	if !s.Answers.Fit.Fresh || !s.Answers.Heat.Fresh || !s.Unsaved || s.Undo == "" {
		t.Error("a decision made the answers stale, or is no edit")
	}
	r.Go(1, minutes(3))
	r.Go(2, minutes(4))
	sum := ReviewSummary(&s, r, minutes(5))
	if got := strings.Join(sum.Rows[0].Cells, "|"); got != "block to lid, static|12.00 mm|accepted|Ada|2027-02-14|move it|3:00" {
		t.Errorf("row %q", got)
	}
	if sum.Rows[1].Cells[1] != "gone" || sum.Rows[1].Cells[2] != "none" {
		t.Errorf("a finding that is gone: %q", sum.Rows[1].Cells)
	}
	if foot := strings.Join(sum.Foot, " "); foot != "1 decided, 0 open, 1 without a word; 5:00 in all By Ada: 1, first due 2027-02-14" {
		t.Errorf("foot %q", foot)
	}
	must(t, d.Undo())
	s = d.State()
	if !SameDecision(SlideOf(&s, key).Decision, layout.Decision{Finding: key}) {
		t.Error("undo leaves the decision")
	}
}

func TestHeatSlideHasBandLimitAndCaution(t *testing.T) {
	d := heated(t)
	s := d.State()
	if s.Answers.Heat.Value == nil {
		t.Fatalf("no temperatures: %v", s.Answers.Heat.Err)
	}
	k, p := 0, s.Answers.Heat.Value.Cases[0].Parts[0]
	slide := SlideOf(&s, "heat: "+p.Name+" @ "+s.Answers.Heat.Value.Cases[k].Name)
	if slide.Gone || len(slide.Figures) < 3 || slide.Figures[0].Head != "low" || slide.Figures[2].Head != "high" {
		t.Fatalf("slide: %+v", slide)
	}
	if last := slide.Lines[len(slide.Lines)-1]; last != HeatCaution {
		t.Errorf("the last line is %q", last)
	}
}

func TestParseDue(t *testing.T) {
	today := minutes(0) // 2027-01-31, a Sunday
	for typed, want := range map[string]string{
		"": "", "2027-03-01": "2027-03-01", "+0": "2027-01-31", "+10": "2027-02-10", " +2w ": "2027-02-14",
	} {
		if got, err := ParseDue(typed, today); err != nil || got != want {
			t.Errorf("%q: %q, %v", typed, got, err)
		}
	}
	for _, bad := range []string{"tomorrow", "31.01.2027", "+x", "+-3", "+99999", "2027-02-30"} {
		if got, err := ParseDue(bad, today); err == nil {
			t.Errorf("%q became %q", bad, got)
		}
	}
}

func TestStillsShowTheNarrowestPlace(t *testing.T) {
	s, p := opened(t).State(), NewPainter()
	size := StillSize{WPx: 200, HPx: 120, TextPx: 12, Workers: 1}
	ctx := context.Background()
	cut, err := p.SectionStill(ctx, &s, "block ~ lid @ static", size)
	must(t, err)
	around, err := p.AroundStill(ctx, &s, "block ~ lid @ static", size)
	must(t, err)
	for _, still := range []*Still{cut, around} {
		if still.Image.Rect.Dx() != 200 || still.Caption == "" || blank(still) {
			t.Errorf("picture of %v, %q", still.Image.Rect, still.Caption)
		}
	}
	if none, err := p.SectionStill(ctx, &s, "heat: block @ drive", size); none != nil || err != nil {
		t.Errorf("a temperature has a section: %v, %v", none, err)
	}
	if none, err := p.AroundStill(ctx, &s, "nothing", size); none != nil || err != nil {
		t.Errorf("nothing has a picture: %v, %v", none, err)
	}
}

// blank reports whether a picture has one colour only.
func blank(still *Still) bool {
	pix := still.Image.Pix
	for i := 4; i < len(pix); i += 4 {
		if !slices.Equal(pix[:4], pix[i:i+4]) {
			return false
		}
	}
	return true
}

func TestStillOfATemperature(t *testing.T) {
	s, p := heated(t).State(), NewPainter()
	size := StillSize{WPx: 200, HPx: 120, TextPx: 12, Workers: 1}
	for k := range s.Answers.Heat.Value.Cases {
		still, err := p.AroundStill(context.Background(), &s, "heat: block @ "+s.Answers.Heat.Value.Cases[k].Name, size)
		must(t, err)
		if still == nil || blank(still) || !strings.Contains(still.Caption, "block") {
			t.Errorf("case %d: %+v", k, still)
		}
	}
}
