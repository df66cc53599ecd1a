package bvh

import "math"

const (
	// octetDepth is the level of octets from which the tallest child is opened
	// first: three levels of nodes then go into one of octets.
	octetDepth = (maxDepth + 2) / 3
	// mostOctets bounds the levels of octets below the root.
	mostOctets = octetDepth + 2
)

// gathering makes octets out of the tree's nodes.
type gathering struct {
	tree   *Tree
	height []uint8 // height[i]: levels below node i
	leaves []int32 // leaves[i]: leaves below node i
	octets []octet
	laneOf []int32 // laneOf[i]: box of node i, -1 for nodes that were passed over
}

// gather makes the octets of a tree: the widest children are opened until eight
// are together.
func (t *Tree) gather() {
	if len(t.nodes) == 0 {
		return
	}
	g := &gathering{
		tree: t, height: make([]uint8, len(t.nodes)), laneOf: make([]int32, len(t.nodes)),
		octets: make([]octet, 1, len(t.nodes)/8+2),
	}
	span := make([]int32, len(t.nodes)) // span[i]: triangles below node i
	g.leaves = make([]int32, len(t.nodes))
	for i := len(t.nodes) - 1; i >= 0; i-- { // children follow their parents
		g.laneOf[i], span[i] = -1, t.nodes[i].count
		if n := &t.nodes[i]; n.count > 0 {
			g.leaves[i] = 1
		} else if i != 1 {
			g.leaves[i] = g.leaves[n.at] + g.leaves[n.at+1]
			g.height[i] = 1 + max(g.height[n.at], g.height[n.at+1])
			span[i] = span[n.at] + span[n.at+1]
		}
	}
	g.octets[0] = emptyOctet()
	g.put(0, 0, 0, 0)
	t.octets = g.octets
	f := &fitter{tree: t, laneOf: g.laneOf, span: span}
	f.fit(0, 0)
	for i := range t.octets {
		t.reachMM = max(t.reachMM, t.octets[i].reachMM())
	}
}

// emptyOctet has no lane in use.
func emptyOctet() (o octet) {
	inf := float32(math.Inf(1))
	for k := range 3 {
		for lane := range lanes {
			o.lo[k][lane], o.hi[k][lane] = inf, -inf
		}
	}
	return o
}

// reachMM returns how far the oriented boxes reach from the origin.
func (o *octet) reachMM() float64 {
	var most float64
	for i := range lanes {
		x, y, z := float64(o.mid[0][i]), float64(o.mid[1][i]), float64(o.mid[2][i])
		most = max(most, math.Sqrt(x*x+y*y+z*z)+float64(o.size[i]))
	}
	return most
}

// put makes node i the given lane of octet o and gathers what is below it.
func (g *gathering) put(o, lane, i int32, depth int) {
	n := &g.tree.nodes[i]
	g.laneOf[i] = o*lanes + lane
	for k := range 3 {
		g.octets[o].lo[k][lane], g.octets[o].hi[k][lane] = n.lo[k], n.hi[k]
	}
	if g.octets[o].at[lane], g.octets[o].count[lane] = n.at, n.count; n.count > 0 {
		return
	}
	kids, count := g.open(i, depth)
	own := int32(len(g.octets))
	g.octets = append(g.octets, emptyOctet())
	g.octets[o].at[lane] = own
	for k, kid := range kids[:count] {
		g.put(own, int32(k), kid, depth+1)
	}
}

// open returns up to eight nodes that together are node i.
func (g *gathering) open(i int32, depth int) (kids [lanes]int32, count int) {
	nodes := g.tree.nodes
	kids[0], kids[1], count = nodes[i].at, nodes[i].at+1, 2
	worth := g.worth
	if int(g.height[i]) > 3*(octetDepth-depth) {
		worth = func(kid int32, _ int) float32 { return float32(g.height[kid]) }
	}
	for count < lanes {
		best, most := -1, float32(0)
		for k, kid := range kids[:count] {
			if nodes[kid].count == 0 {
				if w := worth(kid, lanes-count); w > most {
					best, most = k, w
				}
			}
		}
		if best < 0 {
			break
		}
		at := nodes[kids[best]].at
		kids[best], kids[count] = at, at+1
		count++
	}
	return kids, count
}

// worth says how much a node is worth opening while there is room for so many
// more; 0 not at all. The widest go first. Nodes whose leaves fill an octet of
// their own are opened last, and only if there is room for all of these:
// otherwise the lowest octets, which are most of them, would be half empty.
func (g *gathering) worth(kid int32, room int) float32 {
	areaMM2 := g.tree.nodes[kid].halfMM2()
	switch leaves := int(g.leaves[kid]); {
	case leaves > lanes:
		return 2 + areaMM2
	case leaves-1 > room:
		return 0
	}
	return 1 + areaMM2/(1+areaMM2)
}
