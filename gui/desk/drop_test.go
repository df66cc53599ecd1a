package desk

import (
	"context"
	"strings"
	"testing"

	"aftbay/geom/drop"
)

// TestPreviewedShift: a place of the map is previewed, judged, kept as one edit
// and undone; the figures of the page follow it.
func TestPreviewedShift(t *testing.T) {
	d := opened(t)
	d.WantMap()
	if err := d.Wait(context.Background()); err != nil {
		t.Fatal(err)
	}
	s := d.State()
	m := s.Answers.Map.Value
	if m == nil || !s.Answers.Map.Fresh || s.Answers.Map.Rough || len(m.Columns) != drop.MapSize {
		t.Fatal("no whole map after waiting")
	}
	at := Stand{DropMM: m.DropsMM[12], ShiftMM: m.ShiftsMM[30]} // 18 mm down, 20 mm rearward
	if err := d.PreviewStand(at); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if i, _ := s.Scene.Index("block"); s.Scene.Parts[i].Pose.T != at.By() {
		t.Errorf("block at %v, want %v", s.Scene.Parts[i].Pose.T, at.By())
	}
	if line, verdict := DropLine(&s); line != "20.00 mm rearward: 2.00 mm left, then block to tray, static" || verdict != "ok" {
		t.Errorf("%q, %s", line, verdict)
	}
	if p := MapPageOf(&s); p.Here != "At 18.00 mm down, 20.00 mm rearward: 2.00 mm left, block to tray, static" || p.CanStart || len(p.Regions) != 2 {
		t.Errorf("page %q, %v, %+v", p.Here, p.CanStart, p.Regions)
	}
	if mm, ok := LimitMM(&s); !ok || mm < 19.98 || mm > 20 {
		t.Errorf("limit %v, %v", mm, ok)
	}
	if buys, _ := BuysPage(&s); !strings.Contains(buys.Columns[2].Head, "18.00 mm, 20.00 mm rearward") {
		t.Errorf("columns %+v", buys.Columns)
	}
	picture := NewPainter().Picture(&s, &Attention{Page: Lowers})
	if n := len(s.Scene.Parts); len(picture.Items) != n+1 || !picture.Items[n].Ghost || picture.Items[n].Pose.T.Len() != 0 || len(picture.Parts) != n+1 {
		t.Errorf("%d items for %d parts: the block's start must stand see-through", len(picture.Items), n)
	}
	if err := d.KeepDrop(); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if s.DropMM != 0 || s.ShiftMM != 0 || s.Undo != "lower by 18.00 mm, 20.00 mm rearward" || s.Doc.Parts[0].MoveMM != at.By() {
		t.Errorf("kept: %v, %v, %q, %v", s.DropMM, s.ShiftMM, s.Undo, s.Doc.Parts[0].MoveMM)
	}
	if p := MapPageOf(&s); !p.CanStart || !strings.HasPrefix(p.Says, "Before the last change: ") {
		t.Errorf("a map of before: %q, can start %v", p.Says, p.CanStart)
	}
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if s = d.State(); s.Doc.Parts[0].MoveMM.Len() != 0 {
		t.Errorf("undone: %v", s.Doc.Parts[0].MoveMM)
	}
}

// TestLimitsWhereTheSliderStands: what fails there stands on top, what is near
// is close, and the picture of the map is as large as its places.
func TestLimitsWhereTheSliderStands(t *testing.T) {
	d := opened(t)
	s := d.State()
	r := s.Answers.Drop.Value
	for _, c := range []struct {
		dropMM  float64
		limit   string
		left    string
		verdict string
	}{
		{0, "block to lid, static", "from 3.00", "short"},
		{10, "block to tray, static", "10.00", "ok"},
		{19, "block to tray, static", "1.00", "close"},
		{25, "block to tray, static", "", "short"},
	} {
		row := DropPage(r, c.dropMM).Rows[0]
		if row.Cells[0] != c.limit || row.Cells[2] != c.left || row.Verdict != c.verdict {
			t.Errorf("at %g mm: %v, %s; want %+v", c.dropMM, row.Cells, row.Verdict, c)
		}
	}
	m, err := drop.RunMap(context.Background(), s.Scene, drop.MapOptions{Shifts: 4, Drops: 7}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if size := MapPicture(m, 5).Bounds().Size(); size.X != 20 || size.Y != 35 {
		t.Errorf("picture of %v", size)
	}
	if cells := MapCells(m); len(cells.Rows) != 28 {
		t.Errorf("%d places", len(cells.Rows))
	}
}
