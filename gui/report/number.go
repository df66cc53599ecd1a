package report

import (
	"math"
	"strconv"
	"strings"

	"aftbay/geom"
)

// Decimals of the figures, on paper and in tables alike.
const (
	gapDecimals    = 2 // a hundredth of a millimetre: finer than any envelope, coarse enough to read
	placeDecimals  = 1 // places on parts
	tempDecimals   = 0 // bands are tens of kelvin wide
	wattDecimals   = 1 // an estimate; the sum still closes to the eye
	minuteDecimals = 1
	wayDecimals    = 3 // components of a unit direction
	maxDecimals    = 6 // the kernels promise no more
)

// unknown stands where a number is not known.
const unknown = "–"

// plain prints v with fixed decimals and an ASCII minus. A value that would
// print as zero but isn't gets more decimals, so a lost hundredth can't turn a
// short gap into "0.00".
func plain(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	for d := decimals + 1; isZeroText(s) && v != 0 && d <= maxDecimals; d++ {
		s = strconv.FormatFloat(v, 'f', d, 64)
	}
	if isZeroText(s) {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// isZeroText tells whether s spells a zero.
func isZeroText(s string) bool { return strings.Trim(s, "-0.") == "" }

// shown is plain for readers: a true minus sign, and a dash for nil.
func shown(v *float64, decimals int) string {
	if v == nil {
		return unknown
	}
	return strings.Replace(plain(*v, decimals), "-", "−", 1)
}

// withUnit is shown with a unit behind it, or the dash alone.
func withUnit(v *float64, decimals int, unit string) string {
	if v == nil {
		return unknown
	}
	return shown(v, decimals) + " " + unit
}

// gapText is the live gap of a finding, with "≥" before a lower bound.
func gapText(f *Finding) string {
	s := shown(f.LiveMM, gapDecimals)
	if f.AtLeast && f.LiveMM != nil {
		return "≥ " + s
	}
	return s
}

// rounded prints a coordinate: near zero it is zero.
func rounded(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if isZeroText(s) {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// triple prints a place, a direction or a shift for readers.
func triple(v *geom.Vec, decimals int) string {
	if v == nil {
		return unknown
	}
	parts := make([]string, 3)
	for i := range parts {
		parts[i] = strings.Replace(rounded(v[i], decimals), "-", "−", 1)
	}
	return strings.Join(parts, ", ")
}

// errorText prints an error bound, which may be far below the shown decimals.
func errorText(boundMM *float64) string {
	switch {
	case boundMM == nil:
		return unknown
	case *boundMM == 0:
		return "0 mm"
	case math.Abs(*boundMM) < 1e-6:
		return "below 0.000001 mm"
	case math.Abs(*boundMM) < 0.001:
		return strconv.FormatFloat(*boundMM, 'f', 6, 64) + " mm"
	}
	return shown(boundMM, 3) + " mm"
}

// percent prints a ratio as whole per cent.
func percent(ratio float64) string { return plain(100*ratio, 0) + " %" }
