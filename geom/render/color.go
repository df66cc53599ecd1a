package render

import "math"

// RGB is a display colour (sRGB), 0..255 per channel.
type RGB struct{ R, G, B uint8 }

// Verdict colours: distinguishable with any colour vision.
//
// Source: Okabe & Ito, "Color Universal Design" (2008), set of eight.
var (
	OkColor      = RGB{0, 158, 115}   // bluish green. Read-only.
	CloseColor   = RGB{230, 159, 0}   // orange. Read-only.
	ShortColor   = RGB{213, 94, 0}    // vermilion. Read-only.
	OverlapColor = RGB{204, 121, 167} // reddish purple. Read-only.
	AccentColor  = RGB{0, 114, 178}   // blue: what is selected. Read-only.
	NoRuleColor  = RGB{128, 126, 122} // grey, ours: no rule, no value. Read-only.
)

// swatches are quiet tints for parts, ours: equal Oklab lightness 0.74 and
// chroma 0.055, hues 40° apart, so that no part shouts. Read-only.
var swatches = makeSwatches()

func makeSwatches() [9]RGB {
	var out [9]RGB
	for i := range out {
		out[i] = fromOklch(0.74, 0.055, 40*math.Pi/180*float64(i)+0.9)
	}
	return out
}

// Swatch returns the i-th quiet part tint; it repeats after nine.
func Swatch(i int) RGB { return swatches[((i%9)+9)%9] }

// mix returns a blended towards b by share 0..1, in display values.
func mix(a, b RGB, share float64) RGB {
	f := func(x, y uint8) uint8 {
		return uint8(math.Round(float64(x) + (float64(y)-float64(x))*share))
	}
	return RGB{f(a.R, b.R), f(a.G, b.G), f(a.B, b.B)}
}

// packed returns the four image bytes of an opaque pixel, red lowest.
func (c RGB) packed() uint32 {
	return uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | 0xff000000
}

func unpack(p uint32) RGB { return RGB{uint8(p), uint8(p >> 8), uint8(p >> 16)} }

// mixPacked blends a towards b by share/256, all channels at once.
func mixPacked(a, b, share uint32) uint32 {
	const rb, g = 0x00ff00ff, 0x0000ff00
	keep := 256 - share
	return ((a&rb)*keep+(b&rb)*share)>>8&rb | ((a&g)*keep+(b&g)*share)>>8&g | 0xff000000
}

// linear returns the light of a display value, both 0..1.
//
// Source: IEC 61966-2-1 (sRGB) transfer function.
func linear(display float64) float64 {
	if display <= 0.04045 {
		return display / 12.92
	}
	return math.Pow((display+0.055)/1.055, 2.4)
}

// display undoes linear.
func display(light float64) float64 {
	if light <= 0.0031308 {
		return 12.92 * light
	}
	return 1.055*math.Pow(light, 1/2.4) - 0.055
}

// byLight[i] is the display byte of light i/4095. Read-only.
var byLight = makeByLight()

func makeByLight() [4096]uint8 {
	var t [4096]uint8
	for i := range t {
		t[i] = uint8(math.Round(255 * display(float64(i)/4095)))
	}
	return t
}

// lightOf returns the linear light of the three channels.
func lightOf(c RGB) [3]float64 {
	return [3]float64{linear(float64(c.R) / 255), linear(float64(c.G) / 255), linear(float64(c.B) / 255)}
}

// packLight returns the image bytes of linear light; values are clamped to 0..1.
func packLight(light [3]float64) uint32 { return packBytes(light[0], light[1], light[2]) }

// packBytes is packLight of three values.
func packBytes(red, green, blue float64) uint32 {
	i, j, k := int(red*4095+0.5), int(green*4095+0.5), int(blue*4095+0.5)
	i, j, k = max(0, min(4095, i)), max(0, min(4095, j)), max(0, min(4095, k))
	return uint32(byLight[i]) | uint32(byLight[j])<<8 | uint32(byLight[k])<<16 | 0xff000000
}

// AxisColor returns the colour of an axis, 0 to 2 for X to Z, as the picture draws
// it in its corner.
func AxisColor(axis int, dark bool) RGB {
	c := axisColours[axis]
	if dark {
		c = mix(c, RGB{255, 255, 255}, 0.35)
	}
	return c
}
