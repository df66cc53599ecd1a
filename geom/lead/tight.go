package lead

import (
	"math"
	"slices"

	"aftbay/geom"
)

// Route is one lead.
type Route struct {
	Points   []geom.Vec // corners of the centre line, connector first, served point last
	LengthMM float64    // along the centre line, bends rounded
	BendMM   float64    // largest bend radius that fits, at most the one asked for
	TurnRad  float64    // all bends together
}

// Route returns the lead from a connector, pulled tight and with its bends
// rounded; ok is false where there is none.
func (f *Field) Route(s Start, bendMM float64) (Route, bool) {
	points, ok := f.chain(&s)
	if !ok {
		return Route{}, false
	}
	points = f.tighten(&s, points, fine, 0)
	r := measured(points, bendMM)
	if bendMM > 0 {
		r = f.bent(&s, points, bendMM)
	}
	if f.insideMM > 0 { // straight on in what is served, as a plug in its well
		r.Points = append(r.Points, f.serve)
		r.LengthMM += f.insideMM
	}
	return r, r.LengthMM <= f.mostMM
}

// effort is how hard a way is pulled in one round.
type effort struct {
	stepMM   float64 // least step of a sliding point
	together int     // points that slide as one, at most
	// gainShare: this round and those after it make no way shorter by more.
	// Found over many random and drawn bays; the test goes on looking.
	gainShare float64
}

// MostGainShare: pulling a way taut makes it shorter by no more than this share,
// as far as many random and drawn bays tell.
const MostGainShare = 0.09

// Rounds in which a way is pulled: one that is to be shown, and one of which
// only is asked whether it is short enough and that is nearly taut already.
// Read-only.
var (
	fine  = []effort{{2, 3, MostGainShare}, {0.5, 3, 0.04}, {clearMM, 3, 0.025}, {clearMM, 3, 0.015}}
	quick = []effort{{1, 2, 0.03}}
)

// shortMM: a round of least steps that gains less is the last.
const shortMM = 0.05

// tighten pulls a way taut: it gets points where it touches something, corners
// are cut, and all points slide to where the way is shorter. With a target it
// ends early once the way is no longer than that, or so long that it will not
// be.
func (f *Field) tighten(s *Start, points []geom.Vec, rounds []effort, targetMM float64) []geom.Vec {
	return f.pull(s, f.straighten(s, points, len(points)), rounds, targetMM)
}

// pull is tighten for a way whose points are all needed.
func (f *Field) pull(s *Start, points []geom.Vec, rounds []effort, targetMM float64) []geom.Vec {
	for _, e := range rounds {
		beforeMM := longMM(points)
		if targetMM > 0 && (beforeMM <= targetMM || beforeMM*(1-e.gainShare) > targetMM) {
			break
		}
		if len(points) <= mostPoints {
			points = f.cut(s, f.touched(points))
		}
		for i := 1; i < len(points)-1; i++ {
			f.slide(s, points, i, i, e.stepMM)
		}
		f.slideTogether(s, points, e)
		points = f.straighten(s, points, len(points))
		if e.stepMM <= clearMM && beforeMM-longMM(points) < shortMM {
			break
		}
	}
	return points
}

// straighten leaves out every point that is not needed, of those that come
// after the first few.
func (f *Field) straighten(s *Start, points []geom.Vec, few int) []geom.Vec {
	out := points[:1:1]
	for i := 0; i < len(points)-1; {
		k := len(points) - 1
		if i >= few {
			k = i + 1
		}
		for ; k > i+1; k-- {
			if f.joins(s, points, i, k) {
				break
			}
		}
		out = append(out, points[k])
		i = k
	}
	return out
}

// touchMM: a leg that comes so near to what it keeps away from touches it.
const touchMM = 0.3

// touched returns the way with a point more where a leg touches something in
// its course.
func (f *Field) touched(points []geom.Vec) []geom.Vec {
	out := []geom.Vec{points[0]}
	for i := 1; i < len(points); i++ {
		way := points[i].Sub(points[i-1])
		legMM := way.Len()
		leastMM, foundMM := touchMM, -1.0
		for atMM := 1.0; atMM < legMM-1; {
			p := points[i-1].Add(way.Mul(atMM / legMM))
			roomMM, _ := f.bay.room(p, nearCells*f.search.cellMM)
			if roomMM < leastMM {
				leastMM, foundMM = roomMM, atMM
			}
			atMM += math.Max(roomMM, 0.5)
		}
		if foundMM > 0 {
			out = append(out, points[i-1].Add(way.Mul(foundMM/legMM)))
		}
		out = append(out, points[i])
	}
	return out
}

// slideTogether slides neighbouring points as one: what lies around an edge
// can only follow it so.
func (f *Field) slideTogether(s *Start, points []geom.Vec, e effort) {
	for i := 1; i < len(points)-1; i++ {
		for k := i + 1; k < min(i+e.together, len(points)-1) && points[k].Sub(points[i]).Len() < f.search.cellMM; k++ {
			f.slide(s, points, i, k, e.stepMM)
		}
	}
}

// slide moves points i to k to where the way is shorter, in steps of leastMM and
// more. Each step goes along the pull, or as the surface lets it.
func (f *Field) slide(s *Start, points []geom.Vec, i, k int, leastMM float64) {
	before, after := points[i-1], points[k+1]
	old := slices.Clone(points[i : k+1])
	for stepMM := f.search.cellMM / 2; stepMM > leastMM; {
		endsMM := points[i].Sub(before).Len() + after.Sub(points[k]).Len()
		pull := before.Sub(points[i]).Normalize().Add(after.Sub(points[k]).Normalize())
		if !(pull.Len() > 1e-6) {
			return
		}
		try := func(dir geom.Vec) bool {
			if dir.Len() < 1e-9 {
				return false
			}
			by := dir.Normalize().Mul(stepMM)
			for j := range old {
				old[j] = points[i+j]
				points[i+j] = old[j].Add(by)
			}
			if points[i].Sub(before).Len()+after.Sub(points[k]).Len() < endsMM && f.joined(s, points, i, k) {
				return true
			}
			copy(points[i:], old)
			return false
		}
		if !try(pull) && !slices.ContainsFunc(f.alternatives(points[i], points[k], pull), try) {
			stepMM /= 2
		}
	}
}

// joined reports whether the legs at points i to k are free.
func (f *Field) joined(s *Start, points []geom.Vec, i, k int) bool {
	for j := i; j <= k+1; j++ {
		if !f.joins(s, points, j-1, j) {
			return false
		}
	}
	return true
}

// alternatives returns the directions in which points from p to q may follow a
// pull that something stops: along the surface that is in the way, and along the
// edge around which they lie.
func (f *Field) alternatives(p, q, pull geom.Vec) []geom.Vec {
	away, ok := f.away(p)
	if !ok {
		return nil
	}
	along := pull.Sub(away.Mul(pull.Dot(away)))
	out := append(make([]geom.Vec, 0, 4), along, along.Add(away.Mul(0.2*along.Len())), along.Add(away.Mul(-0.2*along.Len())))
	if other, ok := f.away(q); ok && p != q {
		edge := away.Cross(other)
		out = append(out, edge.Mul(edge.Dot(pull)))
	}
	return out
}

// away returns the direction from what is nearest to a point.
func (f *Field) away(p geom.Vec) (geom.Vec, bool) {
	_, worst, at := f.bay.nearest(p, 2*f.search.cellMM)
	if worst < 0 {
		return geom.Vec{}, false
	}
	off := p.Sub(f.bay.bodies[worst].Pose.Point(at))
	if off.Len() == 0 {
		return geom.Vec{}, false
	}
	return off.Normalize(), true
}

// cutRad: a corner that bends more than this is cut.
const cutRad = 10 * math.Pi / 180

// mostPoints bounds the corners of a way.
const mostPoints = 12

// cut makes two points of each corner, as far apart as there is room.
func (f *Field) cut(s *Start, points []geom.Vec) []geom.Vec {
	out := []geom.Vec{points[0]}
	for i := 1; i < len(points)-1; i++ {
		in, on := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
		done := false
		if turnRad(in, on) > cutRad {
			for backMM := math.Min(in.Len(), on.Len()) / 2.5; backMM > 2*clearMM && !done; backMM /= 2 {
				a, b := points[i].Sub(in.Normalize().Mul(backMM)), points[i].Add(on.Normalize().Mul(backMM))
				if done = f.search.sees(a, b) && !s.ownHolds(a, b); done {
					out = append(out, a, b)
				}
			}
		}
		if !done {
			out = append(out, points[i])
		}
	}
	return append(out, points[len(points)-1])
}

func turnRad(a, b geom.Vec) float64 { return math.Atan2(a.Cross(b).Len(), a.Dot(b)) }
