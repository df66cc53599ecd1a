package report

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"encoding/xml"
	"html"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	bodies "aftbay/geom/mesh/plain"
)

// sampleScene is two bricks; the second one is hot and overlaps something. Its
// name tries to end the script that holds it.
func sampleScene() *Scene {
	return &Scene{HeatCase: "hard drive", Bodies: []Body{
		{Name: "deck", Role: "deck", Mesh: bodies.Brick(geom.Vec{0, 0, 900}, geom.Vec{1000, 800, 920}), Colour: [3]uint8{1, 2, 3}, Ghost: true, Verdict: OK},
		{Name: `pipe </script><b>"&`, Role: "exhaust", Mesh: bodies.Brick(geom.Vec{100, -50, 200}, geom.Vec{300, 50, 260}), Colour: [3]uint8{9, 8, 7}, Verdict: Overlap, NominalDegC: ptr(640), HeatColour: [3]uint8{250, 240, 90}},
	}}
}

func page(t *testing.T, m *Model) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteHTML(&out, m); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

var (
	tag     = regexp.MustCompile(`<[^>]*>`)                                                        // Read-only.
	reaches = regexp.MustCompile(`(?i)(src|href)="[^#d]|url\(|@import|https?://|fetch\(|import\(`) // Read-only.
	rowOf   = regexp.MustCompile(`(?s)<tr>(.*?)</tr>`)                                             // Read-only.
	cellOf  = regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`)                                        // Read-only.
)

// plainText is what a reader sees of a piece of the page, a line for each line.
func plainText(text string) string {
	return html.UnescapeString(tag.ReplaceAllString(strings.ReplaceAll(text, "<br>", "\n"), ""))
}

// TestPageHoldsTheFigures reads the table of all findings back from the page.
func TestPageHoldsTheFigures(t *testing.T) {
	m := richModel()
	m.Scene = sampleScene()
	text := page(t, m)
	if text != page(t, m) {
		t.Fatal("the same model gives two pages")
	}
	_, all, _ := strings.Cut(text, "<h2>All findings</h2>")
	all, _, _ = strings.Cut(all, "</table>")
	rows := rowOf.FindAllStringSubmatch(all, -1)[1:]
	if len(rows) != len(m.Findings) {
		t.Fatalf("%d rows, want %d", len(rows), len(m.Findings))
	}
	for i := range m.Findings {
		f := &m.Findings[i]
		var cells []string
		for _, c := range cellOf.FindAllStringSubmatch(rows[i][1], -1) {
			cells = append(cells, plainText(c[1]))
		}
		want := []string{shown(f.StaticMM, 2), shown(f.MotionMM, 2), shown(f.HeatMM, 2), shown(f.ToleranceMM, 2), gapText(f), shown(f.RequiredMM, 2), shown(f.MarginMM, 2)}
		for k, w := range want {
			if got, _, _ := strings.Cut(cells[3+k], "\n"); got != w {
				t.Errorf("%s: column %d says %q, want %q", f.ID, k, got, w)
			}
		}
		if !strings.HasPrefix(cells[12], string(f.Verdict)) {
			t.Errorf("%s: verdict %q", f.ID, cells[12])
		}
	}
}

// TestPageSaysWhatThePaperSays: every chapter, sentence and table cell of the
// model's texts stands on the page.
func TestPageSaysWhatThePaperSays(t *testing.T) {
	m := richModel()
	whole := strings.Join(strings.Fields(plainText(page(t, m))), " ")
	see := func(text string) {
		if text = strings.Join(strings.Fields(text), " "); !strings.Contains(whole, text) {
			t.Errorf("the page lacks %q", text)
		}
	}
	for _, title := range []string{
		"Summary by question", "Findings that fail", "All findings", "How low can it go?", "Can the driver see?", "What gets hot?",
		"Where can it be mounted?", "What changed?", basisTitle, "Sources", "Cautions", heatHead, m.Stop, m.Drop.Sentence, m.RearView.Sentence, m.Heat.Sentence, m.Changes.Sentence,
	} {
		see(title)
	}
	for _, p := range pictures(m) {
		see("[" + p.Name + "]")
	}
	for _, p := range plotsOf(m) {
		for _, l := range p.Lines {
			see(l.Name)
		}
	}
	for _, c := range m.Heat.Cases {
		for i := range c.Rows {
			see(shown(&c.Rows[i].NominalDegC, tempDecimals))
			see(c.Rows[i].LimitSource)
		}
	}
	for _, in := range m.Inputs {
		see(in.SHA256)
	}
	for _, a := range m.Assumptions {
		see(a)
	}
}

// TestPageNeedsNothingElse: no address, nothing fetched, no text that gets out of
// its place.
func TestPageNeedsNothingElse(t *testing.T) {
	m := richModel()
	m.Scene = sampleScene()
	m.Title = `<script>alert(1)</script> & "quotes"`
	text := page(t, m)
	if found := reaches.FindAllString(strings.ReplaceAll(text, "http://www.w3.org/2000/svg", ""), -1); found != nil {
		t.Errorf("the page reaches out: %q", found)
	}
	if n := strings.Count(text, "<script"); n != 2 || strings.Count(text, "</script>") != 2 {
		t.Errorf("%d scripts, want the scene's data and our own", n)
	}
}

// TestPageHoldsTheScene reads the scene back: no place is off by more than half
// a step.
func TestPageHoldsTheScene(t *testing.T) {
	m := richModel()
	m.Scene = sampleScene()
	_, text, _ := strings.Cut(page(t, m), `id="scene-data">`)
	text, _, _ = strings.Cut(text, "</script>")
	var s webScene
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		t.Fatal(err)
	}
	for i, p := range s.Parts {
		o := &m.Scene.Bodies[i]
		corners, err := base64.StdEncoding.DecodeString(p.Corners)
		if err != nil || len(corners) != 6*len(o.Mesh.Verts) || p.Name != o.Name || p.Verdict != string(o.Verdict) {
			t.Fatalf("part %d: %v, %d bytes, %+v", i, err, len(corners), p)
		}
		for k, v := range o.Mesh.Verts {
			for axis := range 3 {
				at := s.Low[axis] + s.Step[axis]*float64(binary.LittleEndian.Uint16(corners[6*k+2*axis:]))
				if math.Abs(at-v[axis]) > s.Step[axis]/2+1e-9 {
					t.Errorf("%s: corner %d lies at %v, want %v", p.Name, k, at, v[axis])
				}
			}
		}
	}
}

// TestLettersOfLinesKeepApart: near lines have their letters beside each other,
// far ones in one lane.
func TestLettersOfLinesKeepApart(t *testing.T) {
	p := &Plot{Lines: []Line{{Points: []mgl64.Vec2{{0, 0}, {10, 100}}}}, Marks: []PlotMark{
		{Place: mgl64.Vec2{0, 50}}, {Place: mgl64.Vec2{0, 52}}, {Upright: true, Place: mgl64.Vec2{5, 0}}, {Place: mgl64.Vec2{0, 48}}, {Place: mgl64.Vec2{0, 80}}, {Place: mgl64.Vec2{0, 56}},
	}}
	_, ys := scales(p)
	if got, want := lanes(p, ys, 0.05), []int{0, 1, 0, 2, 0, 0}; !slices.Equal(got, want) {
		t.Errorf("lanes %v, want %v", got, want)
	}
}

// TestPlotSVGIsXML: a plot's file is well-formed and holds names and units.
func TestPlotSVGIsXML(t *testing.T) {
	m := richModel()
	m.Drop.Plots[0].Lines[0].Name = "a < b & c"
	for _, p := range plotsOf(m) {
		text := PlotSVG(p)
		d := xml.NewDecoder(strings.NewReader(text))
		var seen strings.Builder
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", p.Title, err)
			}
			if c, ok := token.(xml.CharData); ok {
				seen.Write(c)
			}
		}
		for _, l := range p.Lines {
			if !strings.Contains(seen.String(), l.Name) || !strings.Contains(seen.String(), p.XLabel) {
				t.Errorf("%s: %q lacks a name", p.Title, seen.String())
			}
		}
	}
}
