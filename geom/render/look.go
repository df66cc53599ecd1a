package render

import (
	"math"

	"aftbay/geom"
)

// look is how an item takes light: what shading needs, made ready once a frame.
type look struct {
	light  [3]float64  // linear light of the item's colour
	toView [3]geom.Vec // rows: part direction to right, up, towards the eye
	upward geom.Vec    // part direction to vehicle up
	scale  *FieldScale
}

// The studio: a soft key light from the upper left behind the eye, a weak fill
// from the right, a bright sky and a warm floor. Directions are right, up,
// towards the eye. Chosen by eye, common practice, no source.
var (
	keyLight  = geom.Vec{-0.38, 0.56, 0.74}.Normalize() // Read-only.
	fillLight = geom.Vec{0.80, -0.10, 0.55}.Normalize() // Read-only.
	halfway   = geom.Vec{-0.38, 0.56, 1.74}.Normalize() // Read-only.
)

func newLook(it *Item, v *view) look {
	c := it.Color
	if it.Selected {
		c = mix(c, AccentColor, 0.25)
	}
	if it.Highlight {
		c = mix(c, RGB{255, 255, 255}, 0.3)
	}
	back := it.Pose.R.Transpose()
	return look{
		light:  lightOf(c),
		toView: [3]geom.Vec{back.Mul3x1(v.right), back.Mul3x1(v.up), back.Mul3x1(v.back)},
		upward: back.Mul3x1(geom.Vec{0, 0, 1}),
	}
}

// colour returns the image bytes of triangle t. A field colour is shaded less,
// so that its value can be read off.
func (l *look) colour(it *Item, t int, away bool) uint32 {
	a, b, c := it.Mesh.Corners(t)
	n := b.Sub(a).Cross(c.Sub(a))
	size := n.Len()
	if size > 0 {
		n = n.Mul(1 / size)
	}
	if away {
		n = n.Mul(-1)
	}
	bright, gloss := l.shine(n)
	light := l.light
	if l.scale != nil && t < len(it.Field) {
		light = lightOf(l.scale.color(it.Field[t]))
		bright, gloss = 0.78+0.22*bright, 0
	}
	if away {
		bright *= 0.7 // the inside of an open sheet
	}
	for k := range light {
		light[k] = light[k]*bright + gloss
	}
	return packLight(light)
}

// shine returns the diffuse share and the gloss added for a unit part normal.
func (l *look) shine(n geom.Vec) (bright, gloss float64) {
	view := geom.Vec{n.Dot(l.toView[0]), n.Dot(l.toView[1]), n.Dot(l.toView[2])}
	sky := 0.5 + 0.5*n.Dot(l.upward)
	bright = 0.30 + 0.20*sky + 0.56*max(0, view.Dot(keyLight)) + 0.14*max(0, view.Dot(fillLight))
	h := max(0, view.Dot(halfway))
	h *= h
	h *= h
	h *= h
	h *= h // 16th power: a broad, silky gloss
	return bright, 0.05 * h
}

// edgeOnShare returns how solid a see-through surface looks, 0..256: more where
// it is seen edge-on, as glass is.
func (l *look) edgeOnShare(it *Item, t int) uint32 {
	a, b, c := it.Mesh.Corners(t)
	n := b.Sub(a).Cross(c.Sub(a))
	size := n.Len()
	if size == 0 {
		return 64
	}
	flat := 1 - math.Abs(n.Dot(l.toView[2]))/size
	return uint32(48 + 110*flat*flat)
}
