package drop

import (
	"cmp"
	"context"
	"math"
	"slices"

	"aftbay/geom"
)

// node is a block of the map, judged at its middle place. Rows are shifts,
// columns drops.
type node struct {
	rows, cols [2]int // half open
	maybe      []candidate
	marginMM   float64 // −Inf where parts overlap, at most the cap
	limit      int     // index of what binds, −1 for nothing
}

// candidate is a pair that could bind somewhere in a block: its margin where it
// was last known, and how far from there to any other place it can fall.
type candidate struct {
	pair    int32
	known   bool // false: nothing is known, or an overlap, which bounds nothing
	knownMM float64
	at      geom.Vec
}

// lowMM returns the least margin that a candidate can have at a place.
func (c *candidate) lowMM(shift geom.Vec) float64 {
	if !c.known {
		return math.Inf(-1)
	}
	return c.knownMM - shift.Sub(c.at).Len()
}

func (mp *mapper) root() *node {
	n := &node{rows: [2]int{0, len(mp.m.ShiftsMM)}, cols: [2]int{0, len(mp.m.DropsMM)}}
	for i := range mp.pairs {
		n.maybe = append(n.maybe, candidate{pair: int32(i)})
	}
	return n
}

func (n *node) middle() (row, col int) {
	return (n.rows[0] + n.rows[1]) / 2, (n.cols[0] + n.cols[1]) / 2
}

// shift returns where the group stands at a place of the map.
func (mp *mapper) shift(row int, dropMM float64) geom.Vec {
	return geom.Vec{mp.m.ShiftsMM[row], 0, -dropMM}
}

// reachMM returns the largest way from the middle of a block to a place in it.
func (mp *mapper) reachMM(n *node) float64 {
	row, col := n.middle()
	at := mp.shift(row, mp.m.DropsMM[col])
	most := 0.0
	for _, r := range [2]int{n.rows[0], n.rows[1] - 1} {
		for _, c := range [2]int{n.cols[0], n.cols[1] - 1} {
			most = math.Max(most, mp.shift(r, mp.m.DropsMM[c]).Sub(at).Len())
		}
	}
	return most
}

// judge finds the margin at the middle of a block, and what could bind in it.
func (mp *mapper) judge(ctx context.Context, n *node) error {
	row, col := n.middle()
	dropMM := mp.m.DropsMM[col]
	mp.judgeFixed(n, row, dropMM)
	reachMM := mp.reachMM(n)
	if err := mp.judgePairs(ctx, n, mp.shift(row, dropMM), reachMM); err != nil {
		return err
	}
	shift := mp.shift(row, dropMM)
	// A single place lends its candidates to the search of the border beside it.
	reachMM = math.Max(reachMM, mp.m.DropsMM[1]-mp.m.DropsMM[0])
	n.maybe = slices.DeleteFunc(n.maybe, func(c candidate) bool { return c.lowMM(shift) > mapCapMM+reachMM })
	return nil
}

// judgeFixed starts with the limits that need no mesh.
func (mp *mapper) judgeFixed(n *node, row int, dropMM float64) {
	n.marginMM, n.limit = mapCapMM, -1
	beyond := mp.beyond()
	for i := range mp.fixed[row] {
		l := &mp.fixed[row][i]
		if mm := leftMM(l, dropMM, beyond); mm < n.marginMM {
			n.marginMM, n.limit = mm, mp.number[l.key]
		}
	}
}

// judgePairs goes through the candidates, the likeliest first, and asks those
// that can bind at the place or, as far as reachMM away, in the block.
func (mp *mapper) judgePairs(ctx context.Context, n *node, shift geom.Vec, reachMM float64) error {
	n.maybe = slices.Clone(n.maybe)
	slices.SortStableFunc(n.maybe, func(a, b candidate) int { return cmp.Compare(a.lowMM(shift), b.lowMM(shift)) })
	for i := range n.maybe {
		c := &n.maybe[i]
		if !mp.mayBind(c, n.marginMM, shift, reachMM) {
			continue
		}
		mm, err := mp.margins[c.pair](ctx, shift, mapCapMM+2*reachMM)
		if err != nil {
			return err
		}
		c.known, c.knownMM, c.at = !math.IsInf(mm, -1), mm, shift
		if mm < n.marginMM {
			n.marginMM, n.limit = mm, int(c.pair)
		}
	}
	return nil
}

// mayBind reports whether a candidate could lower the margin at a place, or,
// for a block, at a place in it. A pair that could overlap is always asked: no
// margin tells how deep.
func (mp *mapper) mayBind(c *candidate, marginMM float64, shift geom.Vec, reachMM float64) bool {
	lowMM := c.lowMM(shift)
	if reachMM > 0 {
		return lowMM < math.Max(marginMM, 0)+2*reachMM
	}
	return lowMM < marginMM || !math.IsInf(marginMM, -1) && lowMM <= -mp.pairs[c.pair].Rule.LeastMM
}

// paint fills the block with what was found in its middle.
func (mp *mapper) paint(n *node) {
	for row := n.rows[0]; row < n.rows[1]; row++ {
		for col := n.cols[0]; col < n.cols[1]; col++ {
			mp.m.MarginMM[row][col], mp.m.Limit[row][col] = finite(n.marginMM), n.limit
		}
	}
	mp.m.StepMM = [2]float64{
		float64(n.cols[1]-n.cols[0]) * (mp.m.DropsMM[1] - mp.m.DropsMM[0]),
		float64(n.rows[1]-n.rows[0]) * (mp.m.ShiftsMM[1] - mp.m.ShiftsMM[0]),
	}
	if n.rows[1]-n.rows[0] == 1 && n.cols[1]-n.cols[0] == 1 {
		mp.keep(n)
	}
}

// split returns the parts of a block, up to three each way, so that the middle
// of the middle one is known already; none for a single place.
func (n *node) split() []*node {
	if n.rows[1]-n.rows[0] == 1 && n.cols[1]-n.cols[0] == 1 {
		return nil
	}
	var out []*node
	for _, rows := range thirds(n.rows) {
		for _, cols := range thirds(n.cols) {
			out = append(out, &node{rows: rows, cols: cols, maybe: n.maybe})
		}
	}
	return out
}

func thirds(span [2]int) [][2]int {
	n := span[1] - span[0]
	var out [][2]int
	for i := range 3 {
		if a, b := span[0]+n*i/3, span[0]+n*(i+1)/3; b > a {
			out = append(out, [2]int{a, b})
		}
	}
	return out
}

func countLeft(nodes []*node) int {
	left := 0
	for _, n := range nodes {
		left += (n.rows[1] - n.rows[0]) * (n.cols[1] - n.cols[0])
	}
	return left
}
