package lead

import (
	"context"
	"math"
	"sync"

	"aftbay/geom"
	"aftbay/geom/say"
)

// ErrBuried says that the served point lies too deep inside a body.
var ErrBuried = say.New("the served point lies inside a body and there is no way out: move serve_mm to where the lead ends")

// Options steer New. The zero value uses every processor.
type Options struct {
	Workers int
	CellMM  float64    // 0: a 24th of the reach, 8 to 25 mm
	Toward  []geom.Box // where connectors may be; none: anywhere
}

const (
	leastCellMM, mostCellMM = 8, 25
	cellsPerReach           = 24
	// outMM is how far the served point may lie inside what it belongs to.
	outMM = 400
)

// Field knows the ways to one served point. It is read-only once made.
type Field struct {
	search   *search
	bay      *bay
	serve    geom.Vec
	exit     geom.Vec
	insideMM float64
	mostMM   float64
	tails    sync.Map // cell → *tail
}

// New returns the ways of a lead around bodies to the point that it serves, as
// long as mostMM at most. Where that point lies inside a body or too near to
// one, the way begins at the nearest free point in a straight line. Cost: some
// hundred milliseconds.
func New(ctx context.Context, bodies []Body, serve geom.Vec, mostMM float64, o Options) (*Field, error) {
	f := &Field{bay: newBay(bodies), serve: serve, mostMM: mostMM}
	var ok bool
	if f.exit, f.insideMM, ok = f.bay.out(serve, math.Min(mostMM, outMM)); !ok {
		return nil, ErrBuried
	}
	cellMM := o.CellMM
	if cellMM <= 0 {
		cellMM = math.Min(math.Max(mostMM/cellsPerReach, leastCellMM), mostCellMM)
	}
	box := f.span(mostMM-f.insideMM, o.Toward)
	size := box.Size()
	// However far the reach, the grid stays small.
	cellMM = math.Max(cellMM, math.Cbrt(size[0]*size[1]*size[2]/(mostCells/2)))
	g, err := newGrid(ctx, f.bay, box, cellMM, o.Workers)
	if err != nil {
		return nil, err
	}
	f.search = &search{grid: g, from: f.exit, mostMM: mostMM - f.insideMM}
	if len(o.Toward) > 0 {
		f.search.endsMM = func(p geom.Vec) float64 {
			leastMM := math.Inf(1)
			for _, b := range o.Toward {
				leastMM = math.Min(leastMM, pointGapMM(b, p)-2*cellMM)
			}
			return leastMM
		}
	}
	return f, f.search.run(ctx)
}

// span returns the box in which all ways lie that are not too long.
func (f *Field) span(mostMM float64, toward []geom.Box) geom.Box {
	reach := geom.Vec{mostMM, mostMM, mostMM}
	box := geom.Box{Min: f.exit.Sub(reach), Max: f.exit.Add(reach)}
	if len(toward) == 0 {
		return box
	}
	// A way over p to a box takes |exit, p| + |p, box|: nothing lies further
	// from the hull of both than half of what is left.
	hull := geom.EmptyBox().Grow(f.exit)
	farMM := math.Inf(1)
	for _, b := range toward {
		hull = hull.Union(b)
		farMM = math.Min(farMM, pointGapMM(b, f.exit))
	}
	spareMM := math.Max(0, mostMM-farMM)/2 + mostCellMM
	for k := range 3 {
		box.Min[k] = math.Max(box.Min[k], hull.Min[k]-spareMM)
		box.Max[k] = math.Min(box.Max[k], hull.Max[k]+spareMM)
	}
	return box
}

// Exit returns where a lead leaves what the served point belongs to, and how
// far that is from the point; the point itself and 0 where it is free.
func (f *Field) Exit() (exit geom.Vec, insideMM float64) { return f.exit, f.insideMM }

// Way returns the points of a way from a connector to the served point and its
// length; ok is false where there is none. A way no longer than enoughMM is left
// as it is found; one that is little longer is pulled until it is short enough
// or surely will not be.
func (f *Field) Way(s Start, enoughMM float64) (points []geom.Vec, lengthMM float64, ok bool) {
	if leastMM := f.aboutMM(s.Point); (1-MostGainShare)*leastMM > enoughMM {
		return nil, leastMM, !math.IsInf(leastMM, 1) && leastMM <= f.mostMM
	}
	points, ok = f.chain(&s)
	if !ok {
		return nil, 0, false
	}
	if aboutMM := longMM(points) + f.insideMM; aboutMM > enoughMM && (1-MostGainShare)*aboutMM <= enoughMM {
		points = f.pull(&s, f.onTail(&s, points), quick, enoughMM-f.insideMM)
	}
	if f.insideMM > 0 {
		points = append(points, f.serve)
	}
	lengthMM = longMM(points)
	return points, lengthMM, lengthMM <= f.mostMM
}

// aboutMM returns about how long the way from a point is, whatever stands beside
// it; +Inf where there is none.
func (f *Field) aboutMM(p geom.Vec) float64 {
	leastMM := p.Sub(f.exit).Len()
	if cell, ok := f.search.cellOf(p); ok && f.search.settled[f.search.at(cell[0], cell[1], cell[2])] {
		leastMM = math.Max(leastMM, f.search.wayMM[f.search.at(cell[0], cell[1], cell[2])]-2*f.search.cellMM)
		return leastMM + f.insideMM
	}
	besideMM := math.Inf(1)
	f.search.near(p, seedCells, func(i int) {
		if f.search.settled[i] {
			besideMM = math.Min(besideMM, f.search.wayMM[i]+f.search.middle(i).Sub(p).Len())
		}
	})
	if math.IsInf(besideMM, 1) && leastMM > seedCells*f.search.cellMM {
		return besideMM
	}
	return math.Max(leastMM, besideMM-2*f.search.cellMM) + f.insideMM
}

// longMM returns the length of a polyline.
func longMM(points []geom.Vec) float64 {
	var sumMM float64
	for i := 1; i < len(points); i++ {
		sumMM += points[i].Sub(points[i-1]).Len()
	}
	return sumMM
}
