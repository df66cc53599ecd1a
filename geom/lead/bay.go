package lead

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Body is one thing that a lead goes around.
type Body struct {
	Tree   *bvh.Tree
	Pose   geom.Pose
	Box    geom.Box // posed
	Closed bool
	KeepMM float64 // the centre of the lead stays this far from its surface
}

const (
	// clearMM is the least step of a way that is being pulled tight.
	clearMM = 0.1
	// offMM is how far off a surface a line that starts on it is looked at.
	offMM = 0.2
)

// bay is the bodies, prepared for questions.
type bay struct {
	bodies []Body
	back   []geom.Pose // back[i]: vehicle frame to the frame of bodies[i]
	// Bodies to ask about a line, and about the room up to roomyMM. nil: all.
	along, around *nearby
	roomyMM       float64
}

func newBay(bodies []Body) *bay {
	b := &bay{bodies: bodies, back: make([]geom.Pose, len(bodies))}
	for i := range bodies {
		b.back[i] = bodies[i].Pose.Inverse()
	}
	return b
}

// pointGapMM returns the distance from a point to a box, 0 inside.
func pointGapMM(b geom.Box, p geom.Vec) float64 {
	var sumMM2 float64
	for k := range p {
		out := math.Max(0, math.Max(b.Min[k]-p[k], p[k]-b.Max[k]))
		sumMM2 += float64(out * out)
	}
	return math.Sqrt(sumMM2)
}

// survey notes which bodies matter where in a box, in blocks of an edge, for
// questions about room up to roomyMM.
func (b *bay) survey(box geom.Box, blockMM, roomyMM float64) {
	b.along, b.around, b.roomyMM = newNearby(b, box, blockMM, 0), newNearby(b, box, blockMM, roomyMM), roomyMM
}

// room returns how far a point may move before it comes too near to a body, at
// most mostMM; negative where it already is. worst is that body, −1 for none.
func (b *bay) room(p geom.Vec, mostMM float64) (roomMM float64, worst int) {
	roomMM, worst, _ = b.nearest(p, mostMM)
	return roomMM, worst
}

// nearest is room with the point of that body which is nearest, in the frame of
// the body.
func (b *bay) nearest(p geom.Vec, mostMM float64) (roomMM float64, worst int, at geom.Vec) {
	roomMM, worst = mostMM, -1
	ask := func(i int) {
		if m, point := b.roomTo(i, p, roomMM); m < roomMM {
			roomMM, worst, at = m, i, point
		}
	}
	if mostMM <= b.roomyMM {
		if some, ok := b.around.in(geom.Box{Min: p, Max: p}); ok {
			for i, more := some.take(); more; i, more = some.take() {
				ask(i)
			}
			return roomMM, worst, at
		}
	}
	for i := range b.bodies {
		ask(i)
	}
	return roomMM, worst, at
}

// roomTo is room for one body, with the point of it that is nearest.
func (b *bay) roomTo(i int, p geom.Vec, mostMM float64) (roomMM float64, at geom.Vec) {
	body := &b.bodies[i]
	withinMM := mostMM + body.KeepMM
	if withinMM <= 0 || pointGapMM(body.Box, p) >= withinMM {
		return mostMM, at
	}
	near, ok := body.Tree.Nearest(b.back[i].Point(p), withinMM)
	if !ok {
		return mostMM, at
	}
	return near.DistMM - body.KeepMM, near.Point
}

// blocked reports whether a straight lead would come too near to a body.
func (b *bay) blocked(from, to geom.Vec) bool { return b.meets(from, to, true) }

// pierced reports whether a straight line passes through a surface.
func (b *bay) pierced(from, to geom.Vec) bool { return b.meets(from, to, false) }

// meets reports whether a line comes nearer to a body than it keeps, or touches
// it where nothing is kept.
func (b *bay) meets(from, to geom.Vec, keeps bool) bool {
	box := geom.EmptyBox().Grow(from).Grow(to)
	some, ok := b.along.in(box)
	if !ok {
		for i := range b.bodies {
			if b.meetsOne(i, &box, from, to, keeps) {
				return true
			}
		}
		return false
	}
	for i, more := some.take(); more; i, more = some.take() {
		if b.meetsOne(i, &box, from, to, keeps) {
			return true
		}
	}
	return false
}

// meetsOne is meets for one body; box is that of the line.
func (b *bay) meetsOne(i int, box *geom.Box, from, to geom.Vec, keeps bool) bool {
	body := &b.bodies[i]
	withinMM := 0.0
	if keeps {
		withinMM = body.KeepMM
	}
	return box.GapMM(body.Box) <= withinMM && meets(body.Tree, b.back[i].Point(from), b.back[i].Point(to), withinMM)
}

// skew is a direction that meets few edges of drawn shapes squarely. Read-only.
var skew = geom.Vec{0.2709, 0.5837, 0.7654}

// within returns a solid that holds a point, −1 for none.
func (b *bay) within(p geom.Vec) int {
	for i := range b.bodies {
		if !b.bodies[i].Closed || pointGapMM(b.bodies[i].Box, p) > 0 {
			continue
		}
		hit, ok := b.bodies[i].Tree.FirstHit(b.back[i].Point(p), b.back[i].Dir(skew), math.Inf(1))
		if ok && hit.Back {
			return i
		}
	}
	return -1
}

// outwards is how many directions are tried for the way out.
const outwards = 256

// out returns the nearest point in a straight line from p, at most mostMM away,
// that lies in no solid and has room; p itself where it does.
func (b *bay) out(p geom.Vec, mostMM float64) (exit geom.Vec, wayMM float64, ok bool) {
	if b.within(p) < 0 {
		if m, _ := b.room(p, clearMM); m >= 0 {
			return p, 0, true
		}
	}
	wayMM = mostMM
	for k := range outwards {
		dir := spiral(k)
		for atMM := 1.0; atMM < wayMM; {
			q := p.Add(dir.Mul(atMM))
			roomMM, _ := b.room(q, wayMM)
			switch {
			case roomMM < 0:
				atMM += math.Max(-roomMM, clearMM) // it takes so far to get out of what is to be kept
			case b.within(q) >= 0:
				atMM += math.Max(roomMM, clearMM)
			default:
				exit, wayMM, ok = q, atMM, true
			}
		}
	}
	return exit, wayMM, ok
}

// spiral returns direction k of outwards even ones: straight up first.
func spiral(k int) geom.Vec {
	z := 1 - 2*float64(k)/(outwards-1)
	turnRad := float64(k) * math.Pi * (3 - math.Sqrt(5))
	side := math.Sqrt(math.Max(0, 1-float64(z*z)))
	return geom.Vec{side * math.Cos(turnRad), side * math.Sin(turnRad), z}
}
