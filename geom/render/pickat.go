package render

import (
	"context"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Boxes are those of meshes, kept from one question to the next: finding one is a
// scan of all corners. The zero value is ready for use by one goroutine.
type Boxes struct{ of map[*mesh.Mesh]geom.Box }

// PickAt returns what a picture of wPx by hPx pixels shows at one of them, as
// Frame.Pick does, without drawing the others: all corners are projected, nothing
// else takes time. It runs on the caller's goroutine.
func PickAt(s Scene, c Camera, o Options, xPx, yPx, wPx, hPx int, known *Boxes) (p Pick, ok bool) {
	if xPx < 0 || yPx < 0 || xPx >= wPx || yPx >= hPx || len(o.Cuts) > MaxCuts {
		return Pick{}, false
	}
	o.Workers, o.Reuse = 1, nil
	if known.of != nil {
		o.Reuse = &Frame{boxes: known.of}
	}
	one := newPainter(context.Background(), s, c, o, 1, 1, 1)
	known.of = one.f.boxes
	v := &one.f.view
	*v = newView(c, one.around, wPx, hPx)
	v.midXPx, v.midYPx = v.midXPx-float64(xPx), v.midYPx-float64(yPx)
	v.setCuts(o.Cuts)
	one.project()
	one.rasterise()
	one.addCaps()
	if one.err() != nil {
		return Pick{}, false
	}
	return one.f.Pick(0, 0)
}
