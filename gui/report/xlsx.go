package report

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"aftbay/geom/say"
)

// WriteXLSX writes the findings as a workbook (Office Open XML, ECMA-376): all
// findings with filters and a frozen head, the list of issues, the gap budgets,
// temperatures and inputs. Figures are numbers with the digits of the other
// writers; the verdict is a word on its colour. The same model gives the same
// bytes.
func WriteXLSX(w io.Writer, m *Model) error {
	if err := Check(m); err != nil {
		return err
	}
	sheets := []sheet{findingsSheet(m), issuesSheet(m), budgetSheet(m)}
	if m.Heat != nil {
		sheets = append(sheets, heatSheet(m))
	}
	if m.Changes != nil {
		sheets = append(append(sheets, changesSheet(m)), changedSheets(m)...)
	}
	sheets = append(sheets, aboutSheet(m))
	z := zip.NewWriter(w)
	for _, f := range workbookFiles(m, sheets) {
		part, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Deflate}) // no time: same bytes
		if err == nil {
			_, err = io.WriteString(part, f.text)
		}
		if err != nil {
			return say.Errorf("xlsx: %s: %w", f.name, err)
		}
	}
	if err := z.Close(); err != nil {
		return say.Errorf("xlsx: %w", err)
	}
	return nil
}

// field is what stands in one cell of a sheet.
type field struct {
	text   string
	number bool
	style  int
	link   string // to a file beside the workbook
}

// sheet is one table of the workbook.
type sheet struct {
	name  string
	heads []string
	wide  []int // columns in characters; the last one holds for the rest
	rows  [][]field
}

// The styles of the workbook, as styles.xml numbers them.
const (
	xsPlain = iota
	xsHead
	xsWrap
	xsLink
	xsWhole // 0
	xsOne   // 0.0
	xsTwo   // 0.00
	xsThree // 0.000
	xsSix   // 0.000000
	xsVerdict
)

// wording is a text field; a spreadsheet takes it as it stands, never as a formula.
func wording(text string) field { return field{text: text, style: xsWrap} }

// figure is a number with the digits of the other writers.
func figure(v *float64, decimals int) field {
	style := map[int]int{0: xsWhole, 1: xsOne, 2: xsTwo, 3: xsThree, 6: xsSix}[decimals]
	return field{text: number(v, decimals), number: v != nil, style: style}
}

// coordinate is a number as places are printed.
func coordinate(v float64, decimals int) field { // Bare numbers: mm, or of a direction
	f := figure(&v, decimals)
	f.text = rounded(v, decimals)
	return f
}

func verdictField(v Verdict) field {
	for i, k := range verdicts {
		if v == k {
			return field{text: string(v), style: xsVerdict + i}
		}
	}
	return wording(string(v))
}

func pictureField(p *Picture) field {
	if p == nil {
		return wording("")
	}
	return field{text: p.Name, style: xsLink, link: "pictures/" + p.Name + ".png"}
}

// xmlText makes a text safe in XML; signs that XML does not know become �.
func xmlText(text string) string {
	var out bytes.Buffer
	if err := xml.EscapeText(&out, []byte(text)); err != nil {
		return ""
	}
	return out.String()
}

// columnName is A for 0, Z for 25, AA for 26.
func columnName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// sheetText is the XML of a sheet and of its links to files.
func sheetText(s *sheet) (text, rels string) {
	var out, links, relations strings.Builder
	last := columnName(len(s.heads) - 1)
	reach := fmt.Sprintf("A1:%s%d", last, len(s.rows)+1)
	fmt.Fprintf(&out, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><dimension ref="%s"/><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`, reach)
	for i := range s.heads {
		fmt.Fprintf(&out, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, s.wide[min(i, len(s.wide)-1)])
	}
	out.WriteString(`</cols><sheetData><row r="1">`)
	for i, h := range s.heads {
		fmt.Fprintf(&out, `<c r="%s1" s="%d" t="inlineStr"><is><t>%s</t></is></c>`, columnName(i), xsHead, xmlText(h))
	}
	out.WriteString("</row>")
	n := 0
	for r, row := range s.rows {
		fmt.Fprintf(&out, `<row r="%d">`, r+2)
		for i, f := range row {
			at := columnName(i) + strconv.Itoa(r+2)
			switch {
			case f.text == "":
				continue
			case f.number:
				fmt.Fprintf(&out, `<c r="%s" s="%d"><v>%s</v></c>`, at, f.style, f.text)
			default:
				fmt.Fprintf(&out, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, f.style, xmlText(f.text))
			}
			if f.link != "" {
				n++
				fmt.Fprintf(&links, `<hyperlink ref="%s" r:id="rId%d"/>`, at, n)
				fmt.Fprintf(&relations, `<Relationship Id="rId%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/hyperlink" Target="%s" TargetMode="External"/>`, n, xmlText(f.link))
			}
		}
		out.WriteString("</row>")
	}
	fmt.Fprintf(&out, `</sheetData><autoFilter ref="%s"/>`, reach)
	if n > 0 {
		out.WriteString("<hyperlinks>" + links.String() + "</hyperlinks>")
		rels = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + relations.String() + "</Relationships>"
	}
	out.WriteString(`<pageSetup paperSize="9" orientation="landscape" fitToWidth="1" fitToHeight="0"/></worksheet>`)
	return out.String(), rels
}
