package main

import (
	"math"

	"github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Where the fields lie, in bytes; a test of bvh holds them to the types.
const (
	row = 32 // eight float32: one number of all lanes

	octetLo, octetHi, octetMid, octetHalf, octetAxis = 0, 3 * row, 6 * row, 9 * row, 12 * row

	facingLo, facingHi, facingMid, facingHalf, facingAxis = 0, 12, 24, 36, 48

	nearGap, nearMids = 0, row
)

// kernel is the function being written: what it points to, and what stays in
// registers throughout.
type kernel struct {
	octet, facing, out operand.Mem
	zero, sizes        reg.VecVirtual // nothing; all bits but the sign
}

// nearAhead writes the twin of bvh.plainNear.
func nearAhead() {
	build.TEXT("nearAVX2", build.NOSPLIT, "func(o, f *float32, reachMM, reachMM2 float32, out *float32) (within uint32)")
	build.Doc("nearAVX2 is plainNear by AVX2, the same bit for bit; o, f and out are the first",
		"numbers of octet, facing and near.")
	build.Pragma("noescape")
	k := kernel{
		octet:  operand.Mem{Base: build.Load(build.Param("o"), build.GP64())},
		facing: operand.Mem{Base: build.Load(build.Param("f"), build.GP64())},
		out:    operand.Mem{Base: build.Load(build.Param("out"), build.GP64())},
		zero:   build.YMM(), sizes: build.YMM(),
	}
	build.VXORPS(k.zero, k.zero, k.zero)
	straight := k.straight()

	build.Comment("None near enough: done")
	reach, bits := build.YMM(), build.GP32()
	build.VBROADCASTSS(address("reachMM2"), reach)
	build.VCMPPS(operand.Imm(1), reach, straight, reach) // straight < reach
	build.VMOVMSKPS(reach, bits)
	build.TESTL(bits, bits)
	build.JNZ(operand.LabelRef("turned"))
	build.Store(bits, build.ReturnIndex(0))
	build.VZEROUPPER()
	build.RET()

	build.Label("turned")
	build.VPCMPEQD(k.sizes, k.sizes, k.sizes)
	build.VPSRLD(operand.Imm(1), k.sizes, k.sizes)
	most := k.turned(straight)

	build.Comment("Distances, and who is near enough")
	build.VSQRTPS(most, most)
	shrink, bits32 := build.YMM(), build.GP32()
	build.MOVL(operand.U32(math.Float32bits(1-0x1p-19)), bits32)
	build.VMOVD(bits32, shrink.AsX())
	build.VBROADCASTSS(shrink.AsX(), shrink)
	build.VMULPS(shrink, most, most)
	build.VMOVUPS(most, k.out.Offset(nearGap))
	within := build.YMM()
	build.VBROADCASTSS(address("reachMM"), within)
	build.VCMPPS(operand.Imm(1), within, most, within)
	build.VMOVMSKPS(within, bits)
	build.Store(bits, build.ReturnIndex(0))
	build.VZEROUPPER()
	build.RET()
}

// address is where a parameter stands.
func address(param string) operand.Mem {
	b, err := build.Param(param).Resolve()
	if err != nil {
		panic(err)
	}
	return b.Addr
}

// straight returns the squared distances of the straight boxes.
func (k *kernel) straight() reg.VecVirtual {
	build.Comment("Straight boxes")
	sum := build.YMM()
	for axis := range 3 {
		g, h := build.YMM(), build.YMM()
		build.VMOVUPS(k.octet.Offset(octetLo+axis*row), g)
		build.VBROADCASTSS(k.facing.Offset(facingHi+4*axis), h)
		build.VSUBPS(h, g, g) // lo - f.hi
		build.VBROADCASTSS(k.facing.Offset(facingLo+4*axis), h)
		build.VSUBPS(k.octet.Offset(octetHi+axis*row), h, h) // f.lo - hi
		build.VMAXPS(h, g, g)
		build.VMAXPS(k.zero, g, g)
		build.VMULPS(g, g, g)
		addTo(&sum, g, axis)
	}
	return sum
}

// addTo adds g, or starts the sum with it: 0 + g is g, bit for bit, as g is never
// negative zero.
func addTo(sum *reg.VecVirtual, g reg.VecVirtual, already int) {
	if already == 0 {
		build.VMOVAPS(g, *sum)
		return
	}
	build.VADDPS(g, *sum, *sum)
}

// turned returns the largest squared distance by any of the boxes.
func (k *kernel) turned(straight reg.VecVirtual) reg.VecVirtual {
	build.Comment("From middle to middle")
	var d, span [3]reg.VecVirtual
	for axis := range 3 {
		d[axis], span[axis] = build.YMM(), build.YMM()
		build.VBROADCASTSS(k.facing.Offset(facingMid+4*axis), d[axis])
		build.VSUBPS(k.octet.Offset(octetMid+axis*row), d[axis], d[axis])
	}
	mids, t := build.YMM(), build.YMM()
	build.VMULPS(d[0], d[0], mids)
	build.VMULPS(d[1], d[1], t)
	build.VADDPS(t, mids, mids)
	build.VMULPS(d[2], d[2], t)
	build.VADDPS(t, mids, mids)
	build.VMOVUPS(mids, k.out.Offset(nearMids))

	own := build.YMM()
	for axis := range 3 {
		k.alongOwn(axis, &d, &span, &own)
	}
	most := build.YMM()
	build.VMAXPS(own, straight, most)
	other := build.YMM()
	for axis := range 3 {
		k.alongOther(axis, &d, &span, &other)
	}
	build.VMAXPS(other, most, most)
	return most
}

// alongOwn adds the gap along one axis of the octet's boxes to own, and what the
// half edges along it reach on the axes of the other box to span.
func (k *kernel) alongOwn(axis int, d, span *[3]reg.VecVirtual, own *reg.VecVirtual) {
	build.Commentf("Along axis %d of each", axis)
	var a [3]reg.VecVirtual
	for c := range 3 {
		a[c] = build.YMM()
		build.VMOVUPS(k.octet.Offset(octetAxis+(3*axis+c)*row), a[c])
	}
	half, g, t := build.YMM(), build.YMM(), build.YMM()
	build.VMOVUPS(k.octet.Offset(octetHalf+axis*row), half)
	build.VMULPS(d[0], a[0], g)
	build.VMULPS(d[1], a[1], t)
	build.VADDPS(t, g, g)
	build.VMULPS(d[2], a[2], t)
	build.VADDPS(t, g, g)
	build.VANDPS(k.sizes, g, g)
	build.VSUBPS(half, g, g)
	for l := range 3 {
		m, b := build.YMM(), build.YMM()
		k.product(m, b, l, &a)
		build.VBROADCASTSS(k.facing.Offset(facingHalf+4*l), b)
		build.VMULPS(b, m, b)
		build.VSUBPS(b, g, g)
		build.VMULPS(half, m, m)
		addTo(&span[l], m, axis)
	}
	build.VMAXPS(k.zero, g, g)
	build.VMULPS(g, g, g)
	addTo(own, g, axis)
}

// product sets m to the size of the product of axis l of the other box with a
// vector in each lane; b is lost.
func (k *kernel) product(m, b reg.VecVirtual, l int, a *[3]reg.VecVirtual) {
	build.VBROADCASTSS(k.facing.Offset(facingAxis+12*l), b)
	build.VMULPS(b, a[0], m)
	for c := 1; c < 3; c++ {
		build.VBROADCASTSS(k.facing.Offset(facingAxis+12*l+4*c), b)
		build.VMULPS(b, a[c], b)
		build.VADDPS(b, m, m)
	}
	build.VANDPS(k.sizes, m, m)
}

// alongOther adds the gap along one axis of the other box.
func (k *kernel) alongOther(l int, d, span *[3]reg.VecVirtual, other *reg.VecVirtual) {
	build.Commentf("Along axis %d of the other", l)
	g, b := build.YMM(), build.YMM()
	k.product(g, b, l, d)
	build.VBROADCASTSS(k.facing.Offset(facingHalf+4*l), b)
	build.VSUBPS(b, g, g)
	build.VSUBPS(span[l], g, g)
	build.VMAXPS(k.zero, g, g)
	build.VMULPS(g, g, g)
	addTo(other, g, l)
}
