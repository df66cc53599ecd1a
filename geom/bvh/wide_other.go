//go:build !amd64

package bvh

func castWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }

func volleyWide(_ *wideNode, _ *block, s *shot, _ int) {
	panic("bvh: no wide walk on this processor")
}

func blockedWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }

func rayOctet(_ *octet, _ *shot, _ *[lanes]float32) uint32 {
	panic("bvh: no wide walk on this processor")
}
