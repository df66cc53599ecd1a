package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// visit tests the eight boxes of the current node and goes on to the nearest
// one met, the others put aside, the nearest last.
func (w *walk) visit() {
	Label("visit")
	node := GP64()
	MOVQ(w.current, node)
	SHLQ(Imm(lineShift), node)
	ADDQ(argument("nodes"), node)
	mask := w.boxes(node)
	kids := Mem{Base: node, Disp: 3 * axisBytes}

	Comment("None met, or one: no order to find.")
	TESTL(mask, mask)
	JE(LabelRef("pop"))
	lane := GP64()
	w.takeChild(mask, lane, kids, w.current)
	JE(LabelRef("dispatch"))
	if w.anyHit {
		w.putAll(mask, lane, kids)
	} else {
		w.putSorted(mask, lane, kids)
	}

	Label("dispatch")
	Comment("Cuts off the near distance and looks for the mark of a block.")
	ANDL(I8(-1), w.current.As32())
	JNS(LabelRef("visit"))
}

// boxes returns a bit for each box that the shot enters before it leaves it and
// within its reach, and keeps where it enters.
func (w *walk) boxes(node reg.Register) reg.Register {
	Comment("Where the planes are met: plane * inv + add, the near ones and the far ones.")
	enter := w.planes(node, w.nearAt, w.nearAdd, func(a, b reg.VecVirtual) { VMAXPS(b, a, a) })
	VMAXPS(w.zero, enter, enter)
	leave := w.planes(node, w.farAt, w.farAdd, func(a, b reg.VecVirtual) { VMINPS(b, a, a) })

	Comment("The slack is added in units of the last place. It makes an empty lane's")
	Comment("-infinity no number, which the minimum passes on and the comparison refuses.")
	VPADDD(w.slack, leave, leave)
	VMINPS(leave, w.reach, leave)
	VMOVUPS(enter, w.nears)
	const notAbove = 2 // ordered
	VCMPPS(Imm(notAbove), leave, enter, leave)
	mask := GP32()
	VMOVMSKPS(leave, mask)
	return mask
}

// planes returns the extreme over the axes of where planes are met.
func (w *walk) planes(node reg.Register, at [3]reg.GPVirtual, add [3]reg.VecVirtual, extreme func(a, b reg.VecVirtual)) reg.VecVirtual {
	var met [3]reg.VecVirtual
	for k := range met {
		met[k] = YMM()
		VMOVUPS(Mem{Base: node, Index: at[k], Scale: 1}, met[k])
		VFMADD213PS(add[k], w.inv[k], met[k])
		if k > 0 {
			extreme(met[0], met[k])
		}
	}
	return met[0]
}

// takeChild reads the child of the lowest lane in the mask and takes the lane
// out; the zero flag says that none is left.
func (w *walk) takeChild(mask, lane reg.Register, kids Mem, child reg.GPVirtual) {
	TZCNTL(mask, lane.(reg.GPVirtual).As32())
	MOVL(kids.Idx(lane, 4), child.As32())
	BLSRL(mask, mask)
}

// takeKey is takeChild with the near distance above the child.
func (w *walk) takeKey(mask, lane reg.Register, kids Mem, key reg.GPVirtual) {
	TZCNTL(mask, lane.(reg.GPVirtual).As32())
	w.addNear(lane, key)
	child := GP64()
	MOVL(kids.Idx(lane, 4), child.As32())
	ORQ(child, key)
	BLSRL(mask, mask)
}

// addNear sets key to the near distance of a lane, the child left out.
func (w *walk) addNear(lane reg.Register, key reg.GPVirtual) {
	MOVL(w.nears.Idx(lane, 4), key.As32())
	SHLQ(Imm(nearShift), key)
}

// put puts a key aside.
func (w *walk) put(key reg.Register) {
	MOVQ(key, w.stack.Idx(w.top, 8))
	INCQ(w.top)
}

// putAll puts aside all boxes but the last, which becomes the current one.
func (w *walk) putAll(mask, lane reg.Register, kids Mem) {
	Label("more")
	w.put(w.current)
	w.takeChild(mask, lane, kids, w.current)
	JNE(LabelRef("more"))
}

// putSorted makes the nearest box current and puts the others aside.
func (w *walk) putSorted(mask, lane reg.Register, kids Mem) {
	// lane still holds that of the current child.
	first, second, third := GP64(), GP64(), GP64()
	w.addNear(lane, first)
	ORQ(w.current, first)
	w.takeKey(mask, lane, kids, second)
	JNE(LabelRef("three"))

	Comment("Two boxes.")
	order(first, second)
	w.put(second)
	w.fetch(second)
	MOVQ(first, w.current)
	JMP(LabelRef("dispatch"))

	Label("three")
	w.takeKey(mask, lane, kids, third)
	order(first, second)
	order(second, third)
	order(first, second)
	w.put(third)
	w.put(second)
	MOVQ(first, w.current)
	TESTL(mask, mask)
	JE(LabelRef("dispatch"))

	Comment("Four boxes or more: the rest is sunk into those put aside, one by one.")
	start, place, key := GP64(), GP64(), third
	LEAQ(Mem{Base: w.top, Disp: -2}, start)
	w.put(first)
	Label("many")
	w.takeKey(mask, lane, kids, key)
	MOVQ(w.top, place)
	INCQ(w.top)
	Label("sink")
	CMPQ(place, start)
	JE(LabelRef("sunk"))
	MOVQ(w.stack.Offset(-8).Idx(place, 8), second)
	CMPQ(second, key)
	JHI(LabelRef("sunk"))
	MOVQ(second, w.stack.Idx(place, 8))
	DECQ(place)
	JMP(LabelRef("sink"))
	Label("sunk")
	MOVQ(key, w.stack.Idx(place, 8))
	TESTL(mask, mask)
	JNE(LabelRef("many"))
	DECQ(w.top)
	MOVQ(w.stack.Idx(w.top, 8), w.current)
	JMP(LabelRef("dispatch"))
}

// fetch asks the memory for what a key put aside leads to.
func (w *walk) fetch(key reg.GPVirtual) {
	at, from := GP64(), GP64()
	MOVQ(argument("nodes"), from)
	TESTL(key.As32(), key.As32())
	CMOVQMI(argument("blocks"), from)
	MOVL(key.As32(), at.As32())
	lineOf(at)
	for line := range 4 {
		PREFETCHT0(Mem{Base: from, Index: at, Scale: 1, Disp: 64 * line})
	}
}

// order swaps two keys if the first is greater.
func order(low, high reg.GPVirtual) {
	held := GP64()
	MOVQ(low, held)
	CMPQ(high, low)
	CMOVQCS(high, low)
	CMOVQCS(held, high)
}

// pop takes the last key put aside whose box is still in reach.
func (w *walk) pop() {
	Label("pop")
	SUBQ(Imm(1), w.top)
	JCS(LabelRef("done"))
	if w.anyHit {
		MOVQ(w.stack.Idx(w.top, 8), w.current)
		JMP(LabelRef("dispatch"))
		return
	}
	key := GP64()
	MOVQ(w.stack.Idx(w.top, 8), key)
	CMPQ(key, w.farthest)
	JHI(LabelRef("pop"))
	MOVQ(key, w.current)
	JMP(LabelRef("dispatch"))
}
