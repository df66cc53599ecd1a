package rearview

import (
	"math"

	"aftbay/geom"
)

// dot is a place in the picture of the road: a is the tangent of the angle to
// the side, b is 60 m over the distance, both from the middle image eye.
// Bare numbers: ratios.
type dot struct{ a, b float64 }

// pictureMM is the distance at which b is 1.
const pictureMM = 60000.0

// form is a linear function of a point.
type form struct {
	n geom.Vec
	c float64 // Bare numbers: in the unit of the function
}

// at returns the value at a point.
func (f form) at(p geom.Vec) float64 { return f.n[0]*p[0] + f.n[1]*p[1] + f.n[2]*p[2] + f.c }

// behind returns the form as a function of the points before a pose.
func (f form) behind(pose geom.Pose) form {
	return form{pose.R.Transpose().Mul3x1(f.n), f.n.Dot(pose.T) + f.c}
}

// lens throws points onto the picture: a and b are those forms over w, which
// is positive where the line of sight goes on rearward.
type lens struct{ a, b, w form }

// newLens returns the lens of an image eye, road frame; midXMM is the X of the
// middle image eye. A line from the eye E through a point meets the road at
// E + d·h/(-d.z), h being the eye's height; put into a and b this gives
// quotients of linear functions of the point.
func newLens(image geom.Vec, midXMM float64) lens {
	h := image[2]
	about := func(n geom.Vec) form { return form{n, -n.Dot(image)} }
	return lens{
		a: about(geom.Vec{0, 1, -image[1] / h}),
		b: about(geom.Vec{0, 0, -pictureMM / h}),
		w: about(geom.Vec{1, 0, -(image[0] - midXMM) / h}),
	}
}

// see returns the place of a point that passes all keeps of the caster.
func (l *lens) see(p geom.Vec) dot {
	w := l.w.at(p)
	return dot{l.a.at(p) / w, l.b.at(p) / w}
}

// leastMM is how near to the image eye a point may stand and still be thrown:
// nearer ones are cut off. A millimetre keeps the quotients harmless.
const leastMM = 1.0

// caster throws what stands in one of the two legs of the light: from the
// mirror to the road, or, reflected, from the eye to the mirror.
type caster struct {
	lens lens
	keep []form // a point counts where all are positive
}

// behind returns the caster for points before a pose.
func (c *caster) behind(pose geom.Pose) caster {
	out := caster{lens: lens{c.lens.a.behind(pose), c.lens.b.behind(pose), c.lens.w.behind(pose)}}
	for _, f := range c.keep {
		out.keep = append(out.keep, f.behind(pose))
	}
	return out
}

// fails returns a bit for each keep that a point does not pass.
func (c *caster) fails(p geom.Vec) (bits uint8) {
	for i := range c.keep {
		if c.keep[i].at(p) < 0 {
			bits |= 1 << i
		}
	}
	return bits
}

// clip cuts a convex polygon to where all keeps are positive (Sutherland and
// Hodgman's way, from memory).
func (c *caster) clip(poly []geom.Vec) []geom.Vec {
	for _, f := range c.keep {
		var out []geom.Vec
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			fp, fq := f.at(p), f.at(q)
			if fp >= 0 {
				out = append(out, p)
			}
			if (fp >= 0) != (fq >= 0) {
				out = append(out, p.Add(q.Sub(p).Mul(fp/(fp-fq))))
			}
		}
		poly = out
	}
	return poly
}

// pane is an upright box in the picture.
type pane struct{ lo, hi dot }

func emptyPane() pane {
	inf := math.Inf(1)
	return pane{dot{inf, inf}, dot{-inf, -inf}}
}

func (r pane) grow(p dot) pane {
	return pane{dot{min(r.lo.a, p.a), min(r.lo.b, p.b)}, dot{max(r.hi.a, p.a), max(r.hi.b, p.b)}}
}

func (r pane) meets(o pane) bool {
	return r.lo.a <= o.hi.a && o.lo.a <= r.hi.a && r.lo.b <= o.hi.b && o.lo.b <= r.hi.b
}

func (r pane) common(o pane) pane {
	return pane{dot{max(r.lo.a, o.lo.a), max(r.lo.b, o.lo.b)}, dot{min(r.hi.a, o.hi.a), min(r.hi.b, o.hi.b)}}
}

func paneOf(poly []dot) pane {
	r := emptyPane()
	for _, p := range poly {
		r = r.grow(p)
	}
	return r
}
