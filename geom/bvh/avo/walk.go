package main

import (
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/gotypes"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const (
	// stackEntries is bvh.walkStack: what a walk may put aside.
	stackEntries = 656
	// slabUlps is bvh.slabUlps.
	slabUlps = 16

	axisBytes = 64 // of a node's planes along one axis: eight low, eight high
	sideBytes = 32 // from low planes to high ones
	sideShift = 5  // log2 of sideBytes
	lineShift = 6  // log2 of a line, by which nodes and blocks are numbered
	rowBytes  = 32 // of a block: one coordinate of one corner of four triangles
	axisRows  = 96 // of a block: one coordinate of all corners

	nearShift = 32         // a key holds the near distance above this bit, the child below
	infinite  = 0x7f800000 // bits of the float32 infinity
)

// walk is one function being written. The box registers live from node to node
// and are loaded again after each leaf.
type walk struct {
	anyHit        bool
	leave         string            // label behind the test of a block
	nearAt, farAt [3]reg.GPVirtual  // byte offsets of the planes met first and last
	inv           [3]reg.VecVirtual // 1/direction
	nearAdd       [3]reg.VecVirtual // added to plane·inv
	farAdd        [3]reg.VecVirtual
	zero, slack   reg.VecVirtual
	reach         reg.VecVirtual // where boxes end to matter

	top      reg.GPVirtual // number of keys put aside
	current  reg.GPVirtual // child to be looked at next
	stack    Mem           // keys put aside: near distance and child
	nears    Mem           // near distances of the boxes of a node
	dists    Mem           // distances of the triangles of a leaf
	farthest Mem           // key that no box worth entering exceeds
	slackAt  Mem
}

// newWalk writes one walk.
func newWalk(name string, anyHit bool, slackAt Mem, doc ...string) {
	TEXT(name, 0, "func(nodes *wideNode, blocks *block, s *shot)")
	Doc(doc...)
	Pragma("noescape")
	w := &walk{anyHit: anyHit, leave: "leave", slackAt: slackAt, top: GP64(), current: GP64()}
	w.stack = AllocLocal(8 * stackEntries)
	w.nears, w.dists, w.farthest = AllocLocal(32), AllocLocal(32), AllocLocal(8)

	w.begin()
	w.visit()
	w.leaf()
	w.pop()
	Label("done")
	VZEROUPPER()
	RET()
}

// begin loads the shot and starts at the root.
func (w *walk) begin() {
	s := Dereference(Param("s"))
	Comment("The sign of the direction tells which plane of an axis is met first.")
	for k := range 3 {
		w.nearAt[k], w.farAt[k] = GP64(), GP64()
		near, far := w.nearAt[k].As32(), w.farAt[k].As32()
		MOVL(address(s.Field("inv").Index(k)), near)
		SHRL(Imm(31), near)
		SHLL(Imm(sideShift), near)
		ADDL(Imm(uint64(axisBytes*k)), near)
		MOVL(near, far)
		XORL(Imm(sideBytes), far)
		w.inv[k], w.nearAdd[k], w.farAdd[k] = YMM(), YMM(), YMM()
	}
	w.zero, w.slack, w.reach = YMM(), YMM(), YMM()
	XORL(w.top.As32(), w.top.As32())
	XORL(w.current.As32(), w.current.As32())
	w.loadBoxes(s)
}

// loadBoxes fills the box registers from the shot.
func (w *walk) loadBoxes(s gotypes.Component) {
	for k := range 3 {
		VBROADCASTSS(address(s.Field("inv").Index(k)), w.inv[k])
		VBROADCASTSS(address(s.Field("nearAdd").Index(k)), w.nearAdd[k])
		VBROADCASTSS(address(s.Field("farAdd").Index(k)), w.farAdd[k])
	}
	VXORPS(w.zero, w.zero, w.zero)
	VBROADCASTSS(w.slackAt, w.slack)
	VBROADCASTSS(address(s.Field("reach")), w.reach)

	Comment("A key with the greatest child is above all keys as near as the reach.")
	key := GP64()
	MOVL(address(s.Field("reach")), key.As32())
	INCQ(key)
	SHLQ(Imm(nearShift), key)
	DECQ(key)
	MOVQ(key, w.farthest)
}

// address returns where a field lies.
func address(c gotypes.Component) Mem {
	b, err := c.Resolve()
	if err != nil {
		panic(err) // the generator and the types it reads do not fit together
	}
	return b.Addr
}

// argument returns where an argument lies.
func argument(name string) Mem { return address(Param(name)) }

// lineOf turns a child into where it lies from the first node or block.
func lineOf(child reg.Register) {
	SHLQ(Imm(33), child)
	SHRQ(Imm(33-lineShift), child)
}
