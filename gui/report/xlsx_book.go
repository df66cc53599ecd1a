package report

import (
	"fmt"
	"strings"
)

// workbookFile is one part of the workbook's package.
type workbookFile struct{ name, text string }

const xmlHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

// workbookFiles are the parts of the package, in their order in the file.
func workbookFiles(m *Model, sheets []sheet) []workbookFile {
	const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	const pack = "http://schemas.openxmlformats.org/package/2006/"
	var types, list, rels, names strings.Builder
	var parts []workbookFile
	for i := range sheets {
		n := i + 1
		text, links := sheetText(&sheets[i])
		parts = append(parts, workbookFile{fmt.Sprintf("xl/worksheets/sheet%d.xml", n), text})
		if links != "" {
			parts = append(parts, workbookFile{fmt.Sprintf("xl/worksheets/_rels/sheet%d.xml.rels", n), links})
		}
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, n)
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, xmlText(sheets[i].name), n, n)
		fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="%s/worksheet" Target="worksheets/sheet%d.xml"/>`, n, office, n)
		fmt.Fprintf(&names, `<definedName name="_xlnm._FilterDatabase" localSheetId="%d" hidden="1">'%s'!$A$1:$%s$%d</definedName><definedName name="_xlnm.Print_Titles" localSheetId="%d">'%s'!$1:$1</definedName>`,
			i, xmlText(sheets[i].name), columnName(len(sheets[i].heads)-1), len(sheets[i].rows)+1, i, xmlText(sheets[i].name))
	}
	fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="%s/styles" Target="styles.xml"/>`, len(sheets)+1, office)
	files := []workbookFile{
		{"[Content_Types].xml", `<Types xmlns="` + pack + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/><Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>` + types.String() + `</Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + pack + `relationships"><Relationship Id="rId1" Type="` + office + `/officeDocument" Target="xl/workbook.xml"/><Relationship Id="rId2" Type="` + pack + `relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`},
		{"docProps/core.xml", `<cp:coreProperties xmlns:cp="` + pack + `metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>` + xmlText(m.Title) + `</dc:title><dc:creator>` + xmlText(joinNonEmpty(", ", m.Author, m.Program)) + `</dc:creator></cp:coreProperties>`},
		{"xl/workbook.xml", `<workbook xmlns="` + main + `" xmlns:r="` + office + `"><sheets>` + list.String() + `</sheets><definedNames>` + names.String() + `</definedNames></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + pack + `relationships">` + rels.String() + `</Relationships>`},
		{"xl/styles.xml", stylesText()},
	}
	files = append(files, parts...)
	for i := range files {
		files[i].text = xmlHead + files[i].text
	}
	return files
}

// stylesText is the XML of the looks that the constants xs… number.
func stylesText() string {
	var fills, formats strings.Builder
	fill := func(c ink) {
		fmt.Fprintf(&fills, `<fill><patternFill patternType="solid"><fgColor rgb="FF%s"/></patternFill></fill>`, strings.ToUpper(c.hex()[1:]))
	}
	fill(inkAccent)
	look := func(numFmt, font, fill int, wrap string) {
		fmt.Fprintf(&formats, `<xf numFmtId="%d" fontId="%d" fillId="%d" borderId="0" xfId="0" applyNumberFormat="1" applyFont="1" applyFill="1" applyAlignment="1"><alignment vertical="top"%s/></xf>`, numFmt, font, fill, wrap)
	}
	const wraps = ` wrapText="1"`
	look(0, 0, 0, "")
	look(0, 1, 2, wraps)
	look(0, 0, 0, wraps)
	look(0, 2, 0, "")
	for _, numFmt := range []int{1, 164, 2, 165, 166} {
		look(numFmt, 0, 0, "")
	}
	for i, v := range verdicts {
		_, c := v.sign()
		fill(pale(c))
		look(0, 3, 3+i, "")
	}
	return `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts count="3"><numFmt numFmtId="164" formatCode="0.0"/><numFmt numFmtId="165" formatCode="0.000"/><numFmt numFmtId="166" formatCode="0.000000"/></numFmts>` +
		`<fonts count="4"><font><sz val="10"/><name val="Arial"/></font><font><b/><sz val="10"/><color rgb="FFFFFFFF"/><name val="Arial"/></font><font><u/><sz val="10"/><color rgb="FF0A4E54"/><name val="Arial"/></font><font><b/><sz val="10"/><name val="Arial"/></font></fonts>` +
		fmt.Sprintf(`<fills count="%d"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>%s</fills>`, 3+len(verdicts), fills.String()) +
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		fmt.Sprintf(`<cellXfs count="%d">%s</cellXfs>`, xsVerdict+len(verdicts), formats.String()) +
		`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`
}

// pale is a colour mixed half and half with white, so that black words stand on it.
func pale(c ink) ink {
	for k := range c {
		c[k] = uint8((int(c[k]) + 255) / 2)
	}
	return c
}
