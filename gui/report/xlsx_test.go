package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// workbook writes a model and opens it with a reader that is not ours.
func workbook(t *testing.T, m *Model) *excelize.File {
	t.Helper()
	var one, two bytes.Buffer
	for _, out := range []*bytes.Buffer{&one, &two} {
		if err := WriteXLSX(out, m); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Fatal("the same model gives two workbooks")
	}
	f, err := excelize.OpenReader(&one)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// TestWorkbookHoldsTheTable: every cell of the findings sheet is what the table
// file says, figures as numbers, texts as texts.
func TestWorkbookHoldsTheTable(t *testing.T) {
	m := richModel()
	f := workbook(t, m)
	var table bytes.Buffer
	if err := WriteCSV(&table, m); err != nil {
		t.Fatal(err)
	}
	want, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.GetRows("Findings", excelize.Options{RawCellValue: true})
	if err != nil || len(got) != len(want) {
		t.Fatalf("%d rows, want %d; %v", len(got), len(want), err)
	}
	for r := range want {
		for c, text := range want[r] {
			is := ""
			if c < len(got[r]) {
				is = got[r][c]
			}
			if r > 0 && !isNumber(text) {
				text = strings.TrimPrefix(text, "'") // the table file's guard against formulas
			}
			if is != text {
				t.Fatalf("%s%d says %q, want %q", columnName(c), r+1, is, text)
			}
			kind, err := f.GetCellType("Findings", columnName(c)+itoa(r+1))
			if err != nil {
				t.Fatal(err)
			}
			isFigure := r > 0 && strings.HasSuffix(findingHeads[c], "_mm") && text != ""
			if isFigure && kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
				t.Errorf("%s%d %q is no number: %v", columnName(c), r+1, text, kind)
			}
			if kind == excelize.CellTypeFormula {
				t.Errorf("%s%d is a formula", columnName(c), r+1)
			}
		}
	}
}

func itoa(n int) string { return plain(float64(n), 0) }

// TestWorkbookHelpsTheReader: frozen head, filter, verdict on its colour, links.
func TestWorkbookHelpsTheReader(t *testing.T) {
	m := richModel()
	f := workbook(t, m)
	if got := strings.Join(f.GetSheetList(), ", "); got != "Findings, Issues, Gap budgets, Temperatures, Changes, Changed heat, Changed drop, About" {
		t.Errorf("sheets %s", got)
	}
	panes, err := f.GetPanes("Findings")
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("panes %+v, %v", panes, err)
	}
	row := 0
	for i := range m.Findings {
		if m.Findings[i].Picture != nil {
			row = i + 2
			break
		}
	}
	at := func(head string) string {
		for i, h := range findingHeads {
			if h == head {
				return columnName(i) + itoa(row)
			}
		}
		return ""
	}
	linked, target, err := f.GetCellHyperLink("Findings", at("picture"))
	if err != nil || !linked || target != "pictures/"+m.Findings[row-2].Picture.Name+".png" {
		t.Errorf("link %v %q, %v", linked, target, err)
	}
	id, err := f.GetCellStyle("Findings", at("verdict"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.GetStyle(id); err != nil { // reads the styles
		t.Fatal(err)
	}
	_, colour := m.Findings[row-2].Verdict.sign()
	fill := f.Styles.Fills.Fill[*f.Styles.CellXfs.Xf[id].FillID].PatternFill
	if want := "FF" + strings.ToUpper(pale(colour).hex()[1:]); fill.PatternType != "solid" || fill.FgColor.RGB != want {
		t.Errorf("verdict stands on %s %s, want %s", fill.PatternType, fill.FgColor.RGB, want)
	}
	names := f.GetDefinedName()
	filtered := false
	for _, n := range names {
		filtered = filtered || n.Name == "_xlnm._FilterDatabase" && strings.Contains(n.RefersTo, "Findings")
	}
	if !filtered {
		t.Errorf("no filter among %+v", names)
	}
	issues, err := f.GetRows("Issues")
	if err != nil || len(issues) < 2 {
		t.Fatal(issues, err)
	}
	for _, r := range issues[1:] {
		if v := Verdict(r[4]); !v.Fails() && r[12] == "" {
			t.Errorf("no issue: %v", r)
		}
	}
}

func TestColumnNames(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := columnName(i); got != want {
			t.Errorf("column %d is %s, want %s", i, got, want)
		}
	}
}
