package bvh

//go:generate env PART=near go run -C pairavo . -pkg bvh -out ../near_amd64.s -stubs ../near_asm_amd64.go

// kernel says how a walk bounds eight boxes at once; all ways give bounds that
// hold, the first two the same bit for bit.
type kernel int

const (
	plain  kernel = iota // Go
	vector               // AVX2
	blind                // so large or so lost that float32 cannot tell: all are near
)

// kernelFor returns the way for boxes that reach sizeMM, without vectors where
// that is asked for.
func kernelFor(sizeMM float64, plainly bool) kernel {
	switch {
	case !(sizeMM <= mostMM):
		return blind
	case fast && !plainly:
		return vector
	}
	return plain
}

// near bounds the distance of each box of an octet to f; see plainNear.
func (k kernel) near(o *octet, f *facing, reachMM, reachMM2 float32, out *near) (within uint32) {
	switch k {
	case vector:
		return nearAVX2(&o.lo[0][0], &f.lo[0], reachMM, reachMM2, &out.gapMM[0])
	case blind:
		*out = near{}
		for i := range lanes {
			if o.lo[0][i] <= o.hi[0][i] {
				within |= 1 << i
			}
		}
		return within
	}
	return plainNear(o, f, reachMM, reachMM2, out)
}
