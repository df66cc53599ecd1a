//go:build !amd64

package bvh

func askAVX2() bool { return false }
