package bvh

import "math/bits"

// raysByOctets reports whether rays walk the octets, eight boxes at a time, with
// the same hits as by the nodes: the processor can, and no product of float32
// leaves its range.
func (t *Tree) raysByOctets() bool {
	return fast && len(t.octets) > 0 && t.reachMM < wideMostMM
}

// octetStack is room for all children but one of each level of octets.
const octetStack = (mostOctets+1)*(lanes-1) + 1

// firstOctet is first by the octets.
func (s *shot) firstOctet(t *Tree) {
	var stack [octetStack]waiting
	var enter [lanes]float32
	s.widen()
	top := 1
	for top > 0 {
		top--
		if stack[top].near > s.reach {
			continue
		}
		o := &t.octets[stack[top].node]
		start := top
		for met := rayOctet(o, s, &enter); met != 0; met &= met - 1 {
			lane := bits.TrailingZeros32(met) & (lanes - 1)
			near := bitsOf(enter[lane])
			switch {
			case near > s.reach:
			case o.count[lane] > 0:
				if s.leaf(t, o.at[lane], o.count[lane]) {
					if s.any {
						return
					}
					s.reach = s.reached()
				}
			default: // the nearest on top
				k := top
				for ; k > start && stack[k-1].near < near; k-- {
					stack[k] = stack[k-1]
				}
				stack[k] = waiting{o.at[lane], near}
				top++
			}
		}
	}
}

// eachOctet is each by the octets.
func (s *shot) eachOctet(t *Tree, see func(c Crossing) bool) {
	var stack [octetStack]int32
	var enter [lanes]float32
	s.widen()
	top := 1
	for top > 0 {
		top--
		o := &t.octets[stack[top]]
		for met := rayOctet(o, s, &enter); met != 0; met &= met - 1 {
			lane := bits.TrailingZeros32(met) & (lanes - 1)
			if o.count[lane] == 0 {
				stack[top] = o.at[lane]
				top++
				continue
			}
			for i := o.at[lane]; i < o.at[lane]+o.count[lane]; i++ {
				if c, near := s.crossing(t, i); near && !see(c) {
					return
				}
			}
		}
	}
}
