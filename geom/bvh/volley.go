package bvh

// volleyShots is the number of shots that go into one volley.
const volleyShots = 128

// flies reports whether shots can walk the tree in volleys: no path is so long
// that what they put aside has no room.
func (w *wide) flies() bool { return (lanes-1)*w.depth+lanes <= volleyAside }

// volley is CastAll by the wide tree, many rays at once.
func (r *RayTree) volley(rays []Ray, hits []Hit) {
	var shots [volleyShots]shot
	var of [volleyShots]int32 // of[k]: ray of shots[k]
	n := 0
	for i := range rays {
		hits[i] = Hit{Tri: -1}
		s := &shots[n]
		if !s.aim(&r.origin, &r.root, &rays[i]) {
			continue
		}
		s.widen()
		of[n] = int32(i)
		if n++; n == len(shots) {
			r.land(shots[:], of[:], hits)
			n = 0
		}
	}
	r.land(shots[:n], of[:n], hits)
}

// land lets shots find what they meet.
func (r *RayTree) land(shots []shot, of []int32, hits []Hit) {
	if len(shots) == 0 {
		return
	}
	volleyWide(&r.wide.nodes[0], &r.wide.blocks[0], &shots[0], len(shots))
	for k := range shots {
		if s := &shots[k]; s.tri >= 0 {
			hits[of[k]] = Hit{Tri: int(s.tri), DistMM: s.farMM, Back: s.back}
		}
	}
}
