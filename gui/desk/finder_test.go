package desk

import (
	"slices"
	"strings"
	"testing"

	"aftbay/geom/clearance"
)

func TestFinderNarrowsAndSorts(t *testing.T) {
	table := Table{Columns: []Column{text("part"), number("gap mm")}, Rows: []Row{
		{Cells: []string{"hose", "−3.5"}, Verdict: "overlap", Key: "1", Parts: []string{"hose", "frame"}, Roles: []string{"hose", "body"}, State: "static"},
		{Cells: []string{"Coil 5", "12 more"}, Verdict: "short", Key: "2", Parts: []string{"Coil 5"}, Roles: []string{"coil"}, State: "hot"},
		{Cells: []string{"coil 4", ""}, Verdict: "close", Key: "3", Parts: []string{"coil 4"}, Roles: []string{"coil"}, State: "moving"},
		{Cells: []string{"lid", "9.1"}, Verdict: "ok", Key: "4", Parts: []string{"lid"}, Roles: []string{"deck"}, State: "static"},
	}}
	for _, c := range []struct {
		name string
		f    Finder
		want string
	}{
		{"all as they come", Finder{}, "1234"},
		{"numbers with sign and words after, empty last", Finder{By: 2}, "1423"},
		{"downward, empty still last", Finder{By: 2, Down: true}, "2413"},
		{"words, capitals aside", Finder{By: 1}, "3214"},
		{"search over capitals", Finder{Search: "COIL"}, "23"},
		{"all words must be there", Finder{Search: " coil  short "}, "2"},
		{"search in roles", Finder{Search: "deck"}, "4"},
		{"verdict", Finder{Verdict: "ok"}, "4"},
		{"state", Finder{State: "static"}, "14"},
		{"role", Finder{Role: "coil"}, "23"},
		{"part", Finder{Part: "frame"}, "1"},
		{"two at once", Finder{Role: "coil", State: "hot"}, "2"},
		{"no such column", Finder{By: 9}, "1234"},
		{"question", Finder{Question: "heat"}, ""},
	} {
		got := ""
		for _, r := range table.Found(c.f).Rows {
			got += r.Key
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	c := table.Choices()
	if !slices.Equal(c.Verdicts, []string{"overlap", "short", "close", "ok"}) || !slices.Equal(c.States, []string{"hot", "moving", "static"}) || len(c.Questions) != 0 || len(c.Parts) != 5 {
		t.Errorf("choices %+v", c)
	}
	if FoundText(4, 4, Finder{By: 1}) != "" || FoundText(2, 4, Finder{Role: "coil"}) != "2 of 4" || FoundText(0, 4, Finder{Search: "x"}) != "none of 4 is like that" {
		t.Error("what was found is not told")
	}
}

// Every question has its part in the list of all, and each leads to its page.
func TestConcernsLeadToTheirPages(t *testing.T) {
	s := opened(t).State()
	rows := ConcernsPage(&s).Rows
	if len(rows) == 0 {
		t.Fatal("nothing fails")
	}
	last := 0
	for _, row := range rows {
		c, ok := ConcernOf(&s, row.Key)
		if !ok {
			t.Errorf("%q is not found again", row.Key)
			continue
		}
		if gravity(c.Verdict) < last {
			t.Errorf("%q stands below what is less grave", row.Key)
		}
		last = gravity(c.Verdict)
		var a Attention
		LookAtConcern(&a, &c)
		if a.Page != c.Page || c.Page == Fits && a.Finding != row.Key {
			t.Errorf("%q leads to page %d, finding %q", row.Key, a.Page, a.Finding)
		}
	}
	n := 0
	for i := range s.Answers.Fit.Value.Pairs {
		if v := s.Answers.Fit.Value.Pairs[i].Verdict; clearance.Fails(v) || v == clearance.Close {
			n++
		}
	}
	of := ConcernsPage(&s).Found(Finder{Question: "fit"})
	if len(of.Rows) != n {
		t.Errorf("%d findings of the fit, want %d", len(of.Rows), n)
	}
}

func TestEmptyListsSayWhatToDoNext(t *testing.T) {
	s := opened(t).State()
	none := s
	none.Answers.Fit.Value = &clearance.Result{}
	for _, c := range []struct{ filter, want string }{{FitFilters[0], "two parts"}, {FitFilters[3], "whatever is asked"}} {
		if _, empty := FitList(&none, c.filter); !strings.Contains(empty, c.want) {
			t.Errorf("%s: %q", c.filter, empty)
		}
	}
	ok := clearance.Result{Pairs: []clearance.Pair{{A: "a", B: "b", Verdict: clearance.OK, LeastMM: ptr(1.0), MarginMM: ptr(9.0)}}}
	none.Answers.Fit.Value = &ok
	if table, empty := FitList(&none, FitFilters[0]); len(table.Rows) != 0 || !strings.Contains(empty, "fails and close") {
		t.Errorf("all fits: %d rows, %q", len(table.Rows), empty)
	}
	if got := PartFitText(&s, &Attention{Selected: []string{"block"}}); len(got) != 1 || !strings.Contains(got[0], "block: 1 fail") || !strings.Contains(got[0], "lid") {
		t.Errorf("the selected part: %q", got)
	}
}

func TestSightListHasOneColumnForSeenAndLost(t *testing.T) {
	t0 := Table{Columns: []Column{text("what"), number("seen %"), number("lost %"), number("margin mm")}, Rows: []Row{
		{Cells: []string{"rule", "85.00", "", "1"}}, {Cells: []string{"deck", "", "3.00", "2"}}, {Cells: []string{"keep-out", "", "", "3"}},
	}}
	got := SightList(t0)
	for i, want := range []string{"rule|85.00 seen|1", "deck|3.00 lost|2", "keep-out||3"} {
		if s := strings.Join(got.Rows[i].Cells, "|"); s != want {
			t.Errorf("row %d: %s, want %s", i, s, want)
		}
	}
	if len(got.Columns) != 3 || len(t0.Columns) != 4 || t0.Rows[0].Cells[1] != "85.00" {
		t.Error("the table it is made of was changed")
	}
}
