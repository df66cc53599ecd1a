package report

import (
	"strconv"
	"strings"
	"testing"
)

func TestSafeCell(t *testing.T) {
	for _, text := range []string{
		"=1+1", "+1+1", "-1+1", "@SUM(A1)", "=cmd|' /C calc'!A0", "=HYPERLINK(\"http://x\",\"y\")", " =1+1", "\u00a0=1+1", "\t=1+1", "\r=1+1", "\n=1+1",
		"\tcoil", "\rcoil", "\ncoil", "＝1+1", "＋1", "－1", "＠x", "-Inf", "+Inf", "-NaN", "-0x1p3", "--5", "+-5", "-5 mm", "-1,5", "-1e", "-.", "-1.", "-1e5e5", "-1_000", "-٣",
		"- coil", "+", "=", "@",
	} {
		if got := SafeCell(text); got != "'"+text {
			t.Errorf("%q came out as %q", text, got)
		}
	}
	for _, text := range []string{
		"", "coil 1", "12.5", "-12.5", "+12.5", "-0", "-.5", "-1e-7", "+1E+7", "-", "a=b", "5-3", "'=1", "é", "−5", "–", "x\t=1", "\xff=",
	} {
		if got := SafeCell(text); got != text {
			t.Errorf("%q came out as %q", text, got)
		}
	}
}

// FuzzSafeCell: what comes out begins like no formula, or is a number.
func FuzzSafeCell(f *testing.F) {
	f.Add("=1")
	f.Add(" \t-1e5")
	f.Fuzz(func(t *testing.T, text string) {
		got := SafeCell(text)
		if !strings.HasSuffix(got, text) || len(got) > len(text)+1 {
			t.Fatalf("%q became %q", text, got)
		}
		if got == text && text != "" && strings.ContainsRune("=+-@\t\r\n", rune(text[0])) && text != "-" {
			if _, err := strconv.ParseFloat(text, 64); err != nil && !strings.Contains(err.Error(), "range") {
				t.Fatalf("%q is no number and came through", text)
			}
		}
	})
}
