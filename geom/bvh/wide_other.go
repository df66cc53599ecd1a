//go:build !amd64

package bvh

func castWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }

func aimFour(_ *Ray, _ *flight, _ *frame) (aimed uint32) {
	panic("bvh: no wide walk on this processor")
}

func volleyWide(_ *wideNode, _ *block, _ *flight, _ int) {
	panic("bvh: no wide walk on this processor")
}

func blockedWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }

func rayOctet(_ *octet, _ *shot, _ *[lanes]float32) uint32 {
	panic("bvh: no wide walk on this processor")
}
