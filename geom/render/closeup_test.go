package render

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
)

func TestCloseupShowsTrueLength(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 0))
	lines := []geom.Vec{{10, 0, 0}, {0, 10, 0}, {0, 0, 10}, {0, 0, -300}}
	_, _, corner := NewCamera().basis()
	lines = append(lines, corner.Mul(25)) // straight at the eye of the corner view
	for range 100 {
		lines = append(lines, geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(40))
	}
	for _, line := range lines {
		from := geom.Vec{500, -200, 300}
		to := from.Add(line)
		c, cut := Closeup(from, to, 120)
		v := newView(c, geom.EmptyBox().Grow(from).Grow(to), 400, 300)
		x0, y0, _, _ := v.project(from)
		x1, y1, _, _ := v.project(to)
		if got := math.Hypot(x1-x0, y1-y0) * c.MMPerPx(300); !near(got, line.Len(), 1e-6) {
			t.Errorf("line %v shows %v mm long, is %v", line, got, line.Len())
		}
		if math.Abs(beyondMM(cut, from)) > 1e-9 || math.Abs(beyondMM(cut, to)) > 1e-9 {
			t.Errorf("line %v is not in the cut", line)
		}
		if beyondMM(cut, c.Eye()) <= 0 {
			t.Errorf("line %v: the cut does not clear the view", line)
		}
		if got, want := c.MMPerPx(300)*300, max(120, 3*line.Len()); !near(got, want, 1e-6) {
			t.Errorf("line %v: height %v, want %v", line, got, want)
		}
	}
}

func TestCloseupOfTouchingPoints(t *testing.T) {
	p := geom.Vec{1, 2, 3}
	c, cut := Closeup(p, p, 80)
	if c.Target != p || cut.Point != p || !near(c.MMPerPx(100), 0.8, 1e-9) || !near(cut.Normal.Len(), 1, 1e-9) {
		t.Errorf("camera %+v, cut %+v", c, cut)
	}
}

// beyondMM returns how far p lies on the side that a cut takes away.
func beyondMM(c Cut, p geom.Vec) float64 { return p.Sub(c.Point).Dot(c.Normal) }
