package bvh

import "aftbay/geom"

// apart is a vector whose components the compiler keeps in registers, each by
// itself: a geom.Vec, an array, goes through memory at each operation. The
// operations are those of geom.Vec, in the same order. Bare numbers: components.
type apart struct{ x, y, z float64 }

func apartOf(v *geom.Vec) apart { return apart{v[0], v[1], v[2]} }

func (a apart) vec() geom.Vec     { return geom.Vec{a.x, a.y, a.z} }
func (a apart) add(b apart) apart { return apart{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a apart) sub(b apart) apart { return apart{a.x - b.x, a.y - b.y, a.z - b.z} }

// dot returns the scalar product. Bare number: of what they are.
func (a apart) dot(b apart) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

// square returns the square of the length. Bare number: of what it is.
func (a apart) square() float64         { return a.dot(a) }
func (a apart) mul(ratio float64) apart { return apart{a.x * ratio, a.y * ratio, a.z * ratio} }

func (a apart) cross(b apart) apart {
	return apart{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}
