package lead

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"aftbay/geom"
)

// search finds the way from one point to every cell.
type search struct {
	*grid
	from    geom.Vec
	mostMM  float64
	wayMM   []float64 // wayMM[i]: to cell i; +Inf where there is none yet
	parent  []int32   // parent[i]: the cell before it, fromStart for the start
	settled []bool
	inSight []bool // the parent is known to be in sight
	waiting queue
	beside  []entry                  // room for one step
	endsMM  func(p geom.Vec) float64 // at least so far to go from p; nil for nowhere in particular
}

// fromStart stands for the start among parents.
const fromStart = -1

// entry is a cell that waits for its turn.
type entry struct {
	wayMM float64
	cell  int32
}

// queue gives the nearest cell first, the first in space among equals.
type queue []entry

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, k int) { q[i], q[k] = q[k], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(entry)) }
func (q queue) Less(i, k int) bool {
	return q[i].wayMM < q[k].wayMM || q[i].wayMM == q[k].wayMM && q[i].cell < q[k].cell
}

// nearer compares as the queue does.
func nearer(a, b entry) int {
	return cmp.Or(cmp.Compare(a.wayMM, b.wayMM), cmp.Compare(a.cell, b.cell))
}

func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// run settles all cells within mostMM.
func (s *search) run(ctx context.Context) error {
	n := len(s.roomMM)
	s.wayMM, s.parent = make([]float64, n), make([]int32, n)
	s.settled, s.inSight = make([]bool, n), make([]bool, n)
	for i := range s.wayMM {
		s.wayMM[i] = math.Inf(1)
	}
	s.near(s.from, seedCells, func(i int) { s.offer(i, fromStart) })
	for count := 0; len(s.waiting) > 0; count++ {
		if count%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		e := heap.Pop(&s.waiting).(entry)
		i := int(e.cell)
		if s.settled[i] || e.wayMM != s.wayMM[i] || !s.settle(i) {
			continue
		}
		s.around(i, func(k int) { s.offer(k, int(s.parent[i])) })
	}
	return nil
}

// seedCells is how far from a point, in cells, the ways to it begin.
const seedCells = 3

// near calls see for every free cell at most n cells from a point.
func (s *search) near(p geom.Vec, n int, see func(i int)) {
	var c [3]int
	for k := range c {
		c[k] = int(math.Round((p[k] - s.origin[k]) / s.cellMM))
	}
	for x := max(0, c[0]-n); x <= min(s.size[0]-1, c[0]+n); x++ {
		for y := max(0, c[1]-n); y <= min(s.size[1]-1, c[1]+n); y++ {
			for z := max(0, c[2]-n); z <= min(s.size[2]-1, c[2]+n); z++ {
				if i := s.at(x, y, z); s.roomMM[i] >= 0 {
					see(i)
				}
			}
		}
	}
}

// around calls see for every free neighbour of a cell.
func (s *search) around(i int, see func(k int)) {
	s.near(s.middle(i), 1, func(k int) {
		if k != i {
			see(k)
		}
	})
}

// place returns where a parent stands.
func (s *search) place(i int) geom.Vec {
	if i == fromStart {
		return s.from
	}
	return s.middle(i)
}

// toMM returns the way to a parent.
func (s *search) toMM(i int) float64 {
	if i == fromStart {
		return 0
	}
	return s.wayMM[i]
}

// offer proposes a parent for a cell, in the hope that it is in sight.
func (s *search) offer(i, parent int) {
	if s.settled[i] {
		return
	}
	p := s.middle(i)
	wayMM := s.toMM(parent) + p.Sub(s.place(parent)).Len()
	if wayMM >= s.wayMM[i] || wayMM > s.mostMM || s.endsMM != nil && wayMM+s.endsMM(p) > s.mostMM {
		return
	}
	s.wayMM[i], s.parent[i], s.inSight[i] = wayMM, int32(parent), false
	heap.Push(&s.waiting, entry{wayMM, int32(i)})
}

// settle reports whether a cell's turn has come; where its parent turns out to
// be out of sight, it waits again behind its best neighbour.
func (s *search) settle(i int) bool {
	p := s.middle(i)
	if s.inSight[i] || s.sees(s.place(int(s.parent[i])), p) {
		s.settled[i] = true
		return true
	}
	s.beside = s.beside[:0]
	s.around(i, func(k int) {
		if s.settled[k] {
			s.beside = append(s.beside, entry{s.wayMM[k] + p.Sub(s.middle(k)).Len(), int32(k)})
		}
	})
	slices.SortFunc(s.beside, nearer)
	bestMM, best := math.Inf(1), -1
	for _, e := range s.beside {
		if s.sees(s.middle(int(e.cell)), p) {
			bestMM, best = e.wayMM, int(e.cell)
			break
		}
	}
	s.wayMM[i] = bestMM
	if best >= 0 && bestMM <= s.mostMM {
		s.parent[i], s.inSight[i] = int32(best), true
		heap.Push(&s.waiting, entry{bestMM, int32(i)})
	}
	return false
}
