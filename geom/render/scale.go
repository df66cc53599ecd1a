package render

import "math"

// FieldScale says how the values of Item.Field become colours, and what the
// scale bar says about them.
type FieldScale struct {
	Title, Unit string  // Title may have several lines, as Foot
	Low, High   float32 // values at the two ends; values beyond take the end colour
	Marks       []ScaleMark
	Foot        string // below the bar: what lies beyond it
	Faded       bool   // half way to grey: values of an earlier state
}

// color returns the colour of a value; NaN is grey, never an end of the scale.
func (s *FieldScale) color(value float32) RGB {
	if math.IsNaN(float64(value)) {
		return NoRuleColor
	}
	share := 0.5
	if s.High > s.Low {
		share = float64(value-s.Low) / float64(s.High-s.Low)
	}
	return s.tint(share)
}

// tint returns the colour at a share of the scale, as the bar shows it.
func (s *FieldScale) tint(share float64) RGB {
	if s.Faded {
		return mix(ScaleColor(share), NoRuleColor, 0.6)
	}
	return ScaleColor(share)
}

// ScaleColor returns the colour at share 0 (low, dark violet) to 1 (high, pale
// yellow). Lightness rises steadily and equal steps look equally far apart, so
// the picture also reads in grey and with any colour vision.
func ScaleColor(share float64) RGB {
	i := int(math.Round(share * 255))
	return scaleTable[max(0, min(255, i))]
}

// scaleTable is the path of scalePath cut into 256 steps of equal Oklab length.
// Read-only.
var scaleTable = makeScale()

func makeScale() [256]RGB {
	const fine = 4096
	var at [fine + 1]float64 // at[i]: length of the path up to i/fine
	prev := scalePath(0)
	for i := 1; i <= fine; i++ {
		p := scalePath(float64(i) / fine)
		at[i] = at[i-1] + math.Hypot(math.Hypot(p[0]-prev[0], p[1]-prev[1]), p[2]-prev[2])
		prev = p
	}
	var out [256]RGB
	j := 0
	for i := range out {
		want := at[fine] * float64(i) / 255
		for j < fine && at[j+1] < want {
			j++
		}
		p := scalePath(float64(j) / fine)
		out[i] = fromOklab(p)
	}
	return out
}

// scalePath returns the Oklab colour (L, a, b) at share 0..1 of our own path:
// lightness linear from 0.27 to 0.93, hue from violet (300°) by red to yellow
// (100°), chroma swelling in the middle and always inside what a screen shows.
func scalePath(share float64) [3]float64 {
	lightness := 0.27 + 0.66*share
	hue := (300 + 160*share) * math.Pi / 180
	chroma := 0.10 + 0.10*math.Sin(math.Pi*share)
	for !shows(toLight(lch(lightness, chroma, hue))) {
		chroma *= 0.995
	}
	return lch(lightness, chroma, hue)
}

func lch(lightness, chroma, hueRad float64) [3]float64 {
	return [3]float64{lightness, chroma * math.Cos(hueRad), chroma * math.Sin(hueRad)}
}

func shows(light [3]float64) bool {
	for _, v := range light {
		if v < 0 || v > 1 {
			return false
		}
	}
	return true
}

// toLight returns the linear sRGB light of an Oklab colour.
//
// Source: B. Ottosson, "A perceptual color space for image processing" (2020),
// matrices of the Oklab to linear sRGB conversion; the tests meet them in the
// other direction (white is L = 1, a = b = 0).
func toLight(lab [3]float64) [3]float64 {
	l := lab[0] + 0.3963377774*lab[1] + 0.2158037573*lab[2]
	m := lab[0] - 0.1055613458*lab[1] - 0.0638541728*lab[2]
	s := lab[0] - 0.0894841775*lab[1] - 1.2914855480*lab[2]
	l, m, s = l*l*l, m*m*m, s*s*s
	return [3]float64{
		4.0767416621*l - 3.3077115913*m + 0.2309699292*s,
		-1.2684380046*l + 2.6097574011*m - 0.3413193965*s,
		-0.0041960863*l - 0.7034186147*m + 1.7076147010*s,
	}
}

func fromOklab(lab [3]float64) RGB { return unpack(packLight(toLight(lab))) }

func fromOklch(lightness, chroma, hueRad float64) RGB {
	return fromOklab(lch(lightness, chroma, hueRad))
}
