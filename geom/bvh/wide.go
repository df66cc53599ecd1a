package bvh

//go:generate go run -C avo . -out ../wide_walk_amd64.s -stubs ../wide_walk_amd64.go -pkg bvh

const (
	// lanes is the number of children of a wide node: the floats of one AVX2
	// register.
	lanes = 8
	// blockLanes is the number of triangles in a block: the doubles of one.
	blockLanes = 4
	// nodeLines and blockLines are the sizes of a node and a block in cache lines,
	// by which children are numbered.
	nodeLines, blockLines = 4, 5
	// leafMark marks a child that is a block.
	leafMark = 1 << 31
	// wideStack is what a walk may put aside: all but one child of each level,
	// and the last.
	wideStack = (lanes-1)*maxDepth + lanes
	// walkStack is what the assembly has room for, no less: stackEntries in avo.
	walkStack = 656
	// wideMostMM bounds how far a wide tree reaches from its origin, so that no
	// product of its walk leaves the range of float32.
	wideMostMM = 1e18
	// axisBytes and sideBytes are the sizes of a node's planes along an axis, and
	// of one side of them.
	axisBytes, sideBytes = 64, 32
	// axisRows is the size of a block's coordinates along an axis.
	axisRows = 96
	// volleyAside is what a shot of a volley may put aside: what the assembly has
	// room for, volleyAside in avo, less what a vector may write beyond.
	volleyAside = 144 - lanes
)

// The assembly's stack suffices: a constant below zero would not compile.
const _ = uint(walkStack - wideStack)

// wideNode is up to eight boxes, relative to the origin, mm, 256 bytes: for each
// axis eight low planes and eight high ones. An empty lane has its low planes at
// +infinity and its high ones at -infinity, so that no ray meets it.
type wideNode struct {
	planes [3][2][lanes]float32
	child  [lanes]uint32 // line of a node, or with leafMark of a block
	_      [lanes]uint32 // to whole cache lines
}

// block is up to four triangles, 320 bytes: each coordinate of each corner side
// by side, relative to the origin. An empty lane holds a triangle that is a
// point, which no ray meets, and the number -1.
type block struct {
	cornersMM [3][3][blockLanes]float64 // cornersMM[axis][corner][lane]
	tri       [blockLanes]int32         // in the mesh
	_         [blockLanes]int32         // to whole cache lines
}

// wide is an eight-wide tree; nodes[0] is the root.
type wide struct {
	nodes  []wideNode
	blocks []block
	depth  int // levels of nodes
}

// node and block return what a child is.
func (w *wide) node(child uint32) *wideNode { return &w.nodes[child/nodeLines] }
func (w *wide) block(child uint32) *block   { return &w.blocks[(child&^leafMark)/blockLines] }

// cast finds the nearest hit of s, or any when s.any is set.
func (w *wide) cast(s *shot) {
	s.widen()
	if s.any {
		blockedWide(&w.nodes[0], &w.blocks[0], s)
		return
	}
	castWide(&w.nodes[0], &w.blocks[0], s)
}

// widen prepares the box test of a wide walk: a plane is met at plane·inv + add,
// with one rounding more than slab has, of add, which slabSlack covers.
func (s *shot) widen() {
	for k := range 3 {
		inv := float64(s.inv[k])
		near, far := s.lo[k], s.hi[k]
		if inv < 0 {
			near, far = far, near
		}
		s.nearAdd[k], s.farAdd[k] = float32(-float64(near)*inv), float32(-float64(far)*inv)
	}
	s.reach = s.reached()
}

// triangle returns lane k of the block and its number, -1 where it is empty.
func (b *block) triangle(k int) (tri Triangle, number int32) {
	for corner := range tri {
		for axis := range 3 {
			tri[corner][axis] = b.cornersMM[axis][corner][k]
		}
	}
	return tri, b.tri[k]
}
