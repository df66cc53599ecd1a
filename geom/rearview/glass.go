package rearview

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// Glass corners may lie this far off their common plane. Common practice, no
// source: finer than a pane is drawn.
const flatMM = 5.0

// checkPane refuses a pane that is not flat or whose sides cross.
func checkPane(key string, glass []geom.Vec) error {
	if len(glass) == 0 {
		return nil
	}
	if len(glass) < 3 {
		return fault(key, say.F("%d corners make no pane", len(glass)), say.Of("give three or more, in order round the pane"))
	}
	var n geom.Vec // twice the vector area
	for i := 2; i < len(glass); i++ {
		n = n.Add(glass[i-1].Sub(glass[0]).Cross(glass[i].Sub(glass[0])))
	}
	size := n.Len()
	if crossed := crossingSides(key, glass); crossed != nil {
		return crossed
	}
	if size < 1 {
		return fault(key, say.Of("the corners lie on one line"), say.Of("give the corners of a pane"))
	}
	n = n.Mul(1 / size)
	var mean geom.Vec
	for _, p := range glass {
		mean = mean.Add(p.Mul(1 / float64(len(glass))))
	}
	for i, p := range glass {
		if off := math.Abs(p.Sub(mean).Dot(n)); off > flatMM {
			return fault(fmt.Sprintf("%s[%d]", key, i), say.F("the pane is not flat: this corner lies %s off the plane of all", units.FormatMM(off)), say.Of("give the corners of a flat pane, such as the outline of the clear view laid into one plane"))
		}
	}
	return nil
}

// crossingSides finds two sides of a pane that cross, seen square to the plane
// that its corners come nearest to.
func crossingSides(key string, glass []geom.Vec) error {
	drop := flattest(glass)
	flat := make([]dot, len(glass))
	for i, p := range glass {
		flat[i] = dot{p[(drop+1)%3], p[(drop+2)%3]}
	}
	for i := range flat {
		for j := i + 1; j < len(flat); j++ {
			p, q, r, s := flat[i], flat[(i+1)%len(flat)], flat[j], flat[(j+1)%len(flat)]
			if j == i+1 || (j+1)%len(flat) == i {
				continue
			}
			if turn(p, q, r)*turn(p, q, s) < 0 && turn(r, s, p)*turn(r, s, q) < 0 {
				return fault(key, say.F("the pane crosses itself: the side from corner %d meets the side from corner %d", i, j), say.Of("list the corners in order round the pane"))
			}
		}
	}
	return nil
}

// flattest returns the axis along which the corners' plane is seen most nearly
// square, judged by the two that they spread widest on.
func flattest(glass []geom.Vec) int {
	best, bestMM2 := 2, -1.0
	for i := range glass {
		for j := range i {
			n := glass[i].Sub(glass[0]).Cross(glass[j].Sub(glass[0]))
			for axis := range 3 {
				if a := math.Abs(n[axis]); a > bestMM2 {
					best, bestMM2 = axis, a
				}
			}
		}
	}
	return best
}
