package desk

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"aftbay/geom/layout"
)

// TestHistoryOfADecision: each day adds one line, the day's last word counts,
// what stood in the file before is kept, and taking back is told.
func TestHistoryOfADecision(t *testing.T) {
	const id = "a ~ b @ hot"
	of := func(state, owner string) layout.Decision {
		return layout.Decision{Finding: id, State: state, Owner: owner}
	}
	for _, c := range []struct {
		name string
		doc  []layout.Decision // before
		step func(doc *layout.Document)
		want []string
	}{
		{"first", nil, func(doc *layout.Document) { settle(doc, of("open", "x"), "2027-01-08") }, []string{"2027-01-08: open, x"}},
		{"same day", nil, func(doc *layout.Document) {
			settle(doc, of("open", "x"), "2027-01-08")
			settle(doc, of("accepted", "x"), "2027-01-08")
		}, []string{"2027-01-08: accepted, x"}},
		{"next day", nil, func(doc *layout.Document) {
			settle(doc, of("open", "x"), "2027-01-08")
			settle(doc, of("open", "x"), "2027-01-09") // says nothing new
			settle(doc, of("closed", "y"), "2027-01-10")
		}, []string{"2027-01-08: open, x", "2027-01-10: closed, y"}},
		{
			"by hand before",
			[]layout.Decision{of("open", "w")},
			func(doc *layout.Document) { settle(doc, of("closed", "w"), "2027-01-08") },
			[]string{"undated: open, w", "2027-01-08: closed, w"},
		},
		{"undated", nil, func(doc *layout.Document) {
			settle(doc, of("open", "x"), "")
			settle(doc, of("closed", "x"), "")
		}, []string{"undated: open, x", "undated: closed, x"}},
		{"taken back", nil, func(doc *layout.Document) {
			settle(doc, of("open", "x"), "2027-01-08")
			settle(doc, of("", ""), "2027-01-09")
		}, []string{"2027-01-08: open, x", "2027-01-09: taken back"}},
		{"a slip", nil, func(doc *layout.Document) {
			settle(doc, of("open", "x"), "2027-01-08")
			settle(doc, of("", ""), "2027-01-08")
		}, nil},
	} {
		doc := &layout.Document{Decisions: c.doc}
		c.step(doc)
		var got []string
		if len(doc.Decisions) > 0 {
			got = HistoryLines(doc.Decisions[0])
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if open := OpenItems(&State{Doc: doc}); c.name == "taken back" && len(open) > 0 {
			t.Errorf("what was taken back is an open item: %+v", open)
		}
	}
}

// TestHistoryIsKeptOverRevisions: a revision keeps the history of its day, the
// layout carries it on, and the packet prints it; undo takes an entry back.
func TestHistoryIsKeptOverRevisions(t *testing.T) {
	d := opened(t)
	id := Pressing(d.State().Answers.Fit.Value)[0].ID
	day := func(n int) {
		d.system.now = func() time.Time { return time.Date(2027, 1, n, 9, 0, 0, 0, time.UTC) }
	}
	day(8)
	must(t, d.Decide(layout.Decision{Finding: id, State: "open", Owner: "deck group"}))
	kept, err := d.KeepRevision("week 2", "before the lid")
	must(t, err)
	day(15)
	must(t, d.Decide(layout.Decision{Finding: id, State: "accepted", Owner: "deck group", Notes: "as built"}))
	want := []string{"2027-01-08: open, deck group", "2027-01-15: accepted, deck group. as built"}
	if got := HistoryLines(DecisionOf(d.State().Doc, id)); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	old, folder, _, err := OpenState(RevisionFolder(d.State().Path, kept))
	must(t, err)
	must(t, folder.Close())
	if got := HistoryLines(DecisionOf(old, id)); !reflect.DeepEqual(got, want[:1]) {
		t.Errorf("the revision says %q", got)
	}
	retitle(t, d, "gone on")
	must(t, d.RestoreRevision(kept))
	if got := HistoryLines(DecisionOf(d.State().Doc, id)); !reflect.DeepEqual(got, want) {
		t.Errorf("restored, %q", got)
	}
	must(t, d.Undo())
	must(t, d.Undo())
	must(t, d.Wait(t.Context()))
	dir := t.TempDir()
	_, err = d.Packet(t.Context(), dir, PacketOptions{})
	must(t, err)
	for _, name := range []string{"report.html", "findings.csv"} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		must(t, err)
		for _, line := range want {
			if !strings.Contains(string(data), line) {
				t.Errorf("%s lacks %q", name, line)
			}
		}
	}
	must(t, d.Undo())
	if got := HistoryLines(DecisionOf(d.State().Doc, id)); !reflect.DeepEqual(got, want[:1]) {
		t.Errorf("after undo %q", got)
	}
}
