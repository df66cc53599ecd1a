package bvh

import (
	"testing"
	"unsafe"
)

// TestLayout: the fields lie where the assembly reads them, see
// pairavo/near.go and avo.
func TestLayout(t *testing.T) {
	var o octet
	var f facing
	var n near
	for _, c := range []struct {
		field     string
		got, want uintptr
	}{
		{"flight", unsafe.Sizeof(flight{}), 160},
		{"ray", unsafe.Sizeof(Ray{}), 64},
		{"wideNode", unsafe.Sizeof(wideNode{}), 64 * nodeLines},
		{"block", unsafe.Sizeof(block{}), 64 * blockLines},
		{"octet", unsafe.Sizeof(o), 768},
		{"octet.lo", unsafe.Offsetof(o.lo), 0},
		{"octet.hi", unsafe.Offsetof(o.hi), 96},
		{"octet.mid", unsafe.Offsetof(o.mid), 192},
		{"octet.half", unsafe.Offsetof(o.half), 288},
		{"octet.axis", unsafe.Offsetof(o.axis), 384},
		{"facing.lo", unsafe.Offsetof(f.lo), 0},
		{"facing.hi", unsafe.Offsetof(f.hi), 12},
		{"facing.mid", unsafe.Offsetof(f.mid), 24},
		{"facing.half", unsafe.Offsetof(f.half), 36},
		{"facing.axis", unsafe.Offsetof(f.axis), 48},
		{"near.gapMM", unsafe.Offsetof(n.gapMM), 0},
		{"near.midsMM2", unsafe.Offsetof(n.midsMM2), 32},
	} {
		if c.got != c.want {
			t.Errorf("%s lies at %d, the assembly has %d", c.field, c.got, c.want)
		}
	}
}
