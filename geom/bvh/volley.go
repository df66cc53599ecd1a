package bvh

// volleyShots is the number of rays that go into one volley.
const volleyShots = 128

// flight is a shot as the assembly of volleys has it, 160 bytes: what the walk of
// one keeps in registers is read at each step. The names are those of shot.
type flight struct {
	xFromMM, yFromMM, zFromMM, xRatio float64
	yRatio, zRatio, farMM, startMM    float64
	xRow, yRow, zRow                  int // where a block's coordinates along kx, ky, kz begin
	nearMM                            float64
	inv                               [3]float32
	reach                             int32
	nearAdd                           [3]float32
	tri                               int32
	farAdd                            [3]float32
	top                               uint32    // where what it has put aside ends
	nearAt                            [3]uint32 // where a node's planes met first lie
	back                              bool
}

// set takes over a shot that is made wide.
func (f *flight) set(s *shot) {
	*f = flight{
		xFromMM: s.xFromMM, yFromMM: s.yFromMM, zFromMM: s.zFromMM, xRatio: s.xRatio,
		yRatio: s.yRatio, zRatio: s.zRatio, farMM: s.farMM, startMM: s.startMM,
		xRow: axisRows * s.kx, yRow: axisRows * s.ky, zRow: axisRows * s.kz, nearMM: s.nearMM,
		inv: s.inv, reach: s.reach, nearAdd: s.nearAdd, tri: s.tri, farAdd: s.farAdd,
		top: 0, // the walk's own
	}
	for k, inv := range s.inv {
		f.nearAt[k] = uint32(axisBytes * k)
		if inv < 0 {
			f.nearAt[k] += sideBytes
		}
	}
}

// frame is what the aim of many rays needs of a tree: its origin, its box, and
// how far the start of a box test is moved for rounding.
type frame struct {
	originMM, loMM, hiMM [3]float64
	padMM                float64
}

// frame returns the tree's.
func (r *RayTree) frame() (f frame) {
	f.originMM = r.origin
	var sizeMM float64
	for k := range 3 {
		f.loMM[k], f.hiMM[k] = float64(r.root.lo[k]), float64(r.root.hi[k])
		sizeMM = max(sizeMM, -f.loMM[k], f.hiMM[k])
	}
	f.padMM = slabSlack * sizeMM
	return f
}

// flies reports whether shots can walk the tree in volleys: no path is so long
// that what they put aside has no room.
func (w *wide) flies() bool { return (lanes-1)*w.depth+lanes <= volleyAside }

// volley is a number of rays on their way together.
type volley struct {
	tree    *RayTree
	hits    []Hit
	n       int
	flights [volleyShots]flight
	of      [volleyShots]int32 // of[k]: ray of flights[k]
}

// volley is CastAll by the wide tree, many rays at once.
func (r *RayTree) volley(rays []Ray, hits []Hit) {
	const four, allFour = 4, 1<<4 - 1
	v := volley{tree: r, hits: hits}
	f := r.frame()
	for i := 0; i < len(rays); i += four {
		if v.n > volleyShots-four {
			v.land()
		}
		end := min(i+four, len(rays))
		ready := end-i == four && aimFour(&rays[i], &v.flights[v.n], &f) == allFour
		for k := i; k < end; k++ {
			hits[k] = Hit{Tri: -1}
			if ready || v.aim(&rays[k]) {
				v.of[v.n] = int32(k)
				v.n++
			}
		}
	}
	v.land()
}

// aim makes one ray ready; false when it misses the mesh.
func (v *volley) aim(ray *Ray) bool {
	var s shot
	if !s.aim(&v.tree.origin, &v.tree.root, ray) {
		return false
	}
	s.widen()
	v.flights[v.n].set(&s)
	return true
}

// land lets all find what they meet.
func (v *volley) land() {
	if v.n == 0 {
		return
	}
	w := v.tree.wide
	volleyWide(&w.nodes[0], &w.blocks[0], &v.flights[0], v.n)
	for k := range v.n {
		if f := &v.flights[k]; f.tri >= 0 {
			v.hits[v.of[k]] = Hit{Tri: int(f.tri), DistMM: f.farMM, Back: f.back}
		}
	}
	v.n = 0
}
