package drop

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// unsprung are the roles that move with the wheels or are no part of the body:
// they do not count for ground clearance, departure and ramp angle. Read-only.
var unsprung = map[string]bool{"wheel": true, "road": true, "sightline": true, "suspension": true, "half-shaft": true}

// study is one run.
type study struct {
	scene  *scene.Scene
	v      *layout.Vehicle // may be nil
	group  string
	within Window
	probe  *clearance.Probe
	shafts []shaft
	lows   []lowPoints
}

// lowPoints are the vertices of one part that count for the road, in vehicle
// axes at no drop.
type lowPoints struct {
	part    string
	follows bool
	points  []geom.Vec
}

func (st *study) shiftOf(dropMM float64, follows bool) geom.Vec {
	if !follows {
		dropMM = 0
	}
	return geom.Vec{0, 0, -dropMM}
}

// collect gathers the half-shafts and the points near the road.
func (st *study) collect() {
	for _, h := range st.scene.Doc.HalfShafts {
		st.shafts = append(st.shafts, shaft{h, h.InnerGroup == st.group})
	}
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if unsprung[p.Role] {
			continue
		}
		low := lowPoints{part: p.Name, follows: p.Group == st.group}
		for _, v := range p.Mesh.Verts {
			low.points = append(low.points, p.Pose.Point(v))
		}
		st.lows = append(st.lows, low)
	}
}

// groundAt returns the least height over the road and the part that has it,
// for the parts that keep accepts; +Inf without any.
func (st *study) groundAt(road Road, dropMM float64, keep func(*lowPoints) bool) (mm float64, part string) {
	mm = math.Inf(1)
	for i := range st.lows {
		low := &st.lows[i]
		if !keep(low) {
			continue
		}
		shift := st.shiftOf(dropMM, low.follows)
		for _, p := range low.points {
			if h := road.HeightMM(p.Add(shift)); h < mm {
				mm, part = h, low.part
			}
		}
	}
	return mm, part
}

func everything(*lowPoints) bool  { return true }
func following(l *lowPoints) bool { return l.follows }
func fixed(l *lowPoints) bool     { return !l.follows }

// angleAt returns the governing departure or ramp angle at a drop; ok is false
// where no point counts or the vehicle lacks what is needed.
func (st *study) angleAt(of angleOf, dropMM float64, keep func(*lowPoints) bool) (a Angle, ok bool) {
	if st.v == nil || st.v.TyreRadiusMM <= 0 {
		return Angle{}, false
	}
	a = Angle{TangentRad: math.Inf(1), ContactRad: math.Inf(1)}
	for i := range st.lows {
		low := &st.lows[i]
		if !keep(low) {
			continue
		}
		shift := st.shiftOf(dropMM, low.follows)
		for _, p := range low.points {
			p = p.Add(shift)
			tangent, contact, counts := of(st.v, p)
			if !counts {
				continue
			}
			ok = true
			a.ContactRad = math.Min(a.ContactRad, contact)
			if tangent < a.TangentRad {
				a.TangentRad, a.Point, a.Part = tangent, p, low.part
			}
		}
	}
	return a, ok
}

func (a Angle) text() *AngleText {
	return &AngleText{units.Deg(a.TangentRad), units.Deg(a.ContactRad), a.Part, a.Point}
}

// mass sums the group's given masses.
func (st *study) mass() Mass {
	var m Mass
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		if p.Group != st.group {
			continue
		}
		if p.Layout == nil || p.Layout.MassKg == nil {
			m.Missing = append(m.Missing, p.Name)
			continue
		}
		m.GroupKg += *p.Layout.MassKg
	}
	return m
}
