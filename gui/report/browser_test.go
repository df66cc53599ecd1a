package report

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"aftbay/geom"
	bodies "aftbay/geom/mesh/plain"
)

// browserModel is the full model with a brick in the middle of the scene, below
// a sheet that is seen through.
func browserModel() *Model {
	m := richModel()
	m.Scene = &Scene{HeatCase: "hard drive", HeatScale: []HeatTint{{20, [3]uint8{40, 0, 60}}, {640, [3]uint8{250, 240, 90}}}, Bodies: []Body{
		{Name: "deck", Role: "deck", Mesh: bodies.Brick(geom.Vec{0, 0, 900}, geom.Vec{1000, 800, 920}), Colour: [3]uint8{90, 120, 160}, Ghost: true, Verdict: OK},
		{Name: "engine <1> & more", Role: "engine", Mesh: bodies.Brick(geom.Vec{200, 200, 200}, geom.Vec{800, 600, 700}), Colour: [3]uint8{200, 30, 20}, Verdict: Overlap, NominalDegC: ptr(640), HeatColour: [3]uint8{250, 240, 90}},
		{Name: "floor", Role: "body", Mesh: bodies.Brick(geom.Vec{0, 0, 0}, geom.Vec{1000, 800, 20}), Colour: [3]uint8{90, 90, 90}, Verdict: Close, NominalDegC: ptr(20), HeatColour: [3]uint8{40, 0, 60}},
	}}
	return m
}

func openPage(t *testing.T, m *Model) *browser {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(path, []byte(page(t, m)), 0o644); err != nil {
		t.Fatal(err)
	}
	return openBrowser(t, path)
}

// TestBrowser drives the page as a reader does, in one browser for all.
func TestBrowser(t *testing.T) {
	m := browserModel()
	b := openPage(t, m)
	t.Run("figures", func(t *testing.T) { browserFigures(t, b, m) })
	t.Run("sorts", func(t *testing.T) { browserSorts(t, b, m) })
	t.Run("fits", func(t *testing.T) { browserFits(t, b) })
	t.Run("scene", func(t *testing.T) { browserScene(t, b) })
	t.Run("prints", func(t *testing.T) { browserPrints(t, b, m) })
	t.Run("alone", func(t *testing.T) { browserAlone(t, b) })
}

// tableUnder is the script that finds the first table of a chapter.
func tableUnder(title string) string {
	return fmt.Sprintf("[...document.querySelectorAll('h2')].find(h => h.textContent === %q).parentElement.querySelector('table')", title)
}

// cellsUnder reads a table as it is seen.
func cellsUnder(b *browser, title string) [][]string {
	var rows [][]string
	b.eval(&rows, "["+"..."+tableUnder(title)+".tBodies[0].rows].map(r => [...r.cells].map(c => c.innerText))")
	return rows
}

// browserFigures: the tables that the browser shows hold the model's figures.
func browserFigures(t *testing.T, b *browser, m *Model) {
	rows := cellsUnder(b, "All findings")
	if len(rows) != len(m.Findings) {
		t.Fatalf("%d findings are seen, want %d", len(rows), len(m.Findings))
	}
	for i := range m.Findings {
		f := &m.Findings[i]
		want := []string{shown(f.StaticMM, 2), shown(f.MotionMM, 2), shown(f.HeatMM, 2), shown(f.ToleranceMM, 2), gapText(f), shown(f.RequiredMM, 2), shown(f.MarginMM, 2)}
		for k, w := range want {
			if got := strings.Split(rows[i][3+k], "\n")[0]; got != w {
				t.Errorf("%s: column %d shows %q, want %q", f.ID, k, got, w)
			}
		}
	}
	for _, r := range m.Heat.Cases[0].Rows {
		var line string
		b.eval(&line, fmt.Sprintf("[...%s.rows].map(r => r.innerText).find(s => s.startsWith(%q)) || ''",
			strings.Replace(tableUnder("What gets hot?"), "querySelector('table')", "querySelectorAll('table')[1]", 1), r.Part))
		for _, v := range []*float64{&r.LowDegC, &r.NominalDegC, &r.HighDegC, r.LimitDegC, r.HighMarginK} {
			if !slices.Contains(strings.FieldsFunc(line, func(c rune) bool { return c == '\t' || c == '\n' }), shown(v, tempDecimals)) {
				t.Errorf("%s: %q lacks %s", r.Part, line, shown(v, tempDecimals))
			}
		}
	}
	for _, tile := range m.Tiles {
		var seen bool
		b.eval(&seen, fmt.Sprintf("[...document.querySelectorAll('.tile')].some(t => t.innerText.includes(%q) && t.innerText.includes(%q))", tile.Question, tile.Answer))
		if !seen {
			t.Errorf("no tile shows %q", tile.Answer)
		}
	}
}

// browserSorts: a click on a head sorts by its figures, the next one the other
// way; what has none stays last.
func browserSorts(t *testing.T, b *browser, m *Model) {
	const margin = 9
	head := fmt.Sprintf("%s.tHead.rows[0].cells[%d]", tableUnder("All findings"), margin)
	column := func() (figures []float64, bare int) {
		for _, row := range cellsUnder(b, "All findings") {
			if row[margin] == unknown {
				bare++
				continue
			}
			v, err := strconv.ParseFloat(strings.Replace(row[margin], "−", "-", 1), 64)
			if err != nil || bare > 0 {
				t.Fatalf("%q stands after %d rows without a figure: %v", row[margin], bare, err)
			}
			figures = append(figures, v)
		}
		return figures, bare
	}
	var want []float64
	for i := range m.Findings {
		if v := m.Findings[i].MarginMM; v != nil {
			f, _ := strconv.ParseFloat(number(v, gapDecimals), 64)
			want = append(want, f)
		}
	}
	slices.Sort(want)
	b.click(head)
	if got, bare := column(); !slices.Equal(got, want) || bare != len(m.Findings)-len(want) {
		t.Errorf("after a click the margins are %v, want %v", got, want)
	}
	b.click(head)
	slices.Reverse(want)
	if got, _ := column(); !slices.Equal(got, want) {
		t.Errorf("after another click the margins are %v, want %v", got, want)
	}
	b.click(fmt.Sprintf("%s.tHead.rows[0].cells[0]", tableUnder("All findings")))
	if rows := cellsUnder(b, "All findings"); !strings.HasPrefix(rows[0][0], "F-001") {
		t.Errorf("by number the first row is %q", rows[0])
	}
}

// browserFits: no text runs out of its cell and the page needs no sideways turn.
func browserFits(t *testing.T, b *browser) {
	var out []string
	b.eval(&out, `[...document.querySelectorAll("td,th,dd,.tile")].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.innerText)`)
	var wide bool
	b.eval(&wide, "document.scrollingElement.scrollWidth > document.scrollingElement.clientWidth")
	if len(out) > 0 || wide {
		t.Errorf("too wide: the page %v, cells %q", wide, out)
	}
}

// browserScene: the scene is drawn, turns with the mouse, names what is clicked,
// takes the colours of heat, says what they mean and comes back by a double click.
func browserScene(t *testing.T, b *browser) {
	x, y := b.middle(`document.getElementById("gl")`)
	picture := func() (all string) {
		b.eval(&all, `document.getElementById("gl").toDataURL()`)
		return all
	}
	pixel := func() (c [4]float64) {
		b.eval(&c, `(() => { const g = document.getElementById("gl"), c = document.createElement("canvas"); c.width = g.width; c.height = g.height; `+
			`const d = c.getContext("2d"); d.drawImage(g, 0, 0); return [...d.getImageData(g.width / 2 | 0, g.height / 2 | 0, 1, 1).data]; })()`)
		return c
	}
	says := func(id string) (text string) {
		b.eval(&text, `document.getElementById("`+id+`").innerText`)
		return text
	}
	home := picture()
	if c := pixel(); c[0] < 2*c[1] || c[0] < 2*c[2] {
		t.Errorf("in the middle stands %v, want the engine's red", c)
	}
	b.mouse("mousePressed", x, y, 1)
	for i := range 8 {
		b.mouse("mouseMoved", x+10*float64(i+1), y+4*float64(i+1), 1)
	}
	b.mouse("mouseReleased", x+80, y+32, 1)
	if picture() == home || says("says") != "" {
		t.Errorf("a drag does not turn the scene; it says %q", says("says"))
	}
	b.click(`[...document.querySelectorAll("#bar button")].find(b => b.textContent === "Heat")`)
	if c := pixel(); c[0] < 1.5*c[2] || c[1] < 1.5*c[2] || !strings.Contains(says("key"), "20 °C to 640 °C") || !strings.Contains(says("key"), "hard drive") {
		t.Errorf("by heat the middle is %v, and the key says %q", c, says("key"))
	}
	x, y = b.middle(`document.getElementById("gl")`)
	b.mouse("mousePressed", x, y, 1)
	b.mouse("mouseReleased", x, y, 1)
	if got := says("says"); got != "engine <1> & more, engine: overlap; 640 °C nominal, hard drive" {
		t.Errorf("a click says %q", got)
	}
	b.click(`[...document.querySelectorAll("#bar button")].find(b => b.textContent === "Verdicts")`)
	if got := strings.Fields(says("key")); !slices.Equal(got, []string{"ok", "overlap", "close"}) {
		t.Errorf("the verdicts' key says %q", got)
	}
	b.click(`[...document.querySelectorAll("#bar button")].find(b => b.textContent === "Roles")`)
	x, y = b.middle(`document.getElementById("gl")`)
	b.mouse("mousePressed", x-600, y-260, 1) // beside all parts: nothing is chosen
	b.mouse("mouseReleased", x-600, y-260, 1)
	b.mouse("mousePressed", x-600, y-260, 2)
	b.mouse("mouseReleased", x-600, y-260, 2)
	if says("says") != "" || picture() != home {
		t.Errorf("a double click does not bring the first view back; it says %q", says("says"))
	}
}

// browserPrints: on paper each failing finding has a page of its own with its
// section and its decision, and the words of all chapters are there.
func browserPrints(t *testing.T, b *browser, m *Model) {
	path := filepath.Join(t.TempDir(), "printed.pdf")
	if err := os.WriteFile(path, b.printed(), 0o644); err != nil {
		t.Fatal(err)
	}
	out := textOf(t, path, "-layout")
	pages := strings.Split(out, "\f")
	for i := range m.Findings {
		f := &m.Findings[i]
		if !f.Verdict.Fails() || len(f.Title()) > 80 { // one with very long names may run on
			continue
		}
		if !slices.ContainsFunc(pages, func(p string) bool {
			return strings.Contains(p, f.ID+" "+f.Title()) && strings.Contains(p, "Comment") && strings.Contains(p, "Rule") &&
				(f.Section == nil || strings.Contains(p, "["+f.Section.Name+"]"))
		}) {
			t.Errorf("%s has no page of its own", f.ID)
		}
	}
	for _, title := range []string{"All findings", "How low can it go?", "Can the driver see?", "What gets hot?", "Where can it be mounted?", "Sources", "Cautions"} {
		if !strings.Contains(out, title) {
			t.Errorf("the printed page lacks %q", title)
		}
	}
}

// browserAlone: nothing went wrong in the page, and it asked for nothing but
// itself.
func browserAlone(t *testing.T, b *browser) {
	for _, e := range b.events {
		switch e.Method {
		case "Runtime.exceptionThrown":
			t.Errorf("the page's script failed: %s", e.Params)
		case "Log.entryAdded":
			var said struct{ Entry struct{ Level, Text string } }
			if err := json.Unmarshal(e.Params, &said); err != nil || said.Entry.Level == "error" {
				t.Errorf("the browser complains: %s", e.Params)
			}
		case "Network.requestWillBeSent":
			var sent struct{ Request struct{ URL string } }
			if err := json.Unmarshal(e.Params, &sent); err != nil || !strings.HasPrefix(sent.Request.URL, "file:") && !strings.HasPrefix(sent.Request.URL, "data:") {
				t.Errorf("the page asks for %s", sent.Request.URL)
			}
		}
	}
}
