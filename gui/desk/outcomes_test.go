package desk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/thermal/outcome"
)

// TestOutcomesFollowTheEdits: the answers beside clearance are compared with
// those at opening, as if both states were answered from nothing; undone,
// nothing differs.
func TestOutcomesFollowTheEdits(t *testing.T) {
	d := opened(t)
	before := d.State()
	if o := &before.Answers.Outcomes; !o.Fresh || !o.Value.Nothing() || len(OutcomeWords(&before)) > 0 {
		t.Fatalf("as opened: %+v", o.Value)
	}
	must(t, d.Place("pipe", geom.Vec{0, -58, 0}, geom.Vec{})) // 2 mm off the block
	must(t, d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{}))    // the block may not go up; the drop begins sooner
	wait(t, d)
	s := d.State()
	all := Asked{Drop: true, Sight: true, Heat: true}
	was, err := AnswersOf(t.Context(), before.Scene, all, 2, nil)
	must(t, err)
	is, err := AnswersOf(t.Context(), s.Scene, all, 2, nil)
	must(t, err)
	o := s.Answers.Outcomes.Value
	if want := outcome.Compare(was, is, 0); jsonOf(t, o) != jsonOf(t, want) {
		t.Errorf("the desk says %s\nfrom nothing %s", jsonOf(t, o), jsonOf(t, want))
	}
	if o.Heat == nil || o.Drop == nil || o.Nothing() {
		t.Fatalf("nothing changed: %+v", o)
	}
	for _, q := range o.Changed() {
		if tile := s.Tiles[5]; !strings.Contains(tile.Answer, "; "+outcomeWord(q)) {
			t.Errorf("the tile %q says nothing of %s", tile.Answer, q.Name)
		}
	}
	if o.Fails() && s.Tiles[5].Verdict == clearance.OK {
		t.Errorf("%v fail, but the tile says ok", o.Failing())
	}
	if rows := len(ChangesOther(&s).Rows); rows == 0 {
		t.Error("the page lists nothing")
	}
	must(t, d.Undo())
	must(t, d.Undo())
	wait(t, d)
	if s := d.State(); !s.Answers.Outcomes.Value.Nothing() {
		t.Errorf("undone: %v", s.Answers.Outcomes.Value.Sentences())
	}
}

// TestPacketTellsTheOutcomes compares with a revision that was never answered on
// this desk; the packet has each sentence and each figure, the workbook as
// numbers.
func TestPacketTellsTheOutcomes(t *testing.T) {
	d := opened(t)
	kept, err := d.KeepRevision("A", "before the pipe moved")
	must(t, err)
	must(t, d.Place("pipe", geom.Vec{0, -58, 0}, geom.Vec{}))
	must(t, d.CompareWith(t.Context(), RevisionFolder(d.State().Path, kept), nil))
	wait(t, d)
	s := d.State()
	dir := t.TempDir()
	_, err = d.Packet(t.Context(), dir, PacketOptions{})
	must(t, err)
	page, err := os.ReadFile(filepath.Join(dir, "report.html"))
	must(t, err)
	heat := s.Answers.Outcomes.Value.Heat
	if len(heat.Worse)+len(heat.New) == 0 {
		t.Fatalf("the block is no hotter: %s", heat.Sentence)
	}
	for _, want := range s.Answers.Outcomes.Value.Sentences() {
		if !strings.Contains(string(page), want.String()) {
			t.Errorf("the page lacks %q", want)
		}
	}
	book, err := excelize.OpenFile(filepath.Join(dir, "findings.xlsx"))
	must(t, err)
	rows, err := book.GetRows("Changed heat", excelize.Options{RawCellValue: true})
	must(t, err)
	must(t, book.Close())
	tables := OutcomeTables(s.Answers.Outcomes.Value)
	for i, row := range tables[0].Rows {
		for k, cell := range row.Cells {
			got := ""
			if k < len(rows[i+1]) {
				got = rows[i+1][k]
			}
			if got != strings.TrimPrefix(cell, "+") {
				t.Errorf("row %d, %s: %q, want %q", i, tables[0].Columns[k].Head, got, cell)
			}
			if !strings.Contains(string(page), ">"+cell+"<") && cell != "" {
				t.Errorf("the page lacks %q", cell)
			}
		}
	}
}
