package lead

import (
	"math"
	"math/bits"

	"aftbay/geom"
)

// nearby tells which bodies can matter around a place: space in blocks, for each
// the bodies that come into it.
type nearby struct {
	box     geom.Box // of all blocks
	blockMM float64
	size    [3]int
	words   int
	sets    []uint64 // sets[block·words …]: a bit per body
}

const (
	// mostWords bounds the bodies that are told apart; of more, all are asked.
	mostWords = 8
	// mostBlocks bounds the blocks that are joined for one question.
	mostBlocks = 27
)

// set is some of the bodies.
type set [mostWords]uint64

// newNearby lists the bodies that come nearer to a block than what they keep
// and slackMM more. It returns nil where there are too many bodies.
func newNearby(b *bay, box geom.Box, blockMM, slackMM float64) *nearby {
	n := &nearby{box: box, blockMM: blockMM, words: (len(b.bodies) + 63) / 64}
	if n.words > mostWords {
		return nil
	}
	total := 1
	for k := range n.size {
		n.size[k] = max(1, int(math.Ceil((box.Max[k]-box.Min[k])/blockMM)))
		total *= n.size[k]
	}
	n.sets = make([]uint64, total*n.words)
	for i := range b.bodies {
		offMM := b.bodies[i].KeepMM + slackMM + seamMM
		grown := geom.Vec{offMM, offMM, offMM}
		low, high := n.blockOf(b.bodies[i].Box.Min.Sub(grown)), n.blockOf(b.bodies[i].Box.Max.Add(grown))
		n.each(low, high, func(block int) { n.sets[block*n.words+i/64] |= 1 << (i % 64) })
	}
	return n
}

// seamMM keeps rounding at the seams of blocks on the safe side.
const seamMM = 1e-6

// blockOf returns the block of a point, which may lie outside.
func (n *nearby) blockOf(p geom.Vec) [3]int {
	var at [3]int
	for k := range at {
		at[k] = int(math.Floor((p[k] - n.box.Min[k]) / n.blockMM))
	}
	return at
}

// each calls see for the blocks from low to high that there are.
func (n *nearby) each(low, high [3]int, see func(block int)) {
	for x := max(0, low[0]); x <= min(high[0], n.size[0]-1); x++ {
		for y := max(0, low[1]); y <= min(high[1], n.size[1]-1); y++ {
			for z := max(0, low[2]); z <= min(high[2], n.size[2]-1); z++ {
				see((x*n.size[1]+y)*n.size[2] + z)
			}
		}
	}
}

// in joins what comes into the blocks of a box; ok is false where that is not
// known. n may be nil.
func (n *nearby) in(box geom.Box) (found set, ok bool) {
	if n == nil {
		return found, false
	}
	blocks := 1
	low, high := n.blockOf(box.Min), n.blockOf(box.Max)
	for k := range 3 {
		if box.Min[k] < n.box.Min[k] || box.Max[k] > n.box.Max[k] {
			return found, false
		}
		high[k] = min(high[k], n.size[k]-1)
		blocks *= high[k] - low[k] + 1
	}
	if blocks > mostBlocks {
		return found, false
	}
	for x := low[0]; x <= high[0]; x++ {
		for y := low[1]; y <= high[1]; y++ {
			for z := low[2]; z <= high[2]; z++ {
				at := ((x*n.size[1]+y)*n.size[2] + z) * n.words
				for w, bodies := range n.sets[at : at+n.words] {
					found[w] |= bodies
				}
			}
		}
	}
	return found, true
}

// take returns the first body of a set and takes it out.
func (s *set) take() (body int, ok bool) {
	for w := range s {
		if s[w] != 0 {
			body = 64*w + bits.TrailingZeros64(s[w])
			s[w] &= s[w] - 1
			return body, true
		}
	}
	return 0, false
}
