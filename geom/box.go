package geom

import "math"

// Box is an axis-aligned box; it is empty while Min exceeds Max.
type Box struct{ Min, Max Vec }

// EmptyBox returns the box that holds nothing and grows from the first point.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Min: Vec{inf, inf, inf}, Max: Vec{-inf, -inf, -inf}}
}

// IsEmpty reports whether no point has been added.
func (b Box) IsEmpty() bool { return b.Min[0] > b.Max[0] }

// Grow returns the least box that also holds p.
func (b Box) Grow(p Vec) Box {
	for k := range p {
		b.Min[k], b.Max[k] = min(b.Min[k], p[k]), max(b.Max[k], p[k])
	}
	return b
}

// Union returns the least box that holds both.
func (b Box) Union(o Box) Box {
	if o.IsEmpty() {
		return b
	}
	return b.Grow(o.Min).Grow(o.Max)
}

// Center returns the middle of the box.
func (b Box) Center() Vec { return b.Min.Add(b.Max).Mul(0.5) }

// Size returns the edge lengths in mm.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// DiagonalMM returns the length of the space diagonal, 0 for an empty box.
func (b Box) DiagonalMM() float64 {
	if b.IsEmpty() {
		return 0
	}
	return b.Size().Len()
}

// Shift returns the box moved by a vector.
func (b Box) Shift(by Vec) Box { return Box{b.Min.Add(by), b.Max.Add(by)} }

// GapMM returns the least distance of two boxes, 0 where they meet: a lower
// bound for anything inside them.
func (b Box) GapMM(o Box) float64 {
	var sum float64
	for k := range b.Min {
		if d := math.Max(b.Min[k]-o.Max[k], o.Min[k]-b.Max[k]); d > 0 {
			sum += d * d
		}
	}
	return math.Sqrt(sum)
}

// Corners returns the eight corners.
func (b Box) Corners() [8]Vec {
	var c [8]Vec
	for i := range c {
		for k := range 3 {
			c[i][k] = b.Min[k]
			if i>>k&1 == 1 {
				c[i][k] = b.Max[k]
			}
		}
	}
	return c
}
