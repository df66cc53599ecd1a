package rearview

import (
	"cmp"
	"slices"
)

// line is a piece of an edge, from the lesser a to the greater, and the layer
// it belongs to. Crossing it toward greater b changes the layer's winding by
// wind. Bare numbers: places in the picture.
type line struct {
	a0, b0, a1, b1 float64
	wind           int32
	layer          int32
	id             int // its place in the list that is swept
}

// at returns b at a, exact at both ends. Bare numbers: places in the picture.
func (l *line) at(a float64) float64 {
	switch a {
	case l.a0:
		return l.b0
	case l.a1:
		return l.b1
	}
	return l.b0 + (l.b1-l.b0)*((a-l.a0)/(l.a1-l.a0))
}

// appendLines adds the pieces of edges that matter inside a pane that begins at
// the horizon: what lies over the horizon is laid onto it, for it still counts
// what lies above; what lies below the pane is dropped. Upright edges bound
// nothing along b.
func appendLines(out []line, edges []edge, layer int, within pane) []line {
	for _, e := range edges {
		l := line{e.from.a, e.from.b, e.to.a, e.to.b, e.wind, int32(layer), 0}
		if l.a0 > l.a1 {
			l = line{l.a1, l.b1, l.a0, l.b0, -l.wind, l.layer, 0}
		}
		if l.a1 <= within.lo.a || l.a0 >= within.hi.a || l.a0 == l.a1 || min(l.b0, l.b1) > within.hi.b {
			continue
		}
		if l.a0 < within.lo.a {
			l.b0, l.a0 = l.at(within.lo.a), within.lo.a
		}
		if l.a1 > within.hi.a {
			l.b1, l.a1 = l.at(within.hi.a), within.hi.a
		}
		out = appendBetween(out, l, within.lo.b, within.hi.b)
	}
	return out
}

// appendBetween cuts a line where it crosses lowest and highest b.
// Bare numbers: places in the picture.
func appendBetween(out []line, l line, lo, hi float64) []line {
	for _, level := range [2]float64{lo, hi} {
		if (l.b0 < level) != (l.b1 < level) && l.b0 != level && l.b1 != level {
			cut := l.a0 + (l.a1-l.a0)*((level-l.b0)/(l.b1-l.b0))
			if cut > l.a0 && cut < l.a1 {
				first, second := l, l
				first.a1, first.b1 = cut, level
				second.a0, second.b0 = cut, level
				return appendBetween(appendBetween(out, first, lo, hi), second, lo, hi)
			}
		}
	}
	if max(l.b0, l.b1) > hi {
		return out
	}
	l.b0, l.b1 = max(l.b0, lo), max(l.b1, lo)
	return append(out, l)
}

// watcher is told of every cell that the lines cut the picture into.
type watcher interface {
	toggle(layer int32, on bool)
	cell(c *cell)
	passed(l *line, a0, a1 float64) // Bare numbers: places in the picture
	ended()
}

// cell is a piece of the picture between two slabs' sides and two lines.
// Bare numbers: places in the picture.
type cell struct {
	a0, a1                 float64
	top0, top1, bot0, bot1 float64 // b at a0 and a1; bot is nearer to the driver
}

// area returns the cell's area. Bare numbers: of the picture.
func (c *cell) area() float64 {
	return (c.a1 - c.a0) * ((c.bot0 - c.top0) + (c.bot1 - c.top1)) / 2
}

// active is a line that spans the slab at hand. Bare numbers: b at its sides.
type active struct {
	line *line
	l, r float64
}

// sweeper walks the slabs and keeps its working memory.
type sweeper struct {
	stops []float64 // Bare numbers: places in the picture
	cuts  []float64 // Bare numbers: places in the picture
	now   []active
	right []active
	piece []active
	wind  []int32
	on    []int32
	one   cell
}

// sweep cuts the picture into cells in which nothing begins, ends or crosses.
// Within a slab between two neighbouring ends of lines, each line is straight;
// where their order on the right differs from that on the left they cross, and
// the slab is cut there. Lines that meet within rounding may be taken in either
// order: the cell between them has no area.
func (s *sweeper) sweep(lines []line, layers int, w watcher) {
	slices.SortStableFunc(lines, func(x, y line) int { return cmp.Compare(x.a0, y.a0) })
	s.stops = s.stops[:0]
	for i := range lines {
		lines[i].id = i
		s.stops = append(s.stops, lines[i].a0, lines[i].a1)
	}
	slices.Sort(s.stops)
	s.stops = slices.Compact(s.stops)
	s.wind = slices.Grow(s.wind[:0], layers)[:layers]
	clear(s.wind)
	s.now = s.now[:0]
	next := 0
	for k := 1; k < len(s.stops); k++ {
		a0, a1 := s.stops[k-1], s.stops[k]
		s.now = slices.DeleteFunc(s.now, func(x active) bool { return x.line.a1 <= a0 })
		for ; next < len(lines) && lines[next].a0 <= a0; next++ {
			s.now = append(s.now, active{line: &lines[next]})
		}
		for i := range s.now {
			x := &s.now[i]
			x.l, x.r = x.line.at(a0), x.line.at(a1)
		}
		s.slab(a0, a1, w)
	}
}

// slab handles one slab. Bare numbers: places in the picture.
func (s *sweeper) slab(a0, a1 float64, w watcher) {
	insertionSort(s.now, func(x, y *active) bool { return x.l < y.l || x.l == y.l && x.r < y.r }, nil)
	s.right = append(s.right[:0], s.now...)
	s.cuts = append(s.cuts[:0], 0)
	insertionSort(s.right, func(x, y *active) bool { return x.r < y.r }, func(x, y *active) {
		if gap, end := y.l-x.l, x.r-y.r; gap+end > 0 {
			s.cuts = append(s.cuts, gap/(gap+end))
		}
	})
	if len(s.cuts) == 1 {
		s.column(s.now, a0, a1, w)
		return
	}
	s.cuts = append(s.cuts, 1)
	slices.Sort(s.cuts)
	for k := 1; k < len(s.cuts); k++ {
		u, v := s.cuts[k-1], s.cuts[k]
		if v <= u {
			continue
		}
		s.piece = s.piece[:0]
		for _, x := range s.now {
			s.piece = append(s.piece, active{x.line, x.l + (x.r-x.l)*u, x.l + (x.r-x.l)*v})
		}
		insertionSort(s.piece, func(x, y *active) bool { return x.l+x.r < y.l+y.r }, nil)
		from, to := a0+(a1-a0)*u, a0+(a1-a0)*v
		if v == 1 {
			to = a1
		}
		s.column(s.piece, from, to, w)
	}
}

// column walks one slab without crossings from the horizon toward the driver.
// Bare numbers: places in the picture.
func (s *sweeper) column(order []active, a0, a1 float64, w watcher) {
	for i := range order {
		x := &order[i]
		if i > 0 {
			p := &order[i-1]
			s.one = cell{a0, a1, p.l, p.r, x.l, x.r}
			w.cell(&s.one)
		}
		layer := x.line.layer
		was := s.wind[layer]
		s.wind[layer] += x.line.wind
		if is := s.wind[layer]; (was == 0) != (is == 0) {
			w.toggle(layer, is != 0)
			if is != 0 {
				s.on = append(s.on, layer)
			}
			w.passed(x.line, a0, a1)
		}
	}
	for _, layer := range s.on {
		if s.wind[layer] != 0 {
			s.wind[layer] = 0
			w.toggle(layer, false)
		}
	}
	s.on = s.on[:0]
	w.ended()
}

// insertionSort sorts what is nearly sorted; swapped, which may be nil, is told
// each pair that changes places, in their order before.
func insertionSort(list []active, less func(x, y *active) bool, swapped func(x, y *active)) {
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && less(&list[k], &list[k-1]); k-- {
			if swapped != nil {
				swapped(&list[k-1], &list[k])
			}
			list[k-1], list[k] = list[k], list[k-1]
		}
	}
}
