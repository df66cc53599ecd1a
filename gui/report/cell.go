package report

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// SafeCell returns a text as a table's cell that no spreadsheet takes for a
// formula: where a = + - or @ comes first, also in its wide form or after
// blanks, or a tab or line break does, an apostrophe is put before it. Plain
// numbers stay as they are, and so does a sign alone.
//
// Source: common practice, no source.
func SafeCell(text string) string {
	first, size := utf8.DecodeRuneInString(strings.TrimLeftFunc(text, unicode.IsSpace))
	switch first {
	case '=', '+', '-', '@', '＝', '＋', '－', '＠':
		if isNumber(text) || size == len(text) && first == '-' {
			return text
		}
		return "'" + text
	}
	if text != "" && strings.ContainsRune("\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}

// isNumber reports whether text is a plain decimal number, such as -12.5e3, and
// nothing else: no word for infinity, no hexadecimal.
func isNumber(text string) bool {
	if text != "" && (text[0] == '-' || text[0] == '+') {
		text = text[1:]
	}
	mantissa, exponent, hasExponent := strings.Cut(strings.ToLower(text), "e")
	whole, part, hasPoint := strings.Cut(mantissa, ".")
	if hasExponent && !isDigits(strings.TrimPrefix(strings.TrimPrefix(exponent, "-"), "+")) {
		return false
	}
	if hasPoint && part == "" || whole == "" && !hasPoint {
		return false
	}
	return (whole == "" || isDigits(whole)) && (!hasPoint || isDigits(part))
}

func isDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}
