package report

import (
	"bytes"
	"encoding/csv"
	"errors"
	"image"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/go-gl/mathgl/mgl64"
)

func TestPlain(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{12.345, 2, "12.35"}, // the nearest double lies above the half
		{-0.004, 2, "-0.004"},
		{-0.0004, 2, "-0.0004"},
		{1e-9, 2, "0.000000"},
		{-1e-9, 2, "0.000000"},
		{0, 2, "0.00"},
		{math.Copysign(0, -1), 2, "0.00"},
		{-39.9, 0, "-40"},
		{0.4, 0, "0.4"},
		{1e6, 1, "1000000.0"},
	} {
		if got := plain(c.v, c.decimals); got != c.want {
			t.Errorf("plain(%v, %d) = %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}

func TestCSVReadsBack(t *testing.T) {
	m := richModel()
	m.Findings[0].PartA = "-5 V lead"
	m.Findings[0].Comment = "@home, \"quoted\"\nsecond line"
	m.Findings[1].Owner = "+49 team"
	m.Findings[2].Zone = "\t=tab"
	var out bytes.Buffer
	if err := WriteCSV(&out, m); err != nil {
		t.Fatal(err)
	}
	if bytes.Count(out.Bytes(), []byte("\n")) != bytes.Count(out.Bytes(), []byte("\r\n")) {
		t.Error("lines don't all end in CR LF, which RFC 4180 asks for")
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 121 {
		t.Fatalf("%d rows, want heads and 120 findings", len(rows))
	}
	at := map[string]int{}
	for i, h := range rows[0] {
		at[h] = i
	}
	for _, c := range []struct {
		row        int
		head, want string
	}{
		{1, "part_a", "'-5 V lead"},
		{1, "comment", "'@home, \"quoted\"\nsecond line"},
		{2, "owner", "'+49 team"},
		{3, "zone", "'\t=tab"},
		{7, "comment", "'=SUM(A1) is what a rogue text looks like"},
		{12, "live_gap_mm", "-8.25"},
		{12, "overlap_volume_mm3", "1234"},
		{12, "move_out_z_mm", "-0.40"},
		{18, "margin_mm", "-0.0004"},
		{9, "live_gap_is", "at least"},
		{9, "required_mm", ""},
		{1, "error_mm", "0.000001"},
		{1, "badge", HabitBadge},
		{6, "picture", "f-006"},
		{6, "part_a", m.Findings[5].PartA},
	} {
		if got := rows[c.row][at[c.head]]; got != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row, c.head, got, c.want)
		}
	}
	for i, row := range rows[1:] {
		for head, j := range at {
			if row[j] == "" || !(strings.HasSuffix(head, "_mm") || strings.HasSuffix(head, "_mm3") || strings.HasPrefix(head, "direction_")) {
				continue
			}
			if _, err := strconv.ParseFloat(row[j], 64); err != nil {
				t.Errorf("row %d, %s: %q is no number", i+1, head, row[j])
			}
		}
	}
}

// TestCSVAndPaperAgree holds every gap of the table against the paper.
func TestCSVAndPaperAgree(t *testing.T) {
	m := richModel()
	paper := squeezed(textOf(t, writePaper(t, m, PDFOptions{}), "-raw"))
	var out bytes.Buffer
	if err := WriteCSV(&out, m); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		// The numbers of a finding stand beside each other in the paper's row.
		var cells []string
		for _, i := range []int{9, 10, 11, 12} {
			cells = append(cells, row[i])
		}
		live := row[13]
		if row[14] == "at least" {
			live = "≥" + live
		}
		required, margin := row[16], row[17]
		if required == "" {
			required, margin = unknown, unknown
		}
		want := strings.ReplaceAll(strings.Join(append(cells, live, required, margin), ""), "-", "−")
		if !strings.Contains(paper, want) {
			t.Errorf("%s: the paper lacks the row %q", row[0], want)
		}
	}
}

func TestPacket(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "packet")
	m := richModel()
	m.Scene = sampleScene()
	paths, err := WritePacket(t.Context(), dir, m, PDFOptions{})
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"report.pdf", "report.html", "findings.csv", "findings.xlsx", "scene.glb", "plots/plot-01.svg", "plots/plot-02.svg"}
	if want := len(names) + len(pictures(m)); len(paths) != want {
		t.Fatalf("%d paths, want %d", len(paths), want)
	}
	for i, name := range names {
		if paths[i] != filepath.Join(dir, filepath.FromSlash(name)) {
			t.Errorf("path %d is %s, want %s", i, paths[i], name)
		}
	}
	for _, p := range paths[len(names):] {
		f, err := os.Open(p)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := png.Decode(f); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		f.Close()
	}
	if n := countFiles(t, dir); n != len(paths) {
		t.Errorf("%d files for %d paths: something temporary was left", n, len(paths))
	}
	data, _ := os.ReadFile(paths[0])
	var direct bytes.Buffer
	if err := WritePDF(&direct, m, PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, direct.Bytes()) {
		t.Error("the packet's PDF differs from WritePDF")
	}
}

func countFiles(t *testing.T, dir string) int {
	t.Helper()
	n := 0
	err := filepath.WalkDir(dir, func(_ string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			n++
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestFailedPacketLeavesTheOldOne writes over a packet with a picture whose
// place is taken.
func TestFailedPacketLeavesTheOldOne(t *testing.T) {
	dir := t.TempDir()
	m := &Model{Title: "Old", Date: time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)}
	paths, err := WritePacket(t.Context(), dir, m, PDFOptions{})
	if err != nil {
		t.Fatal(err)
	}
	old, _ := os.ReadFile(paths[0])
	if err := os.WriteFile(filepath.Join(dir, "pictures"), []byte("a file in the way"), 0o644); err != nil {
		t.Fatal(err)
	}
	m.Title = "New"
	m.Findings = []Finding{{ID: "1", PartA: "a", PartB: "b", Verdict: Short, Picture: samplePicture("one", "", 8, 8, 0)}}
	if _, err := WritePacket(t.Context(), dir, m, PDFOptions{}); err == nil || !strings.Contains(err.Error(), "pictures/one.png") {
		t.Fatalf("error %v doesn't name the file", err)
	}
	now, _ := os.ReadFile(paths[0])
	if !bytes.Equal(old, now) {
		t.Error("the old report was replaced by half a packet")
	}
	if n := countFiles(t, dir); n != 5 {
		t.Errorf("%d files left, want the old four and the one in the way", n)
	}
}

func TestCheckNamesTheFault(t *testing.T) {
	for _, c := range []struct {
		name string
		harm func(m *Model)
		want string
	}{
		{"no title", func(m *Model) { m.Title = " " }, "title"},
		{"not a number", func(m *Model) { m.Findings[3].LiveMM = ptr(math.NaN()) }, "model.Findings[3].LiveMM"},
		{"a body without a mesh", func(m *Model) { m.Scene = sampleScene(); m.Scene.Bodies[0].Mesh = nil }, `scene: "deck" has no mesh`},
		{"a corner at no place", func(m *Model) { m.Scene = sampleScene(); m.Scene.Bodies[0].Mesh.Verts[1][2] = math.NaN() }, `scene: "deck" has a corner at no place`},
		{"endless vector", func(m *Model) { m.Findings[3].PointBMM[1] = math.Inf(1) }, "model.Findings[3].PointBMM[1]"},
		{"endless heat", func(m *Model) { m.Heat.Cases[0].Rows[1].HighDegC = math.Inf(1) }, "model.Heat.Cases[0].Rows[1].HighDegC"},
		{"curve", func(m *Model) { m.Drop.Plots[0].Lines[1].Points[2][1] = math.NaN() }, "Plots[0].Lines[1].Points[2][1]"},
		{"verdict", func(m *Model) { m.Tiles[0].Verdict = "great" }, `"great"`},
		{"picture without image", func(m *Model) { m.Drop.Picture.PNG = nil }, `"drop"`},
		{"empty image", func(m *Model) { m.Drop.Picture.SizePx = image.Point{} }, `"drop"`},
		{"name that leaves the folder", func(m *Model) { m.Drop.Picture.Name = "../drop" }, "file name"},
		{"two of one name", func(m *Model) { m.Drop.Picture.Name = "rear-view" }, "two pictures"},
	} {
		m := richModel()
		c.harm(m)
		err := WritePDF(&bytes.Buffer{}, m, PDFOptions{})
		if err == nil || !errors.Is(err, ErrModel) || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v doesn't say %q in one line", c.name, err, c.want)
		}
		if err := WriteCSV(&bytes.Buffer{}, m); err == nil {
			t.Errorf("%s: the table was written all the same", c.name)
		}
	}
	if err := Check(nil); err == nil {
		t.Error("no model, no error")
	}
	if err := Check(richModel()); err != nil {
		t.Error(err)
	}
}

func TestWrapKeepsEveryLetterWithinTheWidth(t *testing.T) {
	c, err := newCanvas(richModel(), A4.size())
	if err != nil {
		t.Fatal(err)
	}
	letters := []rune("abcdefg  MMWW__--//..äöüßΩ\n")
	random := rand.New(rand.NewPCG(1, 0))
	for range 400 {
		var s strings.Builder
		for range random.IntN(120) {
			s.WriteRune(letters[random.IntN(len(letters))])
		}
		wMM := 4 + 60*random.Float64()
		lines := c.wrap(styleCell, wMM, s.String())
		if got := squeezed(strings.Join(lines, "")); got != squeezed(s.String()) {
			t.Fatalf("%q became %q", s.String(), lines)
		}
		for _, l := range lines {
			if c.widthMM(styleCell, l) > wMM {
				t.Fatalf("line %q is wider than %v mm", l, wMM)
			}
		}
	}
}

func TestNiceScale(t *testing.T) {
	for _, c := range []struct {
		span            mgl64.Vec2
		n               int
		low, high, step float64
	}{
		{mgl64.Vec2{0, 80}, 8, 0, 80, 10},
		{mgl64.Vec2{80, 160}, 6, 80, 160, 20},
		{mgl64.Vec2{-3, 7}, 6, -4, 8, 2},
		{mgl64.Vec2{0.01, 0.049}, 6, 0.01, 0.05, 0.01},
		{mgl64.Vec2{5, 5}, 6, 4, 6, 0.5},
	} {
		s := niceScale(c.span, c.n)
		for _, pair := range [][2]float64{{s.ends[0], c.low}, {s.ends[1], c.high}, {s.step(), c.step}} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Errorf("niceScale(%v, %d) = %+v, want %v to %v by %v", c.span, c.n, s, c.low, c.high, c.step)
				break
			}
		}
	}
}

// TestContrast holds the inks of texts against white and the tint.
//
// Source: WCAG 2.1, success criterion 1.4.3 and its definition of relative
// luminance, from memory.
func TestContrast(t *testing.T) {
	for _, text := range []ink{inkText, inkMuted, inkAccent} {
		for _, ground := range []ink{inkWhite, inkTint} {
			hi, lo := luminance(ground), luminance(text)
			if ratio := (hi + 0.05) / (lo + 0.05); ratio < 4.5 {
				t.Errorf("text %v on %v: contrast %.2f is below 4.5", text, ground, ratio)
			}
		}
	}
}

func luminance(c ink) float64 {
	channel := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(c[0]) + 0.7152*channel(c[1]) + 0.0722*channel(c[2])
}

func TestEachVerdictHasItsOwnSign(t *testing.T) {
	type look struct {
		shape shape
		ink   ink
	}
	seen := map[look]Verdict{}
	for _, v := range verdicts {
		s, c := v.sign()
		other, twice := seen[look{s, c}]
		if twice && !(v == Over && other == Short) { // both mean: beyond what is allowed
			t.Errorf("%q looks like %q", v, other)
		}
		seen[look{s, c}] = v
	}
}
