package main

import (
	"github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Sizes, in bytes, of what the builder of trees works on.
const (
	boxedBytes   = 32
	binShift     = 6                // log2 of the size of a bin
	axisBins     = 16 << binShift   // the bins of an axis
	slicingPerMM = 16               // after the least of the middles
	slicingMost  = 2 * slicingPerMM // the last bin
	countsAt     = 3 * axisBins     // the counts, after all bins
	axisCounts   = 16 * 4
)

// fillBins writes the twin of bvh's binned.plainFill.
func fillBins() {
	build.TEXT("fillAVX2", build.NOSPLIT, "func(list *float32, n int, s, all *float32)")
	build.Doc("fillAVX2 is plainFill by AVX2; list, s and all are the first numbers of the",
		"triangles, the slicing and the bins.")
	build.Pragma("noescape")
	list := build.Load(build.Param("list"), build.GP64())
	n := build.Load(build.Param("n"), build.GP64())
	s := build.Load(build.Param("s"), build.GP64())
	all := build.Load(build.Param("all"), build.GP64())
	lo, perMM, most, zero, sign := build.XMM(), build.XMM(), build.XMM(), build.XMM(), build.XMM()
	build.VMOVUPS(operand.Mem{Base: s}, lo)
	build.VMOVUPS(operand.Mem{Base: s, Disp: slicingPerMM}, perMM)
	build.VMOVUPS(operand.Mem{Base: s, Disp: slicingMost}, most)
	build.VXORPS(zero, zero, zero)
	build.VPCMPEQD(sign, sign, sign)
	build.VPSLLD(operand.Imm(31), sign, sign)

	build.Label("next")
	build.TESTQ(n.(reg.GPVirtual), n.(reg.GPVirtual))
	build.JZ(operand.LabelRef("done"))
	box, mid := build.YMM(), build.YMM()
	build.VMOVUPS(operand.Mem{Base: list}, box)

	build.Comment("Twice the middle, and minus that")
	less, twice := build.XMM(), build.XMM()
	build.VEXTRACTF128(operand.Imm(1), box, less)
	build.VSUBPS(less, box.AsX(), twice)
	build.VXORPS(sign, twice, less)
	build.VINSERTF128(operand.Imm(1), less, twice.AsY(), mid)

	build.Comment("Bins")
	build.VSUBPS(lo, twice, twice)
	build.VMULPS(perMM, twice, twice)
	build.VMAXPS(zero, twice, twice)
	build.VMINPS(most, twice, twice)
	build.VCVTTPS2DQ(twice, twice)
	for axis := range 3 {
		k := build.GP64()
		if axis == 0 {
			build.VMOVD(twice, k.As32())
		} else {
			build.VPEXTRD(operand.Imm(uint64(axis)), twice, k.As32())
		}
		build.INCL(operand.Mem{Base: all, Index: k, Scale: 4, Disp: countsAt + axis*axisCounts})
		build.SHLQ(operand.Imm(binShift), k)
		grown := build.YMM()
		at := operand.Mem{Base: all, Index: k, Scale: 1, Disp: axis * axisBins}
		build.VMINPS(at, box, grown)
		build.VMOVUPS(grown, at)
		build.VMINPS(at.Offset(boxedBytes), mid, grown)
		build.VMOVUPS(grown, at.Offset(boxedBytes))
	}
	build.ADDQ(operand.Imm(boxedBytes), list.(reg.GPVirtual))
	build.DECQ(n.(reg.GPVirtual))
	build.JMP(operand.LabelRef("next"))
	build.Label("done")
	build.VZEROUPPER()
	build.RET()
}
