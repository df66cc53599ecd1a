package drop

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// mostTiltDeg is how far a group may be tilted: further is another layout.
const mostTiltDeg = 30

// tilted returns the scene with its drop group turned about the Y axis through
// its pivot, with all that it carries: positive lifts the front. A group without
// a pivot turns about the vehicle's origin.
func tilted(s *scene.Scene, tiltDeg float64) *scene.Scene {
	if tiltDeg == 0 {
		return s
	}
	var pivot geom.Vec
	group := s.Doc.Drop.Group
	if g := s.Group(group); g != nil {
		pivot = g.PivotMM
	}
	turn := geom.About(pivot, geom.Turn(geom.Vec{0, units.Rad(tiltDeg), 0}), geom.Vec{})
	moved := s.Moved(group, turn)
	doc := *s.Doc
	doc.Parts = slices.Clone(doc.Parts)
	for i := range doc.Parts {
		p := &doc.Parts[i]
		if p.Group == group && p.Growth != nil {
			g := *p.Growth
			g.AnchorMM = turn.Point(g.AnchorMM)
			p.Growth = &g
		}
		moved.Parts[i].Layout = p // the document's parts come first, in its order
	}
	tiltDriveline(&doc, group, turn)
	moved.Doc = &doc
	return moved
}

// tiltDriveline turns the joints and shaft ends that a group carries.
func tiltDriveline(doc *layout.Document, group string, turn geom.Pose) {
	axis := func(given *geom.Vec, other geom.Vec) *geom.Vec {
		v := turn.Dir(axisOr(given, other))
		return &v
	}
	doc.HalfShafts, doc.ShaftLines = slices.Clone(doc.HalfShafts), slices.Clone(doc.ShaftLines)
	for i := range doc.HalfShafts {
		if h := &doc.HalfShafts[i]; h.InnerGroup == group {
			h.InnerMM = turn.Point(h.InnerMM)
			if h.InnerAxis != nil { // along Y it stays along Y
				h.InnerAxis = axis(h.InnerAxis, geom.Vec{})
			}
		}
	}
	along := geom.Vec{1, 0, 0}
	for i := range doc.ShaftLines {
		l := &doc.ShaftLines[i]
		if l.CrankGroup == group {
			l.CrankMM, l.CrankAxis = turn.Point(l.CrankMM), axis(l.CrankAxis, along)
		}
		if l.InputGroup == group {
			l.InputMM, l.InputAxis = turn.Point(l.InputMM), axis(l.InputAxis, along)
		}
	}
	if c := doc.Drop.CrankMM; c != nil {
		d := *doc.Drop
		at := turn.Point(*c)
		d.CrankMM, doc.Drop = &at, &d
	}
}
