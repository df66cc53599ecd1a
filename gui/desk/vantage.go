package desk

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/geom/scene"
)

// How a view is chosen. Common practice, no source.
const (
	vantageLooks  = 40   // places on the parts that a view is judged by
	vantageWell   = 0.3  // of the places: the view at hand is good, no other is tried
	vantageEnough = 0.6  // of what the best view shows: then the view at hand stays
	vantageTurn   = 0.15 // of the places, for a view from the other side
	seenLeast     = 0.08 // of the places: a part that shows less is hidden; no view shows more than about half
)

// Vantage returns the camera turned, about its target, to where parts are least
// hidden behind others. One that shows them well enough is left as it is.
func Vantage(s *State, a *Attention, parts []string, c render.Camera) render.Camera {
	v := newVantage(s, a, parts)
	if len(v.looks) == 0 {
		return c
	}
	here := v.seenShare(c, 0)
	if here >= vantageWell {
		return c
	}
	best, most, shown := c, math.Inf(-1), here
	for _, elevationDeg := range [...]float64{28, 8, 52, 80, -20, -60} {
		for azimuthDeg := -180.0; azimuthDeg < 180; azimuthDeg += 30 {
			to := c
			to.AzimuthRad, to.ElevationRad = azimuthDeg*math.Pi/180, elevationDeg*math.Pi/180
			cost := vantageTurn * turnShare(c, to)
			share := v.seenShare(to, most+cost)
			shown = max(shown, share)
			if share-cost > most {
				best, most = to, share-cost
			}
		}
	}
	if here >= vantageEnough*shown {
		return c
	}
	return best
}

// InSight reports whether a camera shows something of each of some parts.
func InSight(s *State, a *Attention, parts []string, c render.Camera) bool {
	return !slices.ContainsFunc(parts, func(part string) bool {
		v := newVantage(s, a, []string{part})
		return len(v.looks) > 0 && v.seenShare(c, 0) < seenLeast
	})
}

// vantage judges views of some parts.
type vantage struct {
	looks []geom.Vec    // places on the parts
	walls []*scene.Part // what can stand before them
}

func newVantage(s *State, a *Attention, parts []string) *vantage {
	v := &vantage{}
	if s.Scene == nil {
		return v
	}
	tris := 0
	var own []*scene.Part
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		is := slices.Contains(parts, p.Name)
		if is {
			own = append(own, p)
			tris += len(p.Mesh.Tris)
		}
		if is || !a.Hidden[p.Name] && !ghost(p, a) {
			v.walls = append(v.walls, p)
		}
	}
	step := float64(max(1, tris)) / vantageLooks
	next, count := step/2, 0.0
	for _, p := range own {
		for k := range p.Mesh.Tris {
			for ; next < count+1; next += max(1, step) {
				x, y, z := p.Mesh.Corners(k)
				v.looks = append(v.looks, p.Pose.Point(x.Add(y).Add(z).Mul(1.0/3)))
			}
			count++
		}
	}
	return v
}

// seenShare returns which share of the places a camera sees, or less where it
// does not see more than a share to beat. Cuts do not count.
// Bare numbers: shares.
func (v *vantage) seenShare(c render.Camera, beat float64) (share float64) {
	const offMM = 0.05 // off the surface that a place lies on
	eye := c.Eye()
	back := eye.Sub(c.Target).Normalize()
	free := 0
	for i, at := range v.looks {
		if float64(free+len(v.looks)-i) <= beat*float64(len(v.looks)) {
			break
		}
		to, far := back, math.Inf(1)
		if !c.Parallel {
			way := eye.Sub(at)
			if far = way.Len(); far < offMM {
				continue
			}
			to = way.Mul(1 / far)
		}
		if !v.hidden(at, to, offMM, far) {
			free++
		}
	}
	return float64(free) / float64(max(1, len(v.looks)))
}

// hidden reports whether a part stands on the way from a place to the eye.
func (v *vantage) hidden(at, to geom.Vec, nearMM, farMM float64) bool {
	for _, p := range v.walls {
		if !meets(&p.Box, at, to) {
			continue
		}
		back := p.Pose.Inverse()
		if hit, ok := p.Tree.FirstHit(back.Point(at.Add(to.Mul(nearMM))), back.Dir(to), farMM); ok && hit.DistMM < farMM {
			return true
		}
	}
	return false
}

// meets reports whether a ray meets a box.
func meets(b *geom.Box, from, dir geom.Vec) bool {
	near, far := 0.0, math.Inf(1)
	for k := range 3 {
		if math.Abs(dir[k]) < 1e-12 {
			if from[k] < b.Min[k] || from[k] > b.Max[k] {
				return false
			}
			continue
		}
		x, y := (b.Min[k]-from[k])/dir[k], (b.Max[k]-from[k])/dir[k]
		near, far = max(near, min(x, y)), min(far, max(x, y))
	}
	return near <= far
}

// turnShare returns how far apart two cameras look: 0 along each other, 1 against.
func turnShare(a, b render.Camera) float64 {
	u, w := a.Eye().Sub(a.Target).Normalize(), b.Eye().Sub(b.Target).Normalize()
	return math.Acos(max(-1, min(1, u.Dot(w)))) / math.Pi
}
