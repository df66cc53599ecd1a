package desk

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// movement is a rigid move in vehicle axes. One that only shifts adds to what is
// written, so that no digit changes that need not.
type movement struct {
	geom.Pose
	shifts bool
}

func movementOf(by geom.Pose) movement { return movement{by, by.R == mgl64.Ident3()} }

func (m movement) point(p geom.Vec) geom.Vec {
	if m.shifts {
		return p.Add(m.T)
	}
	return rounded(m.Point(p), placesPerMM)
}

// points moves points where they stand; nil ones are not given.
func (m movement) points(list ...*geom.Vec) {
	for _, p := range list {
		if p != nil {
			*p = m.point(*p)
		}
	}
}

// turnDirection turns a direction; along stands where none is given.
func (m movement) turnDirection(d **geom.Vec, along geom.Vec) {
	if m.shifts {
		return
	}
	if *d != nil {
		along = **d
	}
	turned := rounded(m.Dir(along), directionFine)
	*d = &turned
}

// What a turn writes is rounded, so that no rounding of the computation stands in
// the file: to a nanometre; to a billionth of a degree, which moves nothing within
// a car by more; and directions likewise.
const (
	placesPerMM   = 1e6
	turnsPerDeg   = 1e9
	directionFine = 1e12
)

func rounded(v geom.Vec, perUnit float64) geom.Vec { // Bare numbers: steps in one unit of v
	for k := range v {
		v[k] = math.Round(v[k]*perUnit)/perUnit + 0 // no negative zero
	}
	return v
}

// part moves a part with all of it that is written in vehicle axes.
func (m movement) part(p *layout.Part) {
	if m.shifts {
		p.MoveMM = p.MoveMM.Add(m.T)
	} else {
		at := m.After(scene.PoseOf(p))
		rad := geom.Angles(at.R)
		p.TurnDeg = rounded(geom.Vec{units.Deg(rad[0]), units.Deg(rad[1]), units.Deg(rad[2])}, turnsPerDeg)
		p.MoveMM = rounded(at.T, placesPerMM)
	}
	if p.Growth != nil {
		g := *p.Growth
		m.points(&g.AnchorMM)
		p.Growth = &g
	}
	if p.Thermal != nil && p.Thermal.HeldAlong != nil {
		th, along := *p.Thermal, *p.Thermal.HeldAlong
		m.points(&along.FromMM, &along.ToMM)
		th.HeldAlong, p.Thermal = &along, &th
	}
}

// parts moves the named parts and routes of a document.
func (m movement) parts(doc *layout.Document, names []string) error {
	for _, name := range names {
		if i := slices.IndexFunc(doc.Routes, func(r layout.Route) bool { return r.Name == name }); i >= 0 {
			for k := range doc.Routes[i].PointsMM {
				m.points(&doc.Routes[i].PointsMM[k])
			}
			continue
		}
		p, err := partOf(doc, name)
		if err != nil {
			return err
		}
		m.part(p)
	}
	return nil
}

// group moves a group with its pivot, mounts, centre of gravity, growth anchors,
// temperature lines, the joints and shaft ends it carries, routes and the points
// that spots serve.
func (m movement) group(doc *layout.Document, group string) error {
	in := map[string]bool{}
	for i := range doc.Parts {
		if p := &doc.Parts[i]; p.Group == group {
			in[p.Name] = true
			m.part(p)
		}
	}
	if len(in) == 0 {
		return say.Errorf("no part belongs to group %q", group)
	}
	for i := range doc.Groups {
		if g := &doc.Groups[i]; g.Name == group {
			m.points(&g.PivotMM, g.CgMM)
			for k := range g.Mounts {
				m.points(&g.Mounts[k].AtMM)
			}
		}
	}
	m.driveline(doc, group)
	for i := range doc.Routes {
		if doc.Routes[i].Group == group {
			for k := range doc.Routes[i].PointsMM {
				m.points(&doc.Routes[i].PointsMM[k])
			}
		}
	}
	for i := range doc.Spots {
		if s := &doc.Spots[i]; in[s.Replaces] {
			m.points(s.ServeMM)
		}
	}
	return nil
}

// driveline moves the joints and shaft ends that a group carries.
func (m movement) driveline(doc *layout.Document, group string) {
	for i := range doc.HalfShafts {
		if h := &doc.HalfShafts[i]; h.InnerGroup == group {
			m.points(&h.InnerMM)
			m.turnDirection(&h.InnerAxis, geom.Vec{0, 1, 0})
		}
	}
	for i := range doc.ShaftLines {
		l := &doc.ShaftLines[i]
		if l.CrankGroup == group {
			m.points(&l.CrankMM)
			m.turnDirection(&l.CrankAxis, geom.Vec{1, 0, 0})
		}
		if l.InputGroup == group {
			m.points(&l.InputMM)
			m.turnDirection(&l.InputAxis, geom.Vec{1, 0, 0})
		}
	}
	if d := doc.Drop; d != nil && d.Group == group {
		m.points(d.CrankMM)
	}
}

// movable returns a document of which all that a movement changes can be changed;
// the rest is shared. It takes microseconds where a full copy takes milliseconds.
func movable(doc *layout.Document) *layout.Document {
	out := *doc
	out.Parts, out.Groups, out.Routes = slices.Clone(doc.Parts), slices.Clone(doc.Groups), slices.Clone(doc.Routes)
	out.HalfShafts, out.ShaftLines, out.Spots = slices.Clone(doc.HalfShafts), slices.Clone(doc.ShaftLines), slices.Clone(doc.Spots)
	for i := range out.Groups {
		g := &out.Groups[i]
		g.CgMM, g.Mounts = copyPoint(g.CgMM), slices.Clone(g.Mounts)
	}
	for i := range out.Routes {
		out.Routes[i].PointsMM = slices.Clone(out.Routes[i].PointsMM)
	}
	for i := range out.Spots {
		out.Spots[i].ServeMM = copyPoint(out.Spots[i].ServeMM)
	}
	if doc.Drop != nil {
		drop := *doc.Drop
		drop.CrankMM = copyPoint(drop.CrankMM)
		out.Drop = &drop
	}
	return &out
}

func copyPoint(p *geom.Vec) *geom.Vec {
	if p == nil {
		return nil
	}
	out := *p
	return &out
}
