//go:build !amd64

package bvh

// fillAVX2 is never called here: HasAVX2 says no.
func fillAVX2(list *float32, n int, s, all *float32) {
	panic("bvh: vectors where HasAVX2 says there are none")
}
