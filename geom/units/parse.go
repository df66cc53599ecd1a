package units

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"aftbay/geom/say"
)

// scale is one unit a person may type, and how it gives the quantity's own.
// Bare numbers: value·factor + shift is in the unit of the table it stands in.
type scale struct {
	names         []string
	factor, shift float64
}

// The first scale of each table is taken when no unit is typed. Read-only.
var (
	lengths = []scale{
		{names: []string{"mm"}, factor: 1},
		{names: []string{"cm"}, factor: 10},
		{names: []string{"m"}, factor: 1000},
		{names: []string{"in", "\""}, factor: inchMM},
	}
	angles = []scale{
		{names: []string{"deg", "°"}, factor: 1},
		{names: []string{"rad"}, factor: 180 / math.Pi},
	}
	temperatures = []scale{
		{names: []string{"°C", "degC", "C"}, factor: 1},
		{names: []string{"K"}, factor: 1, shift: -zeroDegCK},
	}
	masses = []scale{
		{names: []string{"kg"}, factor: 1},
		{names: []string{"g"}, factor: 1e-3},
		{names: []string{"lb"}, factor: poundKg},
	}
)

// ParseMM returns a typed length in mm: "12,5", "12.5 mm", "1 in", "3cm".
func ParseMM(text string) (mm float64, err error) { return parse("length", text, lengths) }

// ParseDeg returns a typed angle in degrees: "4,5", "4.5°", "0.1 rad".
func ParseDeg(text string) (deg float64, err error) { return parse("angle", text, angles) }

// ParseDegC returns a typed temperature in °C: "120", "120 °C", "393 K". It
// refuses what lies below absolute zero.
func ParseDegC(text string) (degC float64, err error) {
	degC, err = parse("temperature", text, temperatures)
	if err == nil && degC < -zeroDegCK {
		return 0, say.Errorf("temperature %q lies below absolute zero (-273.15 °C)", text)
	}
	return degC, err
}

// ParseKg returns a typed mass in kg: "182", "350 g", "12 lb".
func ParseKg(text string) (kg float64, err error) { return parse("mass", text, masses) }

// parse reads number and unit. Bare numbers: the result is in the table's unit.
func parse(what, text string, scales []scale) (value float64, err error) {
	clean := strings.TrimSpace(strings.ReplaceAll(text, "−", "-")) // U+2212, the typographer's minus
	if clean == "" {
		return 0, say.Errorf("%s is empty; type a number such as 12.5 %s", what, scales[0].names[0])
	}
	digits, unit := split(clean)
	if strings.Count(digits, ".")+strings.Count(digits, ",") > 1 {
		return 0, say.Errorf("%s %q has more than one decimal sign; leave out the thousands signs", what, text)
	}
	value, err = strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if err != nil {
		return 0, say.Errorf("%s %q is not a number; type one such as 12.5 %s", what, text, scales[0].names[0])
	}
	for i, s := range scales {
		if unit == "" && i == 0 || slices.ContainsFunc(s.names, func(n string) bool { return strings.EqualFold(n, unit) }) {
			value = value*s.factor + s.shift
			if math.IsInf(value, 0) {
				return 0, say.Errorf("%s %q is too large", what, text)
			}
			return value, nil
		}
	}
	return 0, say.Errorf("%s %q has the unknown unit %q; use %s", what, text, unit, choices(scales))
}

// split parts the number at the beginning from the unit behind it. The letter e
// belongs to the number only where digits follow.
func split(text string) (digits, unit string) {
	isDigit := func(i int) bool { return i < len(text) && text[i] >= '0' && text[i] <= '9' }
	i := 0
	if text[0] == '+' || text[0] == '-' {
		i++
	}
	for isDigit(i) || i < len(text) && (text[i] == '.' || text[i] == ',') {
		i++
	}
	if i > 0 && i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		j := i + 1
		if j < len(text) && (text[j] == '+' || text[j] == '-') {
			j++
		}
		if isDigit(j) {
			for isDigit(j) {
				j++
			}
			i = j
		}
	}
	return text[:i], strings.TrimSpace(text[i:])
}

// choices lists the first names of the scales, "mm, cm, m or in".
func choices(scales []scale) string {
	var text strings.Builder
	for i, s := range scales {
		switch {
		case i == len(scales)-1:
			text.WriteString(" or ")
		case i > 0:
			text.WriteString(", ")
		}
		text.WriteString(s.names[0])
	}
	return text.String()
}
