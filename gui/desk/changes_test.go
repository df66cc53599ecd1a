package desk

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
)

// TestChangesFollowTheLayout: against the opening, then against a revision, and
// the same answer as without a desk.
func TestChangesFollowTheLayout(t *testing.T) {
	d := opened(t)
	if s := d.State(); s.Tiles[Changed].Answer != "nothing changed since opening" || s.Tiles[Changed].Verdict != clearance.OK {
		t.Fatalf("tile %+v", s.Tiles[Changed])
	}
	must(t, d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{})) // 20 mm above the block: cured
	wait(t, d)
	s := d.State()
	r := s.Answers.Changes.Value
	if len(r.Findings.Cured) == 0 || len(r.Parts.Moved) != 1 || r.Parts.Moved[0].MostMM != 8 || r.Fails() {
		t.Fatalf("%+v", r)
	}
	if says, _ := ChangesWords(&s); !strings.HasPrefix(says, "From opening to now: findings 0 new, ") {
		t.Errorf("page: %q", says)
	}
	list := ChangesFindings(&s)
	if len(list.Rows) == 0 || list.Rows[0].Cells[0] != "cured" || list.Rows[0].Cells[4] != "12.00" || list.Rows[0].Cells[5] != "20.00" {
		t.Errorf("rows %+v", list.Rows)
	}
	if text := ChangeText(&s, list.Rows[0].Key); len(text) != 1 || !strings.Contains(text[0], "lid moved by up to 8.00 mm") {
		t.Errorf("why: %q", text)
	}
	pic := NewPainter().Picture(&s, &Attention{Page: Changed})
	if n := len(pic.Items); n != len(s.Scene.Parts)+1 || !pic.Items[n-1].Ghost || pic.Items[n-1].Pose.T != (geom.Vec{}) {
		t.Errorf("%d items: the lid as it was is missing", n)
	}
	rev, err := d.KeepRevision("B", "for the test")
	must(t, err)
	must(t, d.Place("lid", geom.Vec{}, geom.Vec{}))
	must(t, d.CompareWith(t.Context(), filepath.Join(d.State().Path, rev.Folder), nil))
	wait(t, d)
	s = d.State()
	r = s.Answers.Changes.Value
	if len(r.Findings.New) == 0 || !strings.HasPrefix(s.Tiles[Changed].Answer, "since revision B (no. 1): ") || s.Tiles[Changed].Verdict != clearance.Short {
		t.Errorf("tile %+v", s.Tiles[Changed])
	}
	if again := withoutDesk(t, filepath.Join(s.Path, rev.Folder), s.Path); again != jsonOf(t, r) {
		t.Errorf("the desk says\n%s\nwithout it\n%s", jsonOf(t, r), again)
	}
	d.CompareWithOpening()
	wait(t, d)
	if s := d.State(); s.Tiles[Changed].Answer != "nothing changed since opening" {
		t.Errorf("tile %+v", s.Tiles[Changed])
	}
}

// withoutDesk compares two states from nothing, under the names of the desk.
func withoutDesk(t *testing.T, old, now string) string {
	t.Helper()
	var sides [2]compare.Side
	for i, path := range []string{old, now} {
		doc, folder, name, err := OpenState(path)
		must(t, err)
		s, err := scene.Build(t.Context(), doc, folder, nil, scene.Options{})
		must(t, err)
		must(t, folder.Close())
		fit, err := clearance.Run(t.Context(), s, clearance.Options{}, nil)
		must(t, err)
		sides[i] = compare.Side{Name: name, Scene: s, Fit: fit}
	}
	sides[1].Name = "now"
	r, err := compare.Run(t.Context(), sides[0], sides[1], compare.Options{})
	must(t, err)
	return jsonOf(t, r)
}

func jsonOf(t *testing.T, v any) string {
	t.Helper()
	data, err := json.MarshalIndent(v, "", " ")
	must(t, err)
	return string(data)
}

// TestDecisionsComeBackFromThePacket decides on a finding, writes the packet,
// fills its table and workbook in by hand and reads both.
func TestDecisionsComeBackFromThePacket(t *testing.T) {
	d := opened(t)
	id := Pressing(d.State().Answers.Fit.Value)[0].ID
	first := layout.Decision{Finding: id, State: "open", Owner: "deck group", Due: "2027-01-31", Notes: "raise the lid, or =lower the block"}
	must(t, d.Decide(layout.Decision{Finding: id, State: " Open ", Owner: "deck group ", Due: "2027-01-31", Notes: first.Notes}))
	if got := DecisionOf(d.State().Doc, id); !SameDecision(got, first) {
		t.Errorf("%+v, want %+v", got, first)
	}
	if s := d.State(); s.Undo != "decide on block to lid, static" {
		t.Errorf("undo %q", s.Undo)
	}
	for _, bad := range []layout.Decision{{Finding: id, State: "perhaps"}, {Finding: id, Due: "31.1.2027"}} {
		if err := d.Decide(bad); err == nil || !strings.Contains(err.Error(), "block to lid, static: give") {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	dir := t.TempDir()
	_, err := d.Packet(t.Context(), dir, PacketOptions{})
	must(t, err)
	for _, name := range []string{"findings.csv", "findings.xlsx"} {
		back, err := ReadDecisions(filepath.Join(dir, name))
		if err != nil || len(back) != 1 || !SameDecision(back[0], first) {
			t.Errorf("%s: %+v, %v", name, back, err)
		}
	}
	s := d.State()
	if open := OpenItems(&s); len(open) != 1 || open[0].Pair == nil || open[0].Pair.Verdict != clearance.Short {
		t.Errorf("open items %+v", open)
	}
	closed := first
	closed.State = "closed"
	must(t, d.TakeDecisions([]layout.Decision{closed, {Finding: "no such thing", State: "open"}}))
	s = d.State()
	if open := OpenItems(&s); len(open) != 1 || open[0].Pair != nil {
		t.Errorf("open items %+v", open)
	}
	must(t, d.Undo())
	must(t, d.Undo())
	s = d.State() // decisions on the other questions are never told as gone
	s.Doc = &layout.Document{}
	for _, key := range []string{"drop: to the ground", "rear view: plate", "heat: coil @ slow", "place: coil", "a ~ b @ static"} {
		s.Doc.Decisions = append(s.Doc.Decisions, layout.Decision{Finding: key, State: "open", Owner: "me"})
	}
	for _, c := range []struct {
		answers Answers
		now     []string
	}{
		{Answers{}, []string{nowNotLooked, nowNotLooked, nowNotLooked, nowNotLooked, nowNotLooked}},
		{Answers{Fit: s.Answers.Fit}, []string{nowNotLooked, nowNotLooked, nowNotLooked, nowNotLooked, nowGone}},
	} {
		s.Answers = c.answers
		for i, row := range OpenTable(&s).Rows {
			if row.Cells[5] != c.now[i] || row.Verdict != "" {
				t.Errorf("%s: %q, verdict %q, want %q", row.Key, row.Cells[5], row.Verdict, c.now[i])
			}
		}
	}
	if n := len(d.State().Doc.Decisions); n != 0 {
		t.Errorf("%d decisions left after undo", n)
	}
}

func TestFilledInTablesAreReadWithCare(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ name, text, want string }{
		{"good.csv", "\ufefffinding;decision;owner;due;comment\r\na ~ b @ hot;accepted;me;2027-02-01;=x\r\nc ~ d @ hot;;;;note alone\r\n", ""},
		{"head.csv", "finding,decision,owner,due\n", `no column "comment"`},
		{"word.csv", "finding,decision,owner,due,comment\na ~ b @ hot,maybe,,,\n", `row 2: decision "maybe" on a to b, hot`},
		{"day.csv", "finding,decision,owner,due,comment\n\"a ~ b @ hot\",open,,soon,\n", `row 2: due "soon"`},
		{"lost.csv", "finding,decision,owner,due,comment\n,open,me,,\n", `row 2: has a decision but no finding`},
		{"empty.csv", "", "is empty"},
		{"no.xlsx", "no workbook", "can't be read as a workbook"},
	} {
		path := filepath.Join(dir, c.name)
		writeText(t, path, c.text)
		list, err := ReadDecisions(path)
		switch {
		case c.want == "" && (err != nil || len(list) != 1 || !SameDecision(list[0], layout.Decision{Finding: "a ~ b @ hot", State: "accepted", Owner: "me", Due: "2027-02-01", Notes: "=x"})):
			t.Errorf("%s: %+v, %v", c.name, list, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func writeText(t *testing.T, path, text string) {
	t.Helper()
	must(t, os.WriteFile(path, []byte(text), 0o644))
}

// TestRecoveredEditsAreChanges: what is recovered is compared with the file, not
// taken for the state at opening; undone, nothing differs.
func TestRecoveredEditsAreChanges(t *testing.T) {
	path := smallLayout(t)
	d := atWork(t, path, Ask)
	must(t, d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{}))
	must(t, d.Close())

	e := bareDesk(t)
	must(t, e.OpenToWork(t.Context(), path, Recover))
	wait(t, e)
	s := e.State()
	if r := s.Answers.Changes.Value; len(r.Findings.Cured) == 0 || len(r.Parts.Moved) != 1 || r.Parts.Moved[0].MostMM != 8 {
		t.Errorf("%s: %+v", s.Tiles[Changed].Answer, r)
	}
	if !strings.HasPrefix(s.Tiles[Changed].Answer, "since opening: 0 new, ") {
		t.Errorf("tile %+v", s.Tiles[Changed])
	}
	must(t, e.Undo())
	wait(t, e)
	if s := e.State(); s.Tiles[Changed].Answer != "nothing changed since opening" {
		t.Errorf("undone: tile %+v", s.Tiles[Changed])
	}
	must(t, e.Close())
}

// TestThePacketTellsTheChanges moves the lid, reshapes the tray and reads the
// packet: the table has the answer's figures, the picture is there.
func TestThePacketTellsTheChanges(t *testing.T) {
	d := atWork(t, smallLayout(t), Ask)
	wait(t, d)
	rev, err := d.KeepRevision("A", "before")
	must(t, err)
	dir := d.State().Path
	var buf bytes.Buffer
	must(t, plain.Brick(geom.Vec{1400, -300, 190}, geom.Vec{2000, 300, 206}).WriteSTL(&buf, "tray"))
	must(t, os.WriteFile(filepath.Join(dir, "tray.stl"), buf.Bytes(), 0o644))
	must(t, d.Reload(t.Context()))
	must(t, d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{}))
	must(t, d.CompareWith(t.Context(), filepath.Join(dir, rev.Folder), nil))
	wait(t, d)
	s := d.State()
	if re := s.Answers.Changes.Value.Parts.Reshaped; len(re) != 1 || re[0].DeviationMM != 6 {
		t.Fatalf("reshaped %+v", re)
	}
	pic := NewPainter().Picture(&s, &Attention{Page: Changed, Selected: []string{"tray"}})
	i, _ := s.Scene.Index("tray")
	if f := pic.Items[i].Field; pic.Field == nil || pic.Field.High != 6 || len(f) != 12 || slices.Max(f) != 6 {
		t.Errorf("colours %v on %+v", f, pic.Field)
	}
	out := t.TempDir()
	_, err = d.Packet(t.Context(), out, PacketOptions{})
	must(t, err)
	if _, err := os.Stat(filepath.Join(out, "pictures", "changes.png")); err != nil {
		t.Error(err)
	}
	page, err := os.ReadFile(filepath.Join(out, "report.html"))
	must(t, err)
	for _, want := range []string{s.Answers.Changes.Value.Sentence.String(), "<td><b>moved</b></td><td><b>lid</b></td><td class=\"n\">8.00</td>", "<td><b>reshaped</b></td><td><b>tray</b></td><td class=\"n\">6.00</td>"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// TestPacketFiguresAreTheAnswers reads the findings table back, row by row, and
// holds it against the answers.
func TestPacketFiguresAreTheAnswers(t *testing.T) {
	d := opened(t)
	out := t.TempDir()
	_, err := d.Packet(t.Context(), out, PacketOptions{})
	must(t, err)
	file, err := os.Open(filepath.Join(out, "findings.csv"))
	must(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	must(t, err)
	at := map[string]int{}
	for i, head := range rows[0] {
		at[head] = i
	}
	s := d.State()
	judged := 0
	for i := range s.Answers.Fit.Value.Pairs {
		p := &s.Answers.Fit.Value.Pairs[i]
		if p.Verdict == clearance.NoRule {
			continue
		}
		judged++
		k := slices.IndexFunc(rows, func(r []string) bool { return r[at["finding"]] == p.ID })
		if k < 0 {
			t.Errorf("%s is not in the table", p.ID)
			continue
		}
		for head, want := range map[string]float64{"live_gap_mm": p.ClearanceMM, "margin_mm": *p.MarginMM, "required_mm": *p.LeastMM, "static_gap_mm": p.StaticMM} {
			if got := rows[k][at[head]]; got != fmt.Sprintf("%.2f", want) {
				t.Errorf("%s: %s %s, want %v", p.ID, head, got, want)
			}
		}
		if rows[k][at["verdict"]] != p.Verdict {
			t.Errorf("%s: verdict %s, want %s", p.ID, rows[k][at["verdict"]], p.Verdict)
		}
	}
	if judged == 0 || judged != len(rows)-1 {
		t.Errorf("%d rows for %d findings", len(rows)-1, judged)
	}
}

// TestAnswerOfAnEarlierChoiceIsNotKept: a comparison that is under way when
// something else is chosen to compare with does not come back as the answer.
func TestAnswerOfAnEarlierChoiceIsNotKept(t *testing.T) {
	d := opened(t)
	d.mu.Lock()
	underWay := d.changesTask()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	d.stopJob, d.answers.Changes.Job.Running = stop, true
	other := *d.opened
	d.mu.Unlock()
	other.Name = "the other"
	d.compareWith(&other)
	wait(t, d)
	_ = underWay.run(ctx, nil) // its answer, if any, is what State tells
	if s := d.State(); s.Tiles[Changed].Answer != "nothing changed since the other" {
		t.Errorf("tile %+v", s.Tiles[Changed])
	}
}
