package lead

import (
	"context"
	"math"

	"aftbay/geom"
)

// grid is space cut into cells, with the room at each.
type grid struct {
	bay    *bay
	origin geom.Vec // middle of cell 0, 0, 0
	cellMM float64
	size   [3]int
	roomMM []float32 // at most what is there; negative where no lead may be
}

const (
	// blockCells is the edge of the blocks that workers take.
	blockCells = 16
	// nearCells is the edge of the blocks for which bodies are listed, and how
	// far around a point room is looked for once the grid is there.
	nearCells = 4
	// mostCells bounds the grid: some 4 MB.
	mostCells = 1 << 20
)

// newGrid measures a box.
func newGrid(ctx context.Context, b *bay, box geom.Box, cellMM float64, workers int) (*grid, error) {
	g := &grid{bay: b, origin: box.Min, cellMM: cellMM}
	total := 1
	for k := range g.size {
		g.size[k] = int(math.Ceil((box.Max[k]-box.Min[k])/cellMM)) + 1
		total *= g.size[k]
	}
	end := geom.Vec{float64(g.size[0] - 1), float64(g.size[1] - 1), float64(g.size[2] - 1)}
	b.survey(geom.Box{Min: box.Min, Max: box.Min.Add(end.Mul(cellMM))}, nearCells*cellMM, nearCells*cellMM)
	g.roomMM = make([]float32, total)
	var blocks [][3]int
	for x := 0; x < g.size[0]; x += blockCells {
		for y := 0; y < g.size[1]; y += blockCells {
			for z := 0; z < g.size[2]; z += blockCells {
				blocks = append(blocks, [3]int{x, y, z})
			}
		}
	}
	all := make([]int32, len(b.bodies))
	for i := range all {
		all[i] = int32(i)
	}
	err := geom.Each(ctx, workers, len(blocks), nil, func(i int) error {
		g.fill(blocks[i], blockCells, all)
		return nil
	})
	return g, err
}

// fill sets the room of a block of n cells a side; bodies are those that can
// matter there. Where the middle of a block has more room than the block is
// wide, all of it is known.
func (g *grid) fill(low [3]int, n int, bodies []int32) {
	for k := range low {
		if low[k] >= g.size[k] {
			return
		}
	}
	half := float64(n-1) / 2
	middle := g.origin.Add(geom.Vec{float64(low[0]) + half, float64(low[1]) + half, float64(low[2]) + half}.Mul(g.cellMM))
	radiusMM := half * g.cellMM * math.Sqrt(3)
	// Room beyond this tells nothing more.
	roomMM := radiusMM + 4*g.cellMM
	rooms := make([]float64, len(bodies))
	for k, i := range bodies {
		rooms[k], _ = g.bay.roomTo(int(i), middle, roomMM+2*radiusMM)
		roomMM = math.Min(roomMM, rooms[k])
	}
	if n == 1 || roomMM-radiusMM >= 2*g.cellMM || roomMM+radiusMM < 0 {
		g.set(low, n, middle, roomMM)
		return
	}
	var near []int32
	for k, i := range bodies {
		if rooms[k] <= roomMM+2*radiusMM {
			near = append(near, i)
		}
	}
	for k := range 8 {
		g.fill([3]int{low[0] + k&1*n/2, low[1] + k>>1&1*n/2, low[2] + k>>2*n/2}, n/2, near)
	}
}

// set writes what the middle of a block proves for its cells.
func (g *grid) set(low [3]int, n int, middle geom.Vec, roomMM float64) {
	for x := low[0]; x < min(low[0]+n, g.size[0]); x++ {
		for y := low[1]; y < min(low[1]+n, g.size[1]); y++ {
			for z := low[2]; z < min(low[2]+n, g.size[2]); z++ {
				i := g.at(x, y, z)
				offMM := g.middle(i).Sub(middle).Len()
				if roomMM > 0 {
					g.roomMM[i] = float32(roomMM-offMM) - 1e-3
				} else {
					g.roomMM[i] = float32(roomMM + offMM)
				}
			}
		}
	}
}

func (g *grid) at(x, y, z int) int { return (x*g.size[1]+y)*g.size[2] + z }

// middle returns the middle of a cell.
func (g *grid) middle(i int) geom.Vec {
	z := i % g.size[2]
	y := i / g.size[2] % g.size[1]
	x := i / g.size[2] / g.size[1]
	return g.origin.Add(geom.Vec{float64(x), float64(y), float64(z)}.Mul(g.cellMM))
}

// cellOf returns the cell of a point; ok is false outside.
func (g *grid) cellOf(p geom.Vec) (cell [3]int, ok bool) {
	for k := range cell {
		cell[k] = int(math.Round((p[k] - g.origin[k]) / g.cellMM))
		if cell[k] < 0 || cell[k] >= g.size[k] {
			return cell, false
		}
	}
	return cell, true
}

// roomAt returns a room that there surely is around a point, 0 or less where
// that is not known.
func (g *grid) roomAt(p geom.Vec) float64 {
	cell, ok := g.cellOf(p)
	if !ok {
		return 0
	}
	middle := g.origin.Add(geom.Vec{float64(cell[0]), float64(cell[1]), float64(cell[2])}.Mul(g.cellMM))
	return float64(g.roomMM[g.at(cell[0], cell[1], cell[2])]) - middle.Sub(p).Len()
}

// sees reports whether a lead may lie straight from one point to the other. The
// meshes are asked about the stretch for which the cells prove nothing.
func (g *grid) sees(from, to geom.Vec) bool {
	way := to.Sub(from)
	longMM := way.Len()
	if longMM == 0 {
		return true
	}
	way = way.Mul(1 / longMM)
	firstMM, lastMM := math.Inf(1), 0.0
	for atMM := 0.0; ; {
		p := from.Add(way.Mul(math.Min(atMM, longMM)))
		roomMM := g.roomAt(p)
		if roomMM < g.cellMM/8 {
			roomMM = g.cellMM / 4
			firstMM, lastMM = math.Min(firstMM, atMM), math.Min(longMM, atMM+roomMM)
		}
		if atMM >= longMM {
			break
		}
		atMM += roomMM
	}
	return firstMM > lastMM || !g.bay.blocked(from.Add(way.Mul(firstMM)), from.Add(way.Mul(lastMM)))
}
