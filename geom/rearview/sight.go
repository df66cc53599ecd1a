package rearview

import (
	"strings"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// The eyes, in the order of every list of them.
const (
	left = iota
	right
	middle // between the two: the projected eye point of the US rule, and what the mirror is aimed for
	nEyes
)

// sight is the driver's eyes, the mirror and the glass, road frame.
type sight struct {
	toRoad  geom.Pose
	eyes    [nEyes]eye
	mirror  Mirror
	glass   []geom.Vec
	midXMM  float64 // of the middle image eye
	reflect geom.Pose
}

// eye is one eye with its image, and how things are thrown from there.
type eye struct {
	eye, image geom.Vec
	road, near caster // legs of the light: mirror to road, eye to mirror
	mirror     []dot  // the rectangle and the glass in the picture
	glass      []dot
	reach      pane // of the rectangle
}

// Mirror is a flat rectangle: right and up are unit vectors along its width, to
// the car's right, and its height; Normal points to the driver.
type Mirror struct {
	Centre, Normal, Right, Up geom.Vec
	WidthMM, HeightMM         float64
}

// fault builds the error of a key of rear_view, such as /mirror/aim.
func fault(key string, what, mend say.Text) error {
	return layout.Fault{Where: "rear_view" + strings.ReplaceAll(key, "/", "."), What: what, Mend: mend}
}

// aimed returns the normal of a mirror that sends the view from an eye along
// dir: halfway between the direction to the eye and dir.
//
// Source: law of reflection.
func aimed(eye, centre, dir geom.Vec) geom.Vec {
	return eye.Sub(centre).Normalize().Add(dir.Normalize()).Normalize()
}

// eyesOf returns the two eyes of the file, vehicle frame.
func eyesOf(r *layout.RearView) (eyes [2]geom.Vec, err error) {
	switch {
	case len(r.EyesMM) == 2:
		eyes = [2]geom.Vec{r.EyesMM[0], r.EyesMM[1]}
		if eyes[0][1] > eyes[1][1] {
			return eyes, fault("/eyes_mm", say.Of("the left eye lies to the right of the right eye (Y points to the right)"), say.Of("swap them"))
		}
	case r.RPointMM != nil:
		for i, side := range [2]float64{-0.5, 0.5} {
			eyes[i] = r.RPointMM.Add(geom.Vec{0, side * eyesApartMM, eyesOverRMM})
		}
	default:
		return eyes, fault("", say.Of("no eyes: neither r_point_mm nor eyes_mm is given"), say.Of("give the seating reference point, or both eyes"))
	}
	return eyes, nil
}

// mirrorOf returns the mirror of the file, vehicle frame.
func mirrorOf(r *layout.RearView, mid geom.Vec) (Mirror, error) {
	m := r.Mirror
	if m == nil {
		return Mirror{}, fault("", say.Of("no mirror is given"), say.Of("add mirror with centre_mm, width_mm, height_mm and aim"))
	}
	out := Mirror{Centre: m.CentreMM, WidthMM: m.WidthMM, HeightMM: m.HeightMM}
	if mid.Sub(m.CentreMM).Len() < leastMM {
		return out, fault("/mirror/centre_mm", say.Of("the mirror stands in the eyes"), say.Of("place it in front of them"))
	}
	if m.Normal != nil {
		out.Normal = m.Normal.Normalize()
		if mid.Sub(out.Centre).Dot(out.Normal) < leastMM {
			return out, fault("/mirror/normal", say.Of("the eyes are behind the mirror: its normal points away from them"), say.Of("turn the normal round, or move the mirror in front of the eyes"))
		}
	} else {
		dir := geom.Vec{1, 0, 0}
		if m.Aim != nil {
			dir = m.Aim.Normalize()
		}
		if dir[0] <= 0 {
			return out, fault("/mirror/aim", say.Of("the mirror faces away: the view is sent forward (X points rearward)"), say.Of("aim it rearward, such as [1, 0, 0]"))
		}
		if mid.Sub(out.Centre).Normalize().Add(dir).Len() < 1e-6 {
			return out, fault("/mirror/aim", say.Of("the view passes the mirror in a straight line: nothing is reflected"), say.Of("aim it toward the rear window"))
		}
		out.Normal = aimed(mid, out.Centre, dir)
	}
	return out, out.turn(m.Up)
}

// turn lays width and height: the width level unless up is given.
func (m *Mirror) turn(up *geom.Vec) error {
	u := geom.Vec{0, 0, 1}
	if up != nil {
		u = up.Normalize()
	}
	across := m.Normal.Cross(u)
	if across.Len() < 1e-6 {
		return fault("/mirror/up", say.Of("the mirror's face looks along its own height"), say.Of("give an up direction that lies in the mirror, or another aim"))
	}
	// The driver looks against the normal: his right is the car's.
	m.Right = across.Normalize().Mul(-1)
	m.Up = m.Normal.Cross(m.Right)
	return nil
}

// corner returns a corner of the rectangle; sides are -1 or 1.
func (m *Mirror) corner(sideRight, sideUp float64) geom.Vec { // Bare numbers: signs
	return m.Centre.Add(m.Right.Mul(sideRight * m.WidthMM / 2)).Add(m.Up.Mul(sideUp * m.HeightMM / 2))
}

// posed returns the mirror in another frame.
func (m Mirror) posed(pose geom.Pose) Mirror {
	m.Centre, m.Normal, m.Right, m.Up = pose.Point(m.Centre), pose.Dir(m.Normal), pose.Dir(m.Right), pose.Dir(m.Up)
	return m
}

// newSight returns the sight of given eyes and mirror, vehicle frame.
func newSight(eyes [2]geom.Vec, m Mirror, glass []geom.Vec, toRoad geom.Pose) (*sight, error) {
	s := &sight{toRoad: toRoad, mirror: m.posed(toRoad)}
	for _, p := range glass {
		s.glass = append(s.glass, toRoad.Point(p))
	}
	mid := eyes[0].Add(eyes[1]).Mul(0.5)
	n := s.mirror.Normal
	s.reflect = geom.Pose{T: n.Mul(2 * s.mirror.Centre.Dot(n))}
	for col := range 3 {
		for row := range 3 {
			s.reflect.R[3*col+row] = -2 * n[row] * n[col]
		}
		s.reflect.R[4*col]++
	}
	for k, p := range [nEyes]geom.Vec{eyes[0], eyes[1], mid} {
		s.eyes[k].eye = toRoad.Point(p)
		if s.eyes[k].eye.Sub(s.mirror.Centre).Dot(n) < leastMM {
			return nil, fault("/mirror", say.Of("an eye is behind the mirror's face"), say.Of("turn the mirror toward the eyes"))
		}
		s.eyes[k].image = s.reflect.Point(s.eyes[k].eye)
		if s.eyes[k].image[2] < leastMM {
			return nil, fault("", say.F("the image of the eyes lies %s below the road", units.FormatMM(-s.eyes[k].image[2])), say.Of("check ground_z_mm of the vehicle, eyes and mirror"))
		}
	}
	s.midXMM = s.eyes[middle].image[0]
	for k := range s.eyes {
		if err := s.open(&s.eyes[k]); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// open throws mirror and glass and sets up both legs of the light for one eye.
func (s *sight) open(e *eye) error {
	n, at := s.mirror.Normal, s.mirror.Centre
	front := form{n, -n.Dot(at)}
	l := newLens(e.image, s.midXMM)
	onward := form{l.w.n, l.w.c - leastMM}
	e.road = caster{l, []form{front, {geom.Vec{0, 0, 1}, 0}, onward}}
	e.near = caster{l, []form{{n.Mul(-1), n.Dot(at)}, {n, -n.Dot(e.image) - leastMM}, onward}}
	open := caster{l, []form{onward}}
	m := &s.mirror
	e.mirror = open.throw([]geom.Vec{m.corner(-1, -1), m.corner(1, -1), m.corner(1, 1), m.corner(-1, 1)})
	if len(e.mirror) < 3 {
		return fault("/mirror", say.Of("the mirror faces away: no line of sight goes on rearward from it"), say.Of("aim it rearward, such as [1, 0, 0]"))
	}
	e.reach = paneOf(e.mirror)
	if len(s.glass) > 0 {
		e.glass = (&caster{l, []form{front, onward}}).throw(s.glass)
	}
	return nil
}

// errNoRearView is returned where the layout does not ask.
var errNoRearView = say.New("rear_view: the layout has none: add it with r_point_mm (or eyes_mm), mirror and glass_mm")
