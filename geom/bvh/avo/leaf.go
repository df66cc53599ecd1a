package main

import (
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/gotypes"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// leaf tests the four triangles of the current block, each operation in the
// order of shot.edges and shot.meet and none fused, so that every bit is alike.
func (w *walk) leaf() {
	block, s := GP64(), Dereference(Param("s"))
	MOVL(w.current.As32(), block.As32())
	lineOf(block)
	ADDQ(argument("blocks"), block)
	x, y, z := corners(s, block, func(axis string) reg.Register {
		row := GP64()
		IMUL3Q(Imm(axisRows), address(s.Field("k"+axis)), row)
		return row
	})
	u, v, uvw := edges(x, y)

	Comment("Inside: not one edge function below zero and another above.")
	inside := GP32()
	w.inside(u, v, uvw, inside)
	JE(LabelRef(w.leave))
	w.meet(s, block, inside, u, v, uvw, z)
	Label(w.leave)
	w.loadBoxes(s)
}

// meet keeps the nearest of the triangles that the line of the shot passes
// through, if it is hit.
func (w *walk) meet(s gotypes.Component, block, inside reg.GPVirtual, u, v, uvw reg.VecVirtual, z [3]reg.VecVirtual) {
	det, dist := w.distances(s, u, v, uvw, z)

	Comment("Met: the triangle is not seen edge-on and lies in the stretch that counts.")
	bound, zero := YMM(), YMM()
	const above, notAbove, differs = 30, 18, 12 // quiet; the last also without order
	VBROADCASTSD(address(s.Field("nearMM")), bound)
	VCMPPD(Imm(above), bound, dist, bound)
	farMM := YMM()
	VBROADCASTSD(address(s.Field("farMM")), farMM)
	VCMPPD(Imm(notAbove), farMM, dist, farMM)
	VANDPD(farMM, bound, bound)
	VXORPD(zero, zero, zero)
	VCMPPD(Imm(differs), zero, det, farMM)
	VANDPD(farMM, bound, bound)
	mask := GP32()
	VMOVMSKPD(bound, mask)
	ANDL(inside, mask)
	JE(LabelRef(w.leave))
	w.keep(s, block, mask, det, dist)
}

// corners returns the coordinates of all corners in the sheared frame, and the
// unsheared ones along the ray.
func corners(s gotypes.Component, block reg.Register, rowOf func(axis string) reg.Register) (x, y, z [3]reg.VecVirtual) {
	load := func(axis string) (c [3]reg.VecVirtual) {
		row, from := rowOf(axis), YMM()
		VBROADCASTSD(address(s.Field(axis+"FromMM")), from)
		for k := range c {
			c[k] = YMM()
			VMOVUPD(Mem{Base: block, Index: row, Scale: 1, Disp: rowBytes * k}, c[k])
			VSUBPD(from, c[k], c[k])
		}
		return c
	}
	z = load("z")
	shear := func(c [3]reg.VecVirtual, ratio string) {
		r := YMM()
		VBROADCASTSD(address(s.Field(ratio)), r)
		for k := range c {
			t := YMM()
			VMULPD(z[k], r, t)
			VSUBPD(t, c[k], c[k])
		}
	}
	x = load("x")
	shear(x, "xRatio")
	y = load("y")
	shear(y, "yRatio")
	return x, y, z
}

// edges returns the three edge functions.
func edges(x, y [3]reg.VecVirtual) (u, v, w reg.VecVirtual) {
	const a, b, c = 0, 1, 2
	cross := func(i, j int) reg.VecVirtual {
		p, q := YMM(), YMM()
		VMULPD(y[j], x[i], p)
		VMULPD(x[j], y[i], q)
		VSUBPD(q, p, p)
		return p
	}
	return cross(c, b), cross(a, c), cross(b, a)
}

// inside sets a bit for each triangle that the line of the ray passes through;
// the zero flag says that there is none.
func (w *walk) inside(u, v, edge reg.VecVirtual, mask reg.GPVirtual) {
	low, high, zero := YMM(), YMM(), YMM()
	VXORPD(zero, zero, zero)
	VMINPD(v, u, low)
	VMINPD(edge, low, low)
	VMAXPD(v, u, high)
	VMAXPD(edge, high, high)
	const below, above = 17, 30 // ordered, quiet
	VCMPPD(Imm(below), zero, low, low)
	VCMPPD(Imm(above), zero, high, high)
	VANDPD(high, low, low)
	VMOVMSKPD(low, mask)
	XORL(Imm(15), mask)
}

// distances returns the sums of the edge functions and the distances along the ray.
func (w *walk) distances(s gotypes.Component, u, v, edge reg.VecVirtual, z [3]reg.VecVirtual) (det, dist reg.VecVirtual) {
	det, dist = YMM(), YMM()
	VADDPD(v, u, det)
	VADDPD(edge, det, det)
	VMULPD(z[0], u, dist)
	VMULPD(z[1], v, v)
	VADDPD(v, dist, dist)
	VMULPD(z[2], edge, edge)
	VADDPD(edge, dist, dist)
	ratio := YMM()
	VBROADCASTSD(address(s.Field("zRatio")), ratio)
	VMULPD(ratio, dist, dist)
	VDIVPD(det, dist, dist)
	return det, dist
}

// keep takes the nearest of the triangles met, of equals the one with the lowest
// number, if it beats the shot's hit so far.
func (w *walk) keep(s gotypes.Component, block, mask reg.GPVirtual, det, dist reg.VecVirtual) {
	tris := Mem{Base: block, Disp: 3 * axisRows}
	if w.anyHit {
		Comment("Any will do.")
		lane := GP64()
		TZCNTL(mask, lane.As32())
		tri := GP32()
		MOVL(tris.Idx(lane, 4), tri)
		MOVL(tri, address(s.Field("tri")))
		JMP(LabelRef("done"))
		return
	}
	VMOVUPD(dist, w.dists)
	back, zero := GP32(), YMM()
	VXORPD(zero, zero, zero)
	const below = 17
	VCMPPD(Imm(below), zero, det, zero)
	VMOVMSKPD(zero, back)

	lane, tri, best := GP64(), GP32(), XMM()
	Label("lane")
	TZCNTL(mask, lane.As32())
	VMOVSD(w.dists.Idx(lane, 8), best)
	MOVL(tris.Idx(lane, 4), tri)
	VUCOMISD(address(s.Field("farMM")), best)
	JHI(LabelRef("next"))
	JNE(LabelRef("closer"))
	CMPL(tri, address(s.Field("tri")))
	JCC(LabelRef("next"))
	Label("closer")
	VMOVSD(best, address(s.Field("farMM")))
	MOVL(tri, address(s.Field("tri")))
	bit := GP32()
	MOVL(back, bit)
	SHRXL(lane.As32(), bit, bit)
	ANDL(Imm(1), bit)
	MOVB(bit.As8(), address(s.Field("back")))
	Label("next")
	BLSRL(mask, mask)
	JNE(LabelRef("lane"))
	w.shorten(s)
}

// shorten sets how far, from the moved start, boxes still matter; as shot.reached.
func (w *walk) shorten(s gotypes.Component) {
	far, zero, reach, most := XMM(), XMM(), GP32(), GP32()
	VMOVSD(address(s.Field("farMM")), far)
	VSUBSD(address(s.Field("startMM")), far, far)
	VXORPD(zero, zero, zero)
	VMAXSD(zero, far, far)
	VCVTSD2SS(far, far, far)
	VMOVD(far, reach)
	ADDL(Imm(slabUlps), reach)
	MOVL(U32(infinite), most)
	CMPL(reach, most)
	CMOVLHI(most, reach)
	MOVL(reach, address(s.Field("reach")))
}
