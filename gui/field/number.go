package field

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"aftbay/geom/say"
	"aftbay/geom/units"
)

// numberText writes a number of the file as a hand would type it.
func numberText(value any) string {
	n, ok := value.(json.Number)
	if !ok {
		return ""
	}
	if _, err := strconv.ParseUint(n.String(), 10, 64); err == nil {
		return n.String() // a float64 would round long ones
	}
	f, err := n.Float64()
	if err != nil {
		return n.String()
	}
	if size := math.Abs(f); size != 0 && (size < 1e-4 || size >= 1e15) {
		text := strconv.FormatFloat(f, 'e', -1, 64)
		return strings.NewReplacer("e-0", "e-", "e+0", "e", "e+", "e").Replace(text)
	}
	return strconv.FormatFloat(f, 'f', -1, 64)
}

// parseNumber reads a typed number in a unit of the file.
func parseNumber(text, unit string) (json.Number, error) {
	var value float64
	var err error
	switch unit {
	case "mm":
		value, err = units.ParseMM(text)
	case "°":
		value, err = units.ParseDeg(text)
	case "°C":
		value, err = units.ParseDegC(text)
	case "kg":
		value, err = units.ParseKg(text)
	default:
		value, err = parseBare(text, unit)
	}
	if err != nil {
		return "", err
	}
	if bare, err := parseBare(text, unit); err == nil {
		value = bare // to the last bit
	} else if value, err = strconv.ParseFloat(strconv.FormatFloat(value, 'g', convertedDigits, 64), 64); err != nil {
		return "", err
	}
	return json.Number(strconv.FormatFloat(value, 'g', -1, 64)), nil
}

// convertedDigits is what a number keeps that was typed in another unit: 350 g
// are 0.35 kg, not 0.35000000000000003.
const convertedDigits = 15

// parseBare reads a number with no unit but the field's own behind it.
// Bare numbers: in the field's unit.
func parseBare(text, unit string) (value float64, err error) {
	clean := strings.TrimSpace(strings.ReplaceAll(text, "−", "-")) // U+2212, the typographer's minus
	if own, ok := strings.CutSuffix(plainUnit(clean), plainUnit(unit)); ok && unit != "" && own != "" {
		clean = strings.TrimSpace(own)
	}
	if strings.Count(clean, ".")+strings.Count(clean, ",") > 1 {
		return 0, say.Errorf("%q has more than one decimal sign; leave out the thousands signs", text)
	}
	value, err = strconv.ParseFloat(strings.Replace(clean, ",", ".", 1), 64)
	switch {
	case errors.Is(err, strconv.ErrRange):
		return 0, say.Errorf("%q is too large", text)
	case err != nil || math.IsNaN(value) || math.IsInf(value, 0):
		return 0, say.Errorf("%q is not a number; type one such as %s", text, strings.TrimSpace("12.5 "+unit))
	}
	return value, nil
}

// plainUnit writes a unit with the signs that every keyboard has.
func plainUnit(text string) string {
	return strings.NewReplacer("²", "2", "³", "3", "·", "", "(", "", ")", "").Replace(text)
}

// parseWhole reads a whole number.
func parseWhole(text string) (json.Number, error) {
	clean := strings.TrimSpace(text)
	if n, err := strconv.ParseUint(clean, 10, 64); err == nil {
		return json.Number(strconv.FormatUint(n, 10)), nil
	}
	if n, err := strconv.ParseInt(clean, 10, 64); err == nil {
		return json.Number(strconv.FormatInt(n, 10)), nil
	}
	return "", say.Errorf("%q is not a whole number; type one such as 1024", text)
}
