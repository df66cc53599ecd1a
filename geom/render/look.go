package render

import (
	"math"

	"aftbay/geom"
)

// look is how an item takes light: what shading needs, made ready once a frame.
type look struct {
	light  [3]float64 // linear light of the item's colour
	toEye  geom.Vec   // part direction towards the eye, as the picture's middle sees it
	upward geom.Vec   // part direction to vehicle up
	key    geom.Vec   // part direction of the key light
	fill   geom.Vec   // and of the fill light
	half   geom.Vec   // and half way between key light and eye
	eye    geom.Vec   // part point the picture is seen from; parallel: towards the eye
	apart  bool       // the eye is a point, not a direction
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
	eye := back.Mul3x1(v.back)
	if !v.cam.Parallel {
		eye = it.Pose.Inverse().Point(v.eye)
	}
	lamp := func(d geom.Vec) geom.Vec {
		return back.Mul3x1(v.right.Mul(d[0]).Add(v.up.Mul(d[1])).Add(v.back.Mul(d[2])))
	}
	return look{
		light:  lightOf(c),
		toEye:  back.Mul3x1(v.back),
		key:    lamp(keyLight),
		fill:   lamp(fillLight),
		half:   lamp(halfway),
		upward: back.Mul3x1(geom.Vec{0, 0, 1}),
		eye:    eye,
		apart:  !v.cam.Parallel,
	}
}

// colour returns the image bytes of triangle t. A field colour is shaded less,
// so that its value can be read off.
//
// Long on purpose: it runs for every triangle that is seen, written out so that
// nothing is called.
func (l *look) colour(it *Item, t int) uint32 {
	tri := &it.Mesh.Tris[t]
	a, b, c := &it.Mesh.Verts[tri[0]], &it.Mesh.Verts[tri[1]], &it.Mesh.Verts[tri[2]]
	ux, uy, uz := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	wx, wy, wz := c[0]-a[0], c[1]-a[1], c[2]-a[2]
	nx, ny, nz := uy*wz-uz*wy, uz*wx-ux*wz, ux*wy-uy*wx
	size := math.Sqrt(nx*nx + ny*ny + nz*nz)
	var scale float64
	if size > 0 {
		scale = 1 / size
	}
	sx, sy, sz := l.eye[0], l.eye[1], l.eye[2]
	if l.apart {
		sx, sy, sz = sx-a[0], sy-a[1], sz-a[2]
	}
	away := nx*sx+ny*sy+nz*sz < 0
	if away {
		scale = -scale
	}
	nx, ny, nz = nx*scale, ny*scale, nz*scale
	bright := 0.40 + 0.10*(nx*l.upward[0]+ny*l.upward[1]+nz*l.upward[2]) // 0.30 and half to all of 0.20
	if key := nx*l.key[0] + ny*l.key[1] + nz*l.key[2]; key > 0 {
		bright += 0.56 * key
	}
	if fill := nx*l.fill[0] + ny*l.fill[1] + nz*l.fill[2]; fill > 0 {
		bright += 0.14 * fill
	}
	gloss := 0.0
	if h := nx*l.half[0] + ny*l.half[1] + nz*l.half[2]; h > 0 {
		h *= h
		h *= h
		h *= h
		gloss = 0.05 * h * h // 16th power: a broad, silky gloss
	}
	red, green, blue := l.light[0], l.light[1], l.light[2]
	if l.scale != nil && t < len(it.Field) {
		light := lightOf(l.scale.color(it.Field[t]))
		red, green, blue = light[0], light[1], light[2]
		bright, gloss = 0.78+0.22*bright, 0
	}
	if away {
		bright *= 0.7 // the inside of an open sheet
	}
	return packBytes(red*bright+gloss, green*bright+gloss, blue*bright+gloss)
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
	flat := 1 - math.Abs(n.Dot(l.toEye))/size
	return uint32(48 + 110*flat*flat)
}
