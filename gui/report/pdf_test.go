package report

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

// writePaper writes m into a file and returns its path.
func writePaper(t *testing.T, m *Model, o PDFOptions) string {
	t.Helper()
	var out bytes.Buffer
	if err := WritePDF(&out, m, o); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// textOf reads the text of a PDF back with an outside reader, in the order it
// was drawn; pages are divided by form feeds.
func textOf(t *testing.T, path string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Fatal("pdftotext is missing, which reads the report back; install poppler-utils")
	}
	out, err := exec.Command("pdftotext", append(args, path, "-")...).Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	return string(out)
}

// squeezed drops all blanks, so that line breaks don't matter.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\u00ad' {
			return -1
		}
		return r
	}, s)
}

// says collects every text of the model that the paper must show.
func says(v reflect.Value, out *[]string) {
	switch v.Kind() {
	case reflect.String:
		if v.String() != "" {
			*out = append(*out, v.String())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			says(v.Elem(), out)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			says(v.Index(i), out)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type() == reflect.TypeFor[Finding]() && (v.Type().Field(i).Name == "Rule") {
				continue // shown on the pages of failing findings alone
			}
			if v.Type().Field(i).IsExported() && v.Field(i).Kind() != reflect.Interface {
				says(v.Field(i), out)
			}
		}
	}
}

func TestPaperSaysAllThatTheModelSays(t *testing.T) {
	m := richModel()
	for _, paper := range []Paper{A4, Letter} {
		got := squeezed(textOf(t, writePaper(t, m, PDFOptions{Paper: paper}), "-raw"))
		var want []string
		says(reflect.ValueOf(m).Elem(), &want)
		for _, v := range append(sampleFigures(m), want...) {
			if !strings.Contains(got, squeezed(v)) {
				t.Errorf("paper %d: %q is missing", paper, v)
			}
		}
	}
}

// sampleFigures lists the numbers of the model as they must be printed; they
// are formatted here by other means than in the writer.
func sampleFigures(m *Model) []string {
	var want []string
	for _, f := range m.Findings {
		for _, v := range []*float64{f.StaticMM, f.MotionMM, f.HeatMM, f.ToleranceMM, f.RequiredMM} {
			if v != nil {
				want = append(want, strings.Replace(fmt.Sprintf("%.2f", *v), "-", "−", 1))
			}
		}
		if f.ID != "F-018" { // has its own case below
			want = append(want, strings.Replace(fmt.Sprintf("%.2f", *f.LiveMM), "-", "−", 1))
		}
		want = append(want, strings.ReplaceAll(fmt.Sprintf("%.1f, %.1f, %.1f", f.PointAMM[0], f.PointAMM[1], f.PointAMM[2]), "-", "−"))
	}
	return append(want, "−0.0004", "≥ 63.00", "1234 mm³", "31.40", "162", "−40", "61 %", "Short by 4.80 mm of the 50.00 mm required.")
}

func TestSameModelSameBytes(t *testing.T) {
	fonts := [3][]byte{bytes.Clone(goregular.TTF), bytes.Clone(gobold.TTF), bytes.Clone(gomono.TTF)}
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if err := WritePDF(out, richModel(), PDFOptions{}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Fatal("two runs gave different bytes")
	}
	m := richModel()
	m.Date = m.Date.Add(24 * time.Hour)
	second.Reset()
	if err := WritePDF(&second, m, PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Fatal("the date of the model doesn't reach the file")
	}
	for i, now := range [3][]byte{goregular.TTF, gobold.TTF, gomono.TTF} {
		if !bytes.Equal(fonts[i], now) {
			t.Errorf("writing has changed font %d", i)
		}
	}
}

// word is a word of the paper with its box, in points from the upper left.
type word struct {
	page                   int
	text                   string
	left, top, right, foot float64
}

var wordBox = regexp.MustCompile(`<word xMin="([^"]+)" yMin="([^"]+)" xMax="([^"]+)" yMax="([^"]+)">(.*?)</word>`)

// words reads the place of every word back.
func words(t *testing.T, path string) []word {
	t.Helper()
	var all []word
	page := 0
	for _, line := range strings.Split(textOf(t, path, "-bbox"), "\n") {
		if strings.Contains(line, "<page ") {
			page++
		}
		m := wordBox.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		w := word{page: page, text: m[5]}
		for i, to := range []*float64{&w.left, &w.top, &w.right, &w.foot} {
			v, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			*to = v
		}
		all = append(all, w)
	}
	return all
}

func TestNoWordLeavesThePageOrMeetsAnother(t *testing.T) {
	const pointsPerMM = 72 / 25.4
	nasty := richModel()
	nasty.Findings, nasty.Joined, nasty.Inputs = nasty.Findings[:20], nasty.Joined[:3], nasty.Inputs[:3]
	lengthen(reflect.ValueOf(nasty).Elem())
	nasty.Title = strings.Repeat("A title that is far too long for any cover ", 6)
	for i := range nasty.Tiles {
		nasty.Tiles[i].Question += " And what else would the thirty people in the room like to know?"
		nasty.Tiles[i].Answer = strings.Repeat(nasty.Tiles[i].Answer+"; ", 5)
	}
	for name, m := range map[string]*Model{"rich": richModel(), "nasty": nasty} {
		for _, paper := range []Paper{A4, Letter} {
			all := words(t, writePaper(t, m, PDFOptions{Paper: paper}))
			if len(all) < 3000 {
				t.Fatalf("%s: only %d words read back", name, len(all))
			}
			size := paper.size()
			for i, w := range all {
				// A millimetre of leeway: boxes hold the ascent of the font, not of the word.
				if w.left < (sideMM-1)*pointsPerMM || w.right > (size.Wd-sideMM+1)*pointsPerMM ||
					w.top < 9*pointsPerMM || w.foot > (size.Ht-5)*pointsPerMM {
					t.Errorf("%s, paper %d, page %d: %q leaves the page", name, paper, w.page, w.text)
				}
				for _, o := range all[i+1:] {
					if o.page != w.page {
						break
					}
					if meet(w, o) {
						t.Errorf("%s, paper %d, page %d: %q and %q overlap", name, paper, w.page, w.text, o.text)
					}
				}
			}
		}
	}
}

// lengthen makes every free text of the model long, with a word that has no
// place to break.
func lengthen(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "" {
			v.SetString(v.String() + " and so on until_the_end_of_the_line_" + strings.Repeat("Wm", 30) + " is reached")
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*Picture]() {
			lengthen(v.Elem())
		} else if !v.IsNil() {
			p := v.Interface().(*Picture)
			p.Caption = strings.Repeat("A caption that tells too much. ", 20)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			lengthen(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				lengthen(v.Field(i))
			}
		}
	}
}

// meet tells whether two words share room. Boxes are as high as the font's
// tallest letter, so the upper and lower quarter may cross.
func meet(a, b word) bool {
	inset := 0.25 * min(a.foot-a.top, b.foot-b.top)
	return a.left+0.3 < b.right && b.left+0.3 < a.right && a.top+inset < b.foot-inset && b.top+inset < a.foot-inset
}

func TestPagesAreNumberedAndContentsAreRight(t *testing.T) {
	m := richModel()
	path := writePaper(t, m, PDFOptions{})
	pages := strings.Split(strings.TrimSuffix(textOf(t, path, "-layout"), "\f"), "\f")
	for i, p := range pages {
		if want := fmt.Sprintf("page %d of %d", i+1, len(pages)); !strings.Contains(p, want) {
			t.Errorf("page %d lacks %q", i+1, want)
		}
	}
	repeated := 0
	for i, p := range pages {
		if strings.HasPrefix(strings.TrimSpace(p), "All findings") {
			repeated++
			if !strings.Contains(p, "Owner, due") || !strings.Contains(p, "Live gap") {
				t.Errorf("page %d of the findings table lacks the heads", i+1)
			}
		}
	}
	if repeated < 10 {
		t.Errorf("the findings table fills only %d pages", repeated)
	}
	line := regexp.MustCompile(`(Summary by question|Findings that fail|All findings|How low can it go\?|Can the driver see\?|` +
		`What gets hot\?|Where can it be mounted\?|What changed\?|Basis: assumptions, gaps, inputs|Sources|Cautions) {2,}(\d+)`)
	found := line.FindAllStringSubmatch(pages[0], -1)
	if len(found) != 11 {
		t.Fatalf("contents hold %d of 11 sections:\n%s", len(found), pages[0])
	}
	for _, f := range found {
		n, _ := strconv.Atoi(f[2])
		if n < 2 || n > len(pages) || !strings.HasPrefix(strings.TrimSpace(pages[n-1]), f[1]) {
			t.Errorf("section %q doesn't start on page %d", f[1], n)
		}
		if n > 2 && strings.HasPrefix(strings.TrimSpace(pages[n-2]), f[1]) {
			t.Errorf("section %q starts before page %d", f[1], n)
		}
	}
}

func TestEachPageWithHeatFiguresSaysEstimate(t *testing.T) {
	pages := strings.Split(textOf(t, writePaper(t, richModel(), PDFOptions{}), "-layout"), "\f")
	met := 0
	for i, p := range pages {
		if regexp.MustCompile(`\d+ ?°C|Nominal °C`).MatchString(p) {
			met++
			if !strings.Contains(p, Estimate) || !strings.Contains(p, NotMeasured) {
				t.Errorf("page %d shows a temperature without %q and %q", i+1, Estimate, NotMeasured)
			}
		}
	}
	if met < 4 {
		t.Fatalf("only %d pages with temperatures", met)
	}
}

func TestFailingFindingsHavePageBookmarkAndPictures(t *testing.T) {
	m := richModel()
	var out bytes.Buffer
	if err := WritePDF(&out, m, PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	failing := 0
	for i := range m.Findings {
		if m.Findings[i].Verdict.Fails() {
			failing++
		}
	}
	if failing < 15 {
		t.Fatalf("the sample fails only %d times", failing)
	}
	// Outline entries and images are plain objects of the file.
	if got, want := bytes.Count(out.Bytes(), []byte("/Parent ")), failing; got < want {
		t.Errorf("%d outline entries for %d failing findings", got, want)
	}
	if got, want := bytes.Count(out.Bytes(), []byte("/Subtype /Image")), len(pictures(m)); got != want {
		t.Errorf("%d images for %d pictures", got, want)
	}
}

func TestEmptyModelSaysWhatIsMissing(t *testing.T) {
	m := &Model{Title: "Empty", Date: time.Date(2027, 2, 3, 0, 0, 0, 0, time.UTC)}
	got := squeezed(textOf(t, writePaper(t, m, PDFOptions{}), "-raw"))
	for _, want := range []string{
		"Does it fit?not part of this report", "How low can it go?not part", "Can the driver see?not part", "What gets hot?not part",
		"Where can it be mounted?not part", "What changed?not part", "No question was answered.",
		"Hot surfaces burn skin", "A raised vehicle or a hanging powertrain can fall", "Local codes and qualified people decide",
	} {
		if !strings.Contains(got, squeezed(want)) {
			t.Errorf("%q is missing", want)
		}
	}
}

func TestStrangeSignsAreKeptOrReplaced(t *testing.T) {
	m := &Model{Title: "č Ĩ Ŝ (a) \\ b) ÄÖÜäöüß Ωλ Жя", Date: time.Date(2027, 2, 3, 0, 0, 0, 0, time.UTC)}
	m.Assumptions = []string{"snow ☃ car 🚗 han 車", "bad \xff byte", "tab\tand\r\nbreak", "a\x00b", "x\u00a0y"}
	got := squeezed(textOf(t, writePaper(t, m, PDFOptions{}), "-raw"))
	for _, want := range []string{m.Title, "snow □ car □ han □", "tab and", "break", "x y"} {
		if !strings.Contains(got, squeezed(want)) {
			t.Errorf("%q is missing", want)
		}
	}
}
