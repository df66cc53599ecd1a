package main

import (
	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/gotypes"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const (
	// volleyAside is bvh.volleyAside: what a ray of a volley may put aside.
	volleyAside = 144
	// volleyFlight is how many rays are in flight at once.
	volleyFlight = 20

	entryBytes = 4                        // of a near distance or a child put aside
	asideBytes = entryBytes * volleyAside // from a ray's near distances to its children
	slotBytes  = 2 * asideBytes
	noChild    = 0xffffffff // below all that a ray has put aside: the ray has ended
)

// volley is the walk of many shots at once being written. Each in turn looks at
// one node, or one block, and asks the memory for what it looks at next; while
// that is on its way the others have their turn. No step waits for a branch that
// the processor can hardly foresee.
type volley struct {
	walk
	nodes, blocks        reg.GPVirtual // where they begin
	next, end            Mem           // the next shot to be started, and where the last ends
	atNode, atBlock      Mem           // the shots that look at a node next, and at a block
	nodeCount, leafCount reg.GPVirtual
	lanesAt, turnedAt    Mem // the numbers of the lanes, up and down
	turned               reg.VecVirtual
	asides               Mem // for each in flight the near distances put aside, then the children
}

// near and child return where the last thing put aside lies.
func (v *volley) near(top reg.Register) Mem  { return v.asides.Offset(-entryBytes).Idx(top, 1) }
func (v *volley) child(top reg.Register) Mem { return v.near(top).Offset(asideBytes) }

// newVolley writes the walk.
func newVolley(slackAt Mem) {
	lanesAt := GLOBL("laneNumbers", attr.RODATA|attr.NOPTR)
	for k := range 8 {
		DATA(4*k, U32(k))
	}
	turnedAt := GLOBL("turnedLanes", attr.RODATA|attr.NOPTR)
	for k := range 8 {
		DATA(4*k, U32(7-k))
	}
	TEXT("volleyWide", 0, "func(nodes *wideNode, blocks *block, flights *flight, count int)")
	Doc("volleyWide finds the nearest hits of one or more shots, as castWide does for",
		"one, many at once, by AVX2 and FMA.")
	Pragma("noescape")
	v := &volley{walk: walk{slackAt: slackAt, leave: "tested"}, lanesAt: lanesAt, turnedAt: turnedAt}
	v.asides = AllocLocal(volleyFlight * slotBytes)
	v.atNode, v.atBlock = AllocLocal(8*(volleyFlight+1)), AllocLocal(8*(volleyFlight+1))
	v.dists, v.next, v.end = AllocLocal(32), AllocLocal(8), AllocLocal(8)
	v.start()
	v.atNodes()
	v.atBlocks()
	VZEROUPPER()
	RET()
}

// shot returns the shot that a register points to.
func shotAt(at reg.Register) gotypes.Component { return Param("flights").Dereference(at) }

// start puts the first shots at the root.
func (v *volley) start() {
	v.nodes, v.blocks = GP64(), GP64()
	Load(Param("nodes"), v.nodes)
	Load(Param("blocks"), v.blocks)
	v.nodeCount, v.leafCount = GP64(), GP64()
	XORL(v.nodeCount.As32(), v.nodeCount.As32())
	XORL(v.leafCount.As32(), v.leafCount.As32())
	s, end, slot := GP64(), GP64(), GP64()
	Load(Param("flights"), s)
	Load(Param("count"), end)
	IMUL3Q(U32(flightBytes), end, end)
	ADDQ(s, end)
	MOVQ(end, v.end)
	MOVL(U32(entryBytes), slot.As32())
	Label("start")
	Comment("Below all lies what ends a ray, as near as can be.")
	MOVL(U32(0), v.near(slot))
	MOVL(U32(noChild), v.child(slot))
	v.launch(s, slot)
	ADDQ(U32(slotBytes), slot)
	ADDQ(U32(flightBytes), s)
	CMPQ(v.nodeCount, Imm(volleyFlight))
	JEQ(LabelRef("started"))
	CMPQ(s, end)
	JCS(LabelRef("start"))
	Label("started")
	MOVQ(s, v.next)
}

// launch puts a shot at the root, in a slot of which only the end is taken.
func (v *volley) launch(s, slot reg.GPVirtual) {
	top := GP64()
	LEAQ(Mem{Base: slot, Disp: entryBytes}, top)
	MOVL(U32(0), v.near(top))
	MOVL(U32(0), v.child(top))
	MOVL(top.As32(), address(shotAt(s).Field("top")))
	MOVQ(s, v.atNode.Idx(v.nodeCount, 8))
	INCQ(v.nodeCount)
}

// ready takes the last thing put aside of a shot; where the reach has shrunk
// below it, it goes to the label.
func (v *volley) ready(s reg.GPVirtual, top, child reg.GPVirtual, stale string) {
	key := GP32()
	MOVL(address(shotAt(s).Field("top")), top.As32())
	MOVL(v.near(top), key)
	MOVL(v.child(top), child.As32())
	CMPL(key, address(shotAt(s).Field("reach")))
	JHI(LabelRef(stale))
}

// cull takes away all last things put aside that are beyond the reach.
func (v *volley) cull(s reg.GPVirtual, top reg.GPVirtual, label string) {
	reach := GP32()
	MOVL(address(shotAt(s).Field("reach")), reach)
	Label(label)
	SUBQ(Imm(entryBytes), top)
	CMPL(reach, v.near(top))
	JCS(LabelRef(label))
}

// sort puts a shot among those that look at a node next, or at a block, and asks
// the memory for it.
func (v *volley) sort(s, top, child reg.GPVirtual) {
	isLeaf, from := GP64(), GP64()
	MOVL(top.As32(), address(shotAt(s).Field("top")))
	MOVQ(s, v.atNode.Idx(v.nodeCount, 8))
	MOVQ(s, v.atBlock.Idx(v.leafCount, 8))
	MOVL(child.As32(), isLeaf.As32())
	SHRL(Imm(31), isLeaf.As32())
	ADDQ(isLeaf, v.leafCount)
	SUBQ(isLeaf, v.nodeCount)
	INCQ(v.nodeCount)
	Comment("The address is that of a line of nodes or of blocks.")
	MOVQ(v.nodes, from)
	TESTL(child.As32(), child.As32())
	CMOVQMI(v.blocks, from)
	lineOf(child)
	for line := range 4 {
		PREFETCHT0(Mem{Base: from, Index: child, Scale: 1, Disp: 64 * line})
	}
}

// atNodes lets each shot at a node look at it.
func (v *volley) atNodes() {
	Label("nodes")
	left, at := GP64(), GP64()
	MOVQ(v.nodeCount, left)
	XORL(v.nodeCount.As32(), v.nodeCount.As32())
	TESTQ(left, left)
	JEQ(LabelRef("blocks"))
	lanes, notLane := YMM(), YMM()
	v.zero, v.slack = YMM(), YMM()
	VXORPS(v.zero, v.zero, v.zero)
	VBROADCASTSS(v.slackAt, v.slack)
	v.turned = YMM()
	VMOVDQU(v.lanesAt, lanes)
	VMOVDQU(v.turnedAt, v.turned)
	VPCMPEQD(notLane, notLane, notLane)
	VPSLLD(Imm(3), notLane, notLane)
	LEAQ(v.atNode, at)
	LEAQ(Mem{Base: at, Index: left, Scale: 8}, left)
	Label("node")
	s, top, child := GP64(), GP64(), GP64()
	MOVQ(Mem{Base: at}, s)
	ADDQ(Imm(8), at)
	v.ready(s, top, child, "staleNode")
	below := GP64()
	MOVL(v.child(top).Offset(-entryBytes), below.As32())
	keys, kids, count := v.look(s, child, lanes, notLane)
	Comment("What is met goes aside, farthest first, in the place of the node.")
	VPERMD(kids, keys, kids)
	VPAND(notLane, keys, keys)
	VMOVDQU(keys, v.near(top))
	VMOVDQU(kids, v.child(top))
	LEAQ(Mem{Base: top, Index: count, Scale: entryBytes, Disp: -entryBytes}, top)
	Comment("The nearest is next, or what was aside: not by way of the memory.")
	last := YMM()
	DECQ(count)
	VMOVD(count.As32(), last.AsX())
	VPERMD(kids, last, kids)
	VMOVD(kids.AsX(), child.As32())
	CMOVQMI(below, child)
	Label("sortNode")
	v.sort(s, top, child)
	CMPQ(at, left)
	JNE(LabelRef("node"))
	JMP(LabelRef("blocks"))

	Label("staleNode")
	v.cull(s, top, "cullNode")
	MOVL(v.child(top), child.As32())
	JMP(LabelRef("sortNode"))
}

// look tests the boxes of a node and returns those met, farthest first, none in
// the lanes behind them: where the shot enters them, above the number of the lane.
func (v *volley) look(s, child reg.GPVirtual, lanes, notLane reg.VecVirtual) (keys, kids reg.VecVirtual, count reg.GPVirtual) {
	node := GP64()
	MOVL(child.As32(), node.As32())
	SHLQ(Imm(lineShift), node)
	ADDQ(v.nodes, node)
	shot := shotAt(s)
	var at [3]reg.GPVirtual
	for k := range at {
		at[k] = GP64()
		MOVL(address(shot.Field("nearAt").Index(k)), at[k].As32())
		v.inv[k] = YMM()
		VBROADCASTSS(address(shot.Field("inv").Index(k)), v.inv[k])
	}
	plane := func(add string, k int) reg.VecVirtual {
		met := YMM()
		VBROADCASTSS(address(shot.Field(add).Index(k)), met)
		VFMADD231PS(Mem{Base: node, Index: at[k], Scale: 1}, v.inv[k], met)
		return met
	}
	enter := plane("nearAdd", 0)
	for k := 1; k < 3; k++ {
		VMAXPS(plane("nearAdd", k), enter, enter)
	}
	VMAXPS(v.zero, enter, enter)
	for k := range at {
		XORQ(Imm(sideBytes), at[k])
	}
	leave := plane("farAdd", 0)
	for k := 1; k < 3; k++ {
		VMINPS(plane("farAdd", k), leave, leave)
	}
	Comment("As in the walk of one shot; all ones where not met.")
	VPADDD(v.slack, leave, leave)
	reach := YMM()
	VBROADCASTSS(address(shot.Field("reach")), reach)
	VMINPS(leave, reach, leave)
	const notNotAbove = 6 // or without order
	VCMPPS(Imm(notNotAbove), leave, enter, leave)
	keys, kids, count = enter, YMM(), GP64()
	VMOVMSKPS(leave, count.As32())
	XORL(U32(255), count.As32())
	POPCNTL(count.As32(), count.As32())
	VPAND(notLane, keys, keys)
	VPOR(lanes, keys, keys)
	VPOR(leave, keys, keys)
	v.order(keys)
	VMOVDQU(Mem{Base: node, Disp: 3 * axisBytes}, kids)
	return keys, kids, count
}

// order sorts eight whole numbers, the greatest first.
//
// Source: Batcher's bitonic sorter, with the second half of each merge turned.
func (v *volley) order(x reg.VecVirtual) {
	const neighbours, turnedFour, acrossTwo = 0xb1, 0x1b, 0x4e
	exchange := func(shuffle func(to reg.VecVirtual), low uint8) {
		other, least := YMM(), YMM()
		shuffle(other)
		VPMINSD(other, x, least)
		VPMAXSD(other, x, x)
		VPBLENDD(Imm(uint64(low)), least, x, x)
	}
	within := func(order uint8) func(to reg.VecVirtual) {
		return func(to reg.VecVirtual) { VPSHUFD(Imm(uint64(order)), x, to) }
	}
	exchange(within(neighbours), 0xaa)
	exchange(within(turnedFour), 0xcc)
	exchange(within(neighbours), 0xaa)
	exchange(func(to reg.VecVirtual) { VPERMD(x, v.turned, to) }, 0xf0)
	exchange(within(acrossTwo), 0xcc)
	exchange(within(neighbours), 0xaa)
}

// atBlocks lets each shot at a block test its triangles.
func (v *volley) atBlocks() {
	Label("blocks")
	left, at := GP64(), GP64()
	MOVQ(v.leafCount, left)
	XORL(v.leafCount.As32(), v.leafCount.As32())
	TESTQ(left, left)
	JEQ(LabelRef("blocksDone"))
	LEAQ(v.atBlock, at)
	LEAQ(Mem{Base: at, Index: left, Scale: 8}, left)
	Label("block")
	s, top, child := GP64(), GP64(), GP64()
	MOVQ(Mem{Base: at}, s)
	ADDQ(Imm(8), at)
	v.ready(s, top, child, "staleBlock")
	CMPL(child.As32(), I32(-1))
	JEQ(LabelRef("ended"))
	v.test(s, child)
	SUBQ(Imm(entryBytes), top)
	MOVL(v.child(top), child.As32())
	Label("sortBlock")
	v.sort(s, top, child)
	Label("nextBlock")
	CMPQ(at, left)
	JNE(LabelRef("block"))
	Label("blocksDone")
	TESTQ(v.nodeCount, v.nodeCount)
	JNE(LabelRef("nodes"))
	TESTQ(v.leafCount, v.leafCount)
	JNE(LabelRef("blocks"))
	JMP(LabelRef("allEnded"))

	Label("staleBlock")
	v.cull(s, top, "cullBlock")
	MOVL(v.child(top), child.As32())
	JMP(LabelRef("sortBlock"))

	Label("ended")
	Comment("The next shot takes the slot.")
	MOVQ(v.next, s)
	CMPQ(s, v.end)
	JEQ(LabelRef("nextBlock"))
	v.launch(s, top)
	ADDQ(U32(flightBytes), s)
	MOVQ(s, v.next)
	JMP(LabelRef("nextBlock"))
	Label("allEnded")
}

// test tests the triangles of a block as the walk of one shot does.
func (v *volley) test(at, child reg.GPVirtual) {
	block := child
	lineOf(block)
	ADDQ(v.blocks, block)
	s := shotAt(at)
	x, y, z := corners(s, block, func(axis string) reg.Register {
		row := GP64()
		MOVQ(address(s.Field(axis+"Row")), row)
		return row
	})
	u, w, uvw := edges(x, y)
	inside := GP32() // not asked by itself: the answer can hardly be foreseen
	v.inside(u, w, uvw, inside)
	v.meet(s, block, inside, u, w, uvw, z)
	Label(v.leave)
}
