package units

import (
	"math"
	"strconv"
	"strings"
)

// Unknown is what stands in place of a number that is not finite.
const Unknown = "unknown"

// Decimals shown. Common practice, no source, unless a reason stands beside.
const (
	decimalsMM   = 2 // a hundredth is below what a part is made to
	decimalsMM2  = 0
	decimalsCM3  = 1
	decimalsDeg  = 1
	decimalsDegC = 0 // an estimate's band is tens of degrees
	decimalsK    = 0
	decimalsKg   = 1
	decimalsN    = 0
	decimalsW    = 0
	decimalsKWM2 = 2
	decimalsMin  = 1
	decimalsPart = 1 // percent
)

// NumberMM returns a length, "12.34".
func NumberMM(mm float64) string { return number(mm, decimalsMM) }

// NumberMM2 returns an area, "1250".
func NumberMM2(mm2 float64) string { return number(mm2, decimalsMM2) }

// NumberCM3 returns a volume given in mm³ as cm³, "72.0".
func NumberCM3(mm3 float64) string { return number(mm3/1000, decimalsCM3) }

// NumberDeg returns an angle given in degrees, "4.7".
func NumberDeg(deg float64) string { return number(deg, decimalsDeg) }

// NumberDegC returns a temperature given in °C, "123".
func NumberDegC(degC float64) string { return number(degC, decimalsDegC) }

// NumberK returns a temperature difference, "12".
func NumberK(diffK float64) string { return number(diffK, decimalsK) }

// NumberKg returns a mass, "182.5".
func NumberKg(kg float64) string { return number(kg, decimalsKg) }

// NumberN returns a force, "4120".
func NumberN(forceN float64) string { return number(forceN, decimalsN) }

// NumberW returns a heat flow, "85".
func NumberW(w float64) string { return number(w, decimalsW) }

// NumberKWM2 returns a flux given in W/m² as kW/m², "12.34".
func NumberKWM2(wM2 float64) string { return number(wM2/1000, decimalsKWM2) }

// NumberMin returns a time given in seconds as minutes, "8.5".
func NumberMin(s float64) string { return number(s/60, decimalsMin) }

// NumberPercent returns a share of 0..1 in percent, "12.5".
func NumberPercent(share float64) string { return number(100*share, decimalsPart) }

// FormatMM returns a length, "12.34 mm".
func FormatMM(mm float64) string { return with(NumberMM(mm), " mm") }

// FormatMM2 returns an area, "1250 mm²".
func FormatMM2(mm2 float64) string { return with(NumberMM2(mm2), " mm²") }

// FormatCM3 returns a volume given in mm³, "72.0 cm³".
func FormatCM3(mm3 float64) string { return with(NumberCM3(mm3), " cm³") }

// FormatDeg returns an angle given in degrees, "4.7°".
func FormatDeg(deg float64) string { return with(NumberDeg(deg), "°") }

// FormatDegC returns a temperature given in °C, "123 °C".
func FormatDegC(degC float64) string { return with(NumberDegC(degC), " °C") }

// FormatK returns a temperature difference, "12 K".
func FormatK(diffK float64) string { return with(NumberK(diffK), " K") }

// FormatKg returns a mass, "182.5 kg".
func FormatKg(kg float64) string { return with(NumberKg(kg), " kg") }

// FormatN returns a force, "4120 N".
func FormatN(forceN float64) string { return with(NumberN(forceN), " N") }

// FormatW returns a heat flow, "85 W".
func FormatW(w float64) string { return with(NumberW(w), " W") }

// FormatWM2 returns a flux given in W/m², "12.34 kW/m²".
func FormatWM2(wM2 float64) string { return with(NumberKWM2(wM2), " kW/m²") }

// FormatMin returns a time given in seconds, "8.5 min".
func FormatMin(s float64) string { return with(NumberMin(s), " min") }

// FormatPercent returns a share of 0..1, "12.5 %".
func FormatPercent(share float64) string { return with(NumberPercent(share), " %") }

func with(number, unit string) string {
	if number == Unknown {
		return number
	}
	return number + unit
}

// number is the way every number is shown: rounded to the nearest, without a
// minus before zero. Numbers of more than 15 digits before the point, which no
// quantity here reaches, are shown as a power of ten.
//
// Bare numbers: of any unit.
func number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return Unknown
	}
	if math.Abs(x) >= 1e15 {
		return strconv.FormatFloat(x, 'e', 3, 64)
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if digits, minus := strings.CutPrefix(text, "-"); minus && strings.Trim(digits, "0.") == "" {
		return digits
	}
	return text
}
