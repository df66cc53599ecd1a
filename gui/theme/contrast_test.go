package theme

import (
	"image/color"
	"math"
	"testing"
)

func TestContrast(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b color.Color
		want float64
	}{
		{"white on black: WCAG 2.1, the greatest ratio", rgb(255, 255, 255), rgb(0, 0, 0), 21},
		{"equal colours: WCAG 2.1, the least ratio", rgb(9, 99, 200), rgb(9, 99, 200), 1},
		// Luminance of grey 119 by hand: ((119/255+0.055)/1.055)^2.4 = 0.184475.
		{"grey 119 on white, by hand", rgb(119, 119, 119), rgb(255, 255, 255), 1.05 / 0.234475},
		// Pure red has the luminance 0.2126 by definition.
		{"red on black, by definition", rgb(255, 0, 0), rgb(0, 0, 0), (0.2126 + 0.05) / 0.05},
		{"green on black, by definition", rgb(0, 255, 0), rgb(0, 0, 0), (0.7152 + 0.05) / 0.05},
	} {
		if got := Contrast(c.a, c.b); math.Abs(got-c.want) > 1e-5 {
			t.Errorf("%s: got %.6f, want %.6f", c.name, got, c.want)
		}
		if Contrast(c.a, c.b) != Contrast(c.b, c.a) {
			t.Errorf("%s: differs the other way round", c.name)
		}
	}
}

func TestBlend(t *testing.T) {
	if got := Blend(rgb(200, 100, 0), rgb(0, 100, 200), 0.25); got != rgb(50, 100, 150) {
		t.Errorf("got %v", got)
	}
}
