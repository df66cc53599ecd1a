package bvh

import "math"

//go:generate env PART=bins go run -C pairavo . -pkg bvh -out ../bins_amd64.s -stubs ../bins_asm_amd64.go

// bin is what lies in one slice of a run.
type bin struct{ box, mid reach }

// binned is the slices of a run along each axis.
type binned struct {
	all   [3][bins]bin
	count [3][bins]int32
}

// fill sorts triangles into the slices.
func (b *binned) fill(list []boxed, s *slicing8) {
	none := nothing()
	for axis := range 3 {
		for k := range s.count {
			b.all[axis][k] = bin{none, none}
		}
		b.count[axis] = [bins]int32{}
	}
	if fast {
		fillAVX2(&list[0].lo[0], len(list), &s.lo[0], &b.all[0][0].box.lo[0])
		return
	}
	b.plainFill(list, s)
}

// plainFill is what fillAVX2 does.
func (b *binned) plainFill(list []boxed, s *slicing8) {
	for i := range list {
		p := &list[i]
		var mid, less [3]float32
		for k := range 3 {
			mid[k] = p.lo[k] - p.less[k]
			less[k] = -mid[k]
		}
		for axis := range 3 {
			k := s.bin(p, axis)
			b.all[axis][k].box.grow(&p.lo, &p.less)
			b.all[axis][k].mid.grow(&mid, &less)
			b.count[axis][k]++
		}
	}
}

// plan is the cheapest way found to cut a run in two.
type plan struct {
	axis, cut int     // triangles in bins below cut go first; 0: no cut found
	costMM2   float32 // sum of each side's area times its triangles
}

// plan finds the cheapest cut over all axes and the first n bins; block triangles
// cost as much as one.
func (b *binned) plan(n int, block int32) plan {
	best := plan{costMM2: float32(math.Inf(1))}
	for axis := range 3 {
		if cut, costMM2 := sweep(b.all[axis][:n], &b.count[axis], block); costMM2 < best.costMM2 {
			best = plan{axis, cut, costMM2}
		}
	}
	return best
}

// sweep returns the cheapest cut between bins; infinite when there is none.
func sweep(all []bin, count *[bins]int32, block int32) (cut int, costMM2 float32) {
	var rightMM2 [bins]float32 // rightMM2[k]: cost of bins k and above
	acc, n := nothing(), int32(0)
	for k := len(all) - 1; k > 0; k-- {
		if count[k] > 0 {
			acc.grow(&all[k].box.lo, &all[k].box.less)
			n += count[k]
			rightMM2[k] = float32((n+block-1)/block) * acc.halfMM2()
		} else if k+1 < len(all) {
			rightMM2[k] = rightMM2[k+1]
		}
	}
	costMM2 = float32(math.Inf(1))
	total := n + count[0]
	acc, n = nothing(), 0
	for k := 1; k < len(all); k++ {
		if count[k-1] == 0 {
			continue
		}
		acc.grow(&all[k-1].box.lo, &all[k-1].box.less)
		if n += count[k-1]; n == total {
			break
		}
		if sumMM2 := float32(float32((n+block-1)/block)*acc.halfMM2()) + rightMM2[k]; sumMM2 < costMM2 {
			cut, costMM2 = k, sumMM2
		}
	}
	return cut, costMM2
}

// sides returns the two runs that a plan cuts r into.
func (b *binned) sides(p *plan, n int, r *run) (left, right run) {
	left, right = run{from: r.from, to: r.from, box: nothing(), mid: nothing()}, run{to: r.to, box: nothing(), mid: nothing()}
	for k := range n {
		side := &left
		if k >= p.cut {
			side = &right
		} else {
			left.to += int(b.count[p.axis][k])
		}
		from := &b.all[p.axis][k]
		side.box.grow(&from.box.lo, &from.box.less)
		side.mid.grow(&from.mid.lo, &from.mid.less)
	}
	right.from = left.to
	return left, right
}
