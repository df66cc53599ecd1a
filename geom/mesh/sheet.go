package mesh

import "aftbay/geom"

// sheetShare is the share of its area that an open body's area vectors must add
// up to for the body to be taken for a sheet: half a tube, cut lengthwise, has
// 0.64, a dish as deep as it is wide 0.33. Common practice, no source.
const sheetShare = 0.3

// IsSheet reports whether every open body of m is spread out like a sheet, and
// not closed but for some holes. The area vectors of a closed surface add up to
// nothing, those of a flat one to its area. A tube open at both ends is none: it
// encloses a space. False for a mesh without an open body.
func IsSheet(m *Mesh) bool {
	open := make([]bool, len(m.Tris))
	survey(m).edges.each(func(e edge) {
		if len(e.uses) == 1 {
			open[e.uses[0].tri] = true
		}
	})
	some := false
	for _, body := range Bodies(m) {
		var sum geom.Vec
		var areaMM2 float64
		has := false
		for _, t := range body {
			a, b, c := m.Corners(int(t))
			n := b.Sub(a).Cross(c.Sub(a)).Mul(0.5)
			sum, areaMM2, has = sum.Add(n), areaMM2+n.Len(), has || open[t]
		}
		if has && sum.Len() < sheetShare*areaMM2 {
			return false
		}
		some = some || has
	}
	return some
}
