package bvh

import "math"

// waiting is a node put aside by a ray walk.
type waiting struct {
	node int32
	near int32 // where the ray enters its box, see slab
}

// first finds the nearest hit, or any hit when s.any is set.
func (s *shot) first(t *Tree) {
	var stack [maxDepth + 2]waiting
	top := 0
	at := int32(0)
	reach := s.reached()
	nodes := t.nodes
	for {
		n := &nodes[at]
		if n.count == 0 {
			kid := n.at
			pair := (*[2]node)(nodes[kid:])
			leftNear, leftFar := s.slab(&pair[0])
			rightNear, rightFar := s.slab(&pair[1])
			goLeft := leftNear <= min(leftFar, reach)
			goRight := rightNear <= min(rightFar, reach)
			if goLeft && goRight {
				at = kid
				put := waiting{kid + 1, rightNear}
				if rightNear < leftNear {
					at, put = kid+1, waiting{kid, leftNear}
				}
				stack[top] = put
				top++
				continue
			}
			if goLeft {
				at = kid
				continue
			}
			if goRight {
				at = kid + 1
				continue
			}
		} else if s.leaf(t, n.at, n.count) {
			if s.any {
				return
			}
			reach = s.reached()
		}
		for {
			if top == 0 {
				return
			}
			top--
			if stack[top].near <= reach {
				at = stack[top].node
				break
			}
		}
	}
}

// reached returns how far, from the moved start, boxes still matter, as slab
// counts; at most infinity.
func (s *shot) reached() int32 {
	return min(bitsOf(float32(max(0, s.farMM-s.startMM)))+slabUlps, infinite)
}

// infinite is the bits of the float32 infinity.
const infinite = 0x7f800000

// slabUlps is slabSlack in units of the last place of a float32, or more.
const slabUlps = 16

// slab returns where the ray enters and leaves the box of n, from the moved
// start; it misses when the first exceeds the second. Both are the bits of
// float32 numbers read as whole ones, which puts numbers from 0 up in the same
// order and all negative ones below; the least and largest of whole numbers cost
// no branch.
func (s *shot) slab(n *node) (enter, leave int32) {
	x0, x1 := (n.lo[0]-s.lo[0])*s.inv[0], (n.hi[0]-s.hi[0])*s.inv[0]
	if s.inv[0] < 0 {
		x0, x1 = x1, x0
	}
	y0, y1 := (n.lo[1]-s.lo[1])*s.inv[1], (n.hi[1]-s.hi[1])*s.inv[1]
	if s.inv[1] < 0 {
		y0, y1 = y1, y0
	}
	z0, z1 := (n.lo[2]-s.lo[2])*s.inv[2], (n.hi[2]-s.hi[2])*s.inv[2]
	if s.inv[2] < 0 {
		z0, z1 = z1, z0
	}
	enter = max(bitsOf(x0), bitsOf(y0), bitsOf(z0), 0)
	return enter, min(bitsOf(x1), bitsOf(y1), bitsOf(z1)) + slabUlps
}

// bitsOf returns the bits of x as a whole number.
func bitsOf(x float32) int32 { return int32(math.Float32bits(x)) }

// leaf tests the triangles of a leaf; true when the nearest hit moved closer.
func (s *shot) leaf(t *Tree, first, count int32) bool {
	closer := false
	for i := first; i < first+count; i++ {
		if s.meet(&t.slots[i], t.order[i]) {
			closer = true
		}
	}
	return closer
}

// meet tests one triangle; true when it is the nearest hit now: nearer than the
// last, or as near and lower in number. So what is hit depends on the triangles
// alone, not on the way through the tree.
func (s *shot) meet(tri *Triangle, number int32) bool {
	u, v, w := s.edges(tri)
	if (u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0) {
		return false
	}
	det := u + v + w
	if det == 0 {
		return false
	}
	distMM := s.along(tri, u, v, w) / det
	if !(distMM > s.nearMM) || !(distMM < s.farMM || distMM == s.farMM && uint32(number) < uint32(s.tri)) {
		return false
	}
	s.farMM, s.tri, s.back = distMM, number, det < 0
	return true
}

// edges returns the three edge functions (mm2) of the triangle in the sheared
// frame: all of one sign, and the ray passes inside. Two triangles that share an
// edge get that edge's value with opposite signs to the last bit, so nothing
// slips between; the conversions forbid fused rounding, which would break this.
func (s *shot) edges(tri *Triangle) (u, v, w float64) {
	kx, ky, kz := s.kx, s.ky, s.kz
	az, bz, cz := tri[0][kz]-s.zFromMM, tri[1][kz]-s.zFromMM, tri[2][kz]-s.zFromMM
	ax := tri[0][kx] - s.xFromMM - float64(s.xRatio*az)
	ay := tri[0][ky] - s.yFromMM - float64(s.yRatio*az)
	bx := tri[1][kx] - s.xFromMM - float64(s.xRatio*bz)
	by := tri[1][ky] - s.yFromMM - float64(s.yRatio*bz)
	cx := tri[2][kx] - s.xFromMM - float64(s.xRatio*cz)
	cy := tri[2][ky] - s.yFromMM - float64(s.yRatio*cz)
	u = float64(cx*by) - float64(cy*bx)
	v = float64(ax*cy) - float64(ay*cx)
	w = float64(bx*ay) - float64(by*ax)
	return u, v, w
}

// along returns the distance along the ray times the sum of the edge functions.
func (s *shot) along(tri *Triangle, u, v, w float64) float64 {
	kz := s.kz
	z := float64(u*(tri[0][kz]-s.zFromMM)) + float64(v*(tri[1][kz]-s.zFromMM)) + float64(w*(tri[2][kz]-s.zFromMM))
	return z * s.zRatio
}

// doubt is the size of an edge function, relative to the products it is the
// difference of, below which its sign could be rounding: some 30 times 2^-53
// for the subtractions and products, and room.
const doubt = 1e-14

// doubtful notes the most that crossing allows for rounding at any triangle of a
// tree: what passes farther off needs no closer look.
func (s *shot) doubtful(root *node) {
	var sizeMM float64
	for k := range 3 {
		sizeMM = max(sizeMM, float64(root.hi[k])-s.from[k], s.from[k]-float64(root.lo[k]))
	}
	s.mostSlackMM2 = s.slackMM2(sizeMM)
}

// slackMM2 is the size of edge functions that could be rounding for a triangle
// whose corners stand no farther than sizeMM along any axis.
func (s *shot) slackMM2(sizeMM float64) float64 {
	return doubt * sizeMM * sizeMM * (1 + math.Abs(s.zRatio))
}

// each visits every triangle met or nearly met.
func (s *shot) each(t *Tree, see func(c Crossing) bool) {
	var stack [maxDepth + 2]int32
	top := 1
	reach := s.reached()
	for top > 0 {
		top--
		n := &t.nodes[stack[top]]
		if enter, leave := s.slab(n); enter > leave || enter > reach {
			continue
		}
		if n.count == 0 {
			stack[top], stack[top+1] = n.at, n.at+1
			top += 2
			continue
		}
		for i := n.at; i < n.at+n.count; i++ {
			if c, near := s.crossing(t, i); near && !see(c) {
				return
			}
		}
	}
}

// crossing judges one triangle; false when the ray surely passes beside it or
// meets it outside the stretch of interest.
func (s *shot) crossing(t *Tree, slot int32) (Crossing, bool) {
	tri := &t.slots[slot]
	u, v, w := s.edges(tri)
	if m := s.mostSlackMM2; (u < -m || v < -m || w < -m) && (u > m || v > m || w > m) {
		return Crossing{}, false
	}
	var sizeMM float64
	for i := range tri {
		for k := range 3 {
			if offMM := math.Abs(tri[i][k] - s.from[k]); offMM > sizeMM {
				sizeMM = offMM
			}
		}
	}
	slackMM2 := s.slackMM2(sizeMM)
	if (u < -slackMM2 || v < -slackMM2 || w < -slackMM2) && (u > slackMM2 || v > slackMM2 || w > slackMM2) {
		return Crossing{}, false
	}
	det := u + v + w
	c := Crossing{Hit: Hit{Tri: int(t.order[slot]), Back: det < 0}}
	c.Sure = min(math.Abs(u), math.Abs(v), math.Abs(w)) > slackMM2
	if det == 0 {
		return c, true
	}
	c.Met = !((u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0))
	c.DistMM = s.along(tri, u, v, w) / det
	return c, c.DistMM > s.nearMM && c.DistMM <= s.farMM
}
