//go:build !amd64

package bvh

// nearAVX2 is never called here: HasAVX2 says no.
func nearAVX2(o, f *float32, reachMM, reachMM2 float32, out *float32) (within uint32) {
	panic("bvh: vectors where HasAVX2 says there are none")
}
