package render

import (
	"math"
	"slices"
	"testing"
)

// oklabOf is the forward conversion, to check the table made by the inverse.
//
// Source: B. Ottosson, "A perceptual color space for image processing" (2020),
// matrices of the linear sRGB to Oklab conversion.
func oklabOf(c RGB) [3]float64 {
	p := lightOf(c)
	l := math.Cbrt(0.4122214708*p[0] + 0.5363325363*p[1] + 0.0514459929*p[2])
	m := math.Cbrt(0.2119034982*p[0] + 0.6806995451*p[1] + 0.1073969566*p[2])
	s := math.Cbrt(0.0883024619*p[0] + 0.2817188376*p[1] + 0.6299787005*p[2])
	return [3]float64{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

func TestOklabBothWays(t *testing.T) {
	for _, c := range []RGB{{255, 255, 255}, {0, 0, 0}, {200, 30, 90}, {10, 128, 77}} {
		if got := fromOklab(oklabOf(c)); got != c {
			t.Errorf("%v comes back as %v", c, got)
		}
	}
	if w := oklabOf(RGB{255, 255, 255}); !near(w[0], 1, 1e-4) || !near(w[1], 0, 1e-4) || !near(w[2], 0, 1e-4) {
		t.Errorf("white is %v, want L=1 and no colour (the definition)", w)
	}
}

func TestScaleIsEven(t *testing.T) {
	// Steps of eight entries, so that rounding to bytes (about 0.002 each) does
	// not hide the evenness.
	var steps []float64
	var sum float64
	last := oklabOf(scaleTable[0])
	for i := 8; i < 256; i += 8 {
		lab := oklabOf(scaleTable[i])
		if lab[0] <= last[0] {
			t.Errorf("entry %d: lightness %v does not rise from %v", i, lab[0], last[0])
		}
		step := math.Hypot(math.Hypot(lab[0]-last[0], lab[1]-last[1]), lab[2]-last[2])
		steps, sum, last = append(steps, step), sum+step, lab
	}
	mean := sum / float64(len(steps))
	for i, s := range steps {
		if math.Abs(s-mean) > 0.12*mean {
			t.Errorf("step %d is %.4f, mean %.4f", i, s, mean)
		}
	}
}

func TestScaleEnds(t *testing.T) {
	s := FieldScale{Low: 20, High: 620}
	if s.color(-50) != ScaleColor(0) || s.color(900) != ScaleColor(1) || s.color(320) != ScaleColor(0.5) {
		t.Error("values beyond the ends take the end colours, the middle the middle")
	}
	if s.color(float32(math.NaN())) != NoRuleColor {
		t.Error("no value is grey")
	}
	flat := FieldScale{Low: 5, High: 5}
	if flat.color(5) != ScaleColor(0.5) {
		t.Error("a scale without width shows its middle")
	}
}

func TestScaleBarTexts(t *testing.T) {
	for _, c := range []struct {
		name  string
		scale FieldScale
		want  []string
	}{
		{"round values between the ends", FieldScale{Unit: "°C", Low: 60, High: 150}, []string{"150 °C", "60 °C", "80 °C", "100 °C", "120 °C", "140 °C"}},
		{"a limit takes the room of a value near it", FieldScale{Low: 60, High: 150, Marks: []ScaleMark{{118, "limit 118"}}}, []string{"limit 118", "150", "60", "80", "100", "140"}},
		{"a limit beyond the ends is not shown", FieldScale{Low: 0, High: 10, Marks: []ScaleMark{{11, "limit"}}}, []string{"10", "0", "2", "4", "6", "8"}},
		{"one value", FieldScale{Low: 5, High: 5}, []string{"5"}},
		{"no value", FieldScale{Low: float32(math.NaN()), High: 5}, []string{"5"}},
		{"endless", FieldScale{Low: float32(math.Inf(-1)), High: 5}, []string{"5"}},
	} {
		var got []string
		for _, x := range c.scale.texts(0.05) {
			got = append(got, x.text)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The bar shows the very colours of the parts, down to the last level, wherever
// its letters make it begin.
func TestScaleBarShowsTheColoursOfTheParts(t *testing.T) {
	for _, sizePx := range []float64{9, 13.3, 14, 26} {
		for _, dark := range []bool{false, true} {
			o := Options{TextPx: sizePx, Dark: dark, Field: &FieldScale{Title: "T", Low: 0, High: 1}}
			f := draw(t, Scene{}, NewCamera(), o, 400, 300)
			seen := map[RGB]bool{}
			for i := 0; i+3 < len(f.Image.Pix); i += 4 {
				seen[RGB{f.Image.Pix[i], f.Image.Pix[i+1], f.Image.Pix[i+2]}] = true
			}
			tall := int(min(14*sizePx, 150))
			for row := range tall {
				if c := ScaleColor(1 - (float64(row)+0.5)/min(14*sizePx, 150)); !seen[c] {
					t.Fatalf("letters of %v px, dark %v: row %d of %d lacks its colour %v", sizePx, dark, row, tall, c)
				}
			}
		}
	}
}

func TestContrast(t *testing.T) {
	// WCAG 2.1, contrast ratio: (L1+0.05)/(L2+0.05), at least 7:1 for text.
	ratio := func(a, b RGB) float64 {
		lum := func(c RGB) float64 { l := lightOf(c); return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }
		hi, lo := max(lum(a), lum(b)), min(lum(a), lum(b))
		return (hi + 0.05) / (lo + 0.05)
	}
	for _, dark := range []bool{false, true} {
		tone := tonesOf(dark)
		for _, ground := range []RGB{tone.top, tone.bottom, tone.halo} {
			if r := ratio(tone.text, ground); r < 7 {
				t.Errorf("dark %v: text on %v has %.1f:1", dark, ground, r)
			}
		}
	}
	for _, c := range []RGB{OkColor, CloseColor, ShortColor, OverlapColor, AccentColor, NoRuleColor} {
		if r := ratio(inkOn(c), c); r < 4.5 {
			t.Errorf("number on a marker %v has %.1f:1, want 4.5 (WCAG AA)", c, r)
		}
	}
}
