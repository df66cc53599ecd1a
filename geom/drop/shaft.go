package drop

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/units"
)

// shaft is one half-shaft; the shift counts only if its inner joint goes along.
type shaft struct {
	layout.HalfShaft
	follows bool
}

// end is one joint of a half-shaft.
type end int

const (
	inner end = iota
	outer
)

// ends names the joints. Read-only.
var ends = [2]string{"inner", "outer"}

// axis returns the axis of a joint's fixed side, along Y where none is given.
func (s shaft) axis(e end) geom.Vec {
	if e == inner {
		return axisOr(s.InnerAxis, geom.Vec{0, 1, 0})
	}
	return axisOr(s.OuterAxis, geom.Vec{0, 1, 0})
}

// oneAngle reports whether both joints always have the same angle.
func (s shaft) oneAngle() bool {
	a, b := s.axis(inner), s.axis(outer)
	return a == b || a == b.Mul(-1)
}

// span returns the way from the inner to the outer joint with the wheel
// travelled by travelMM (bump positive) and the inner joint shifted.
func (s shaft) span(shift geom.Vec, travelMM float64) geom.Vec {
	d := s.OuterMM.Sub(s.InnerMM).Add(geom.Vec{0, 0, travelMM})
	if s.follows {
		d = d.Sub(shift)
	}
	return d
}

// angleRad returns the angle of one joint, between the shaft and the axis of
// flange or hub. With axes along Y it is atan2(hypot(dx, dz), |dy|).
func (s shaft) angleRad(e end, shift geom.Vec, travelMM float64) float64 {
	d, axis := s.span(shift, travelMM), s.axis(e)
	return math.Atan2(d.Cross(axis).Len(), math.Abs(d.Dot(axis)))
}

func (s shaft) lengthMM(shift geom.Vec, travelMM float64) float64 {
	return s.span(shift, travelMM).Len()
}

// strokeMM returns the whole plunge over the travel, from the longest to the
// shortest distance of the joints: the shortest lies where they are level, if
// the travel passes there.
func (s shaft) strokeMM(shift geom.Vec) float64 {
	up, down := s.lengthMM(shift, s.BumpMM), s.lengthMM(shift, -s.ReboundMM)
	least := math.Min(up, down)
	if level := -s.span(shift, 0)[2]; level >= -s.ReboundMM && level <= s.BumpMM {
		least = s.lengthMM(shift, level)
	}
	return math.Max(up, down) - least
}

// angleWindow returns the drops at which one joint's angle at one travel stays
// within the limit, with the fore-aft shift aside: (d·a)² ≥ cos² limit · |d|²,
// a quadratic in the drop. It is empty where the limit cannot be met at all,
// and everything or nothing where the shaft does not follow.
func (s shaft) angleWindow(e end, travelMM, limitRad float64, aside geom.Vec, within Window) []Window {
	d, axis := s.span(aside, travelMM), s.axis(e)
	perMM := s.span(aside.Add(geom.Vec{0, 0, -1}), travelMM).Sub(d)
	cos2 := math.Cos(limitRad) * math.Cos(limitRad)
	term := func(u, v geom.Vec) float64 { // Bare numbers: mm², mm or none, a coefficient of q
		return cos2*u.Dot(v) - u.Dot(axis)*v.Dot(axis)
	}
	return clipAll(notAbove(term(perMM, perMM), 2*term(d, perMM), term(d, d)), within)
}

// strokeWindow returns the drops at which the plunge stays within the stroke.
// The plunge is least where the travel is centred about level joints and grows
// to both sides, so that the window is bisected from there.
func (s shaft) strokeWindow(limitMM float64, aside geom.Vec, within Window) []Window {
	at := func(dropMM float64) geom.Vec { return aside.Add(geom.Vec{0, 0, -dropMM}) }
	if !s.follows {
		if s.strokeMM(aside) <= limitMM {
			return []Window{within}
		}
		return nil
	}
	centreMM := -s.span(aside, 0)[2] - (s.BumpMM-s.ReboundMM)/2
	if s.strokeMM(at(centreMM)) > limitMM {
		return nil
	}
	edge := func(dir float64) float64 { // Bare numbers: dir is a sign
		// Far enough: beyond it the joints are nearer to vertical than to level.
		inMM, outMM := 0.0, 4*(within[1]-within[0]+s.BumpMM+s.ReboundMM+math.Abs(centreMM)+1)
		for outMM-inMM > bracketMM/2 {
			mid := (inMM + outMM) / 2
			if s.strokeMM(at(centreMM+dir*mid)) <= limitMM {
				inMM = mid
			} else {
				outMM = mid
			}
		}
		return centreMM + dir*inMM
	}
	return clip(Window{edge(-1), edge(1)}, within)
}

// ShaftAngles are one half-shaft's joint angles and plunge at one drop: the
// larger of both joints, and each joint alone.
type ShaftAngles struct {
	Name       string      `json:"name"`
	StaticDeg  float64     `json:"static"`
	BumpDeg    float64     `json:"bump"`
	ReboundDeg float64     `json:"rebound"`
	Inner      JointAngles `json:"inner"`
	Outer      JointAngles `json:"outer"`
	PlungeMM   float64     `json:"plunge_mm"` // whole stroke over the travel
}

// JointAngles are one joint's angles.
type JointAngles struct {
	StaticDeg  float64 `json:"static"`
	BumpDeg    float64 `json:"bump"`
	ReboundDeg float64 `json:"rebound"`
}

func (s shaft) anglesAt(shift geom.Vec) ShaftAngles {
	of := func(e end) JointAngles {
		return JointAngles{
			StaticDeg:  units.Deg(s.angleRad(e, shift, 0)),
			BumpDeg:    units.Deg(s.angleRad(e, shift, s.BumpMM)),
			ReboundDeg: units.Deg(s.angleRad(e, shift, -s.ReboundMM)),
		}
	}
	a := ShaftAngles{Name: s.Name, Inner: of(inner), Outer: of(outer), PlungeMM: s.strokeMM(shift)}
	a.StaticDeg = math.Max(a.Inner.StaticDeg, a.Outer.StaticDeg)
	a.BumpDeg = math.Max(a.Inner.BumpDeg, a.Outer.BumpDeg)
	a.ReboundDeg = math.Max(a.Inner.ReboundDeg, a.Outer.ReboundDeg)
	return a
}
