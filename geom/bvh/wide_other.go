//go:build !amd64

package bvh

// wideRuns is false: the wide walks are written for one family of processors.
func wideRuns() bool { return false }

func castWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }

func blockedWide(_ *wideNode, _ *block, s *shot) { panic("bvh: no wide walk on this processor") }
