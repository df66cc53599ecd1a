package drop

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
)

// borderMM is how exactly the map finds the border of what holds.
const borderMM = 0.01

// keep remembers the candidates of a single place for the search of the border.
func (mp *mapper) keep(n *node) {
	if mp.leaves == nil {
		mp.leaves = make([][]*node, len(mp.m.ShiftsMM))
		for row := range mp.leaves {
			mp.leaves[row] = make([]*node, len(mp.m.DropsMM))
		}
	}
	mp.leaves[n.rows[0]][n.cols[0]] = n
}

// borders finds the windows of every shift: between neighbouring places of
// which one holds and the other does not, the border is bisected.
func (mp *mapper) borders(ctx context.Context, workers int) error {
	mp.m.Columns = make([]MapColumn, len(mp.m.ShiftsMM))
	return geom.Each(ctx, workers, len(mp.m.ShiftsMM), nil, func(row int) error {
		c := MapColumn{ShiftMM: mp.m.ShiftsMM[row], WindowsMM: []Window{}, Low: []say.Text{}, High: []say.Text{}}
		leaves := mp.leaves[row]
		for col, n := range leaves {
			holds, before := n.marginMM >= 0, col > 0 && leaves[col-1].marginMM >= 0
			if holds == before {
				continue
			}
			edgeMM, limit := mp.m.DropsMM[col], say.Text{}
			if col > 0 {
				var err error
				if edgeMM, limit, err = mp.bisect(ctx, row, col, holds); err != nil {
					return err
				}
			}
			if holds {
				c.WindowsMM = append(c.WindowsMM, Window{edgeMM, mp.within[1]})
				c.Low, c.High = append(c.Low, limit), append(c.High, say.Text{})
				continue
			}
			last := len(c.WindowsMM) - 1
			c.WindowsMM[last][1], c.High[last] = edgeMM, limit
		}
		mp.m.Columns[row] = c
		return nil
	})
}

// bisect finds the border between places col−1 and col of a row and what binds
// just beyond it.
func (mp *mapper) bisect(ctx context.Context, row, col int, holdsAfter bool) (edgeMM float64, limit say.Text, err error) {
	inMM, outMM := mp.m.DropsMM[col-1], mp.m.DropsMM[col]
	bad := mp.leaves[row][col]
	if holdsAfter {
		inMM, outMM, bad = outMM, inMM, mp.leaves[row][col-1]
	}
	binds := bad.limit
	for math.Abs(inMM-outMM) > borderMM {
		midMM := (inMM + outMM) / 2
		n := &node{maybe: bad.maybe}
		mp.judgeFixed(n, row, midMM)
		if err := mp.judgePairs(ctx, n, mp.shift(row, midMM), 0); err != nil {
			return 0, say.Text{}, err
		}
		if n.marginMM >= 0 {
			inMM = midMM
		} else {
			outMM, binds = midMM, n.limit
		}
	}
	return inMM, mp.m.Limits[binds], nil
}

// best picks the deepest place and the one with the most room.
func (mp *mapper) best() {
	mp.m.Deepest, mp.m.Widest = nil, nil
	for row, margins := range mp.m.MarginMM {
		for col, mm := range margins {
			if mm == nil || *mm < 0 {
				continue
			}
			p := &MapPlace{DropMM: mp.m.DropsMM[col], ShiftMM: mp.m.ShiftsMM[row], MarginMM: *mm}
			if k := mp.m.Limit[row][col]; k >= 0 {
				p.Limit = mp.m.Limits[k]
			}
			if mp.m.Deepest == nil || deeper(p, mp.m.Deepest) {
				mp.m.Deepest = p
			}
			if mp.m.Widest == nil || wider(p, mp.m.Widest) {
				mp.m.Widest = p
			}
		}
	}
}

// deeper prefers the lower place, then the smaller shift; wider the larger
// margin, then the lower place.
func deeper(a, b *MapPlace) bool {
	return a.DropMM > b.DropMM || a.DropMM == b.DropMM && math.Abs(a.ShiftMM) < math.Abs(b.ShiftMM)
}

func wider(a, b *MapPlace) bool {
	return a.MarginMM > b.MarginMM || a.MarginMM == b.MarginMM && deeper(a, b)
}
