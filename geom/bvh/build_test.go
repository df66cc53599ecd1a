package bvh

import (
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
)

// TestSideBySide: children built side by side make the same tree, node by node,
// as one after the other.
func TestSideBySide(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	boxes := make([]geom.Box, 3000)
	for i := range boxes {
		p := geom.Vec{random.Float64(), random.Float64() * 2, random.Float64() * 3}
		boxes[i] = geom.EmptyBox().Grow(p).Grow(p.Add(geom.Vec{0.01, 0.02, 0.03}))
	}
	grown := func(together int) *builder {
		b := &builder{together: together, boxes: boxes, nodes: make([]node, 2)}
		for i := range boxes {
			b.order = append(b.order, int32(i))
		}
		b.split(0, 0, len(boxes), 0)
		return b
	}
	plain := grown(len(boxes))
	for _, together := range []int{1, 50, 1000} {
		if b := grown(together); !slices.Equal(b.nodes, plain.nodes) || !slices.Equal(b.order, plain.order) || b.depth != plain.depth {
			t.Errorf("side by side from %d: another tree", together)
		}
	}
}
