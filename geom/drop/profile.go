package drop

import (
	"cmp"
	"math"
	"slices"

	"aftbay/geom"
)

// columns is how many columns a profile is cut into: enough that a query looks
// at few edges, few enough that it looks at all columns in microseconds.
const columns = 256

// point2 is a point in the plane of a profile: across (x or y) and up (z), mm.
type point2 [2]float64

// edge is one edge of a mesh in the plane of a profile.
type edge struct {
	from, to point2
	third    [2]float64 // Bare numbers: mm, the coordinate that the plane leaves out, at both ends
	part     int32      // index of the part
}

// profile is the lower outline of some parts, seen along one axis: every edge
// that could be the lowest anywhere. It answers exactly where a body first
// meets something that comes from below, for whole edges and not only corners.
type profile struct {
	fromMM, widthMM float64   // of the first column
	cols            []profCol // len: columns, or 0 for a profile of nothing
	axes            [2]int    // of the plane's first coordinate and of the one left out
}

// profCol holds the edges that pass one column, the lowest first.
type profCol struct {
	lowMM float64
	edges []colEdge
}

type colEdge struct {
	lowMM float64 // lowest point within the column
	edge
}

// query asks for the least value of a measure over a profile. The measure rises
// with the height, and what is at most any value forms a convex region of the
// plane; along a level line it falls towards one place.
type query struct {
	value          func(p point2) float64 // Bare numbers: in the unit of the measure
	towardsMM      float64                // where it is least along a level line; ±Inf for an end
	fromMM, toMM   float64                // only this stretch counts
	acrossMM, upMM float64                // the profile is shifted by this much
	straight       bool                   // the region is a half-plane: corners decide
}

// found is where a query's least value is met.
type found struct {
	value float64 // Bare numbers: in the unit of the measure; +Inf where nothing counts
	at    point2  // as shifted
	edge  edge    // as stored
	t     float64
}

// newProfile sorts edges into columns and leaves out what lies above others.
func newProfile(edges []edge, axis, third int) *profile {
	p := &profile{axes: [2]int{axis, third}}
	loMM, hiMM := math.Inf(1), math.Inf(-1)
	for i := range edges {
		for _, q := range [2]point2{edges[i].from, edges[i].to} {
			loMM, hiMM = math.Min(loMM, q[0]), math.Max(hiMM, q[0])
		}
	}
	if loMM > hiMM {
		return p
	}
	p.fromMM, p.widthMM = loMM, math.Max((hiMM-loMM)/columns, 1e-6)
	p.cols = make([]profCol, columns)
	roofs := p.roofs(edges)
	for i := range edges {
		first, last := p.spanOf(&edges[i])
		for k := first; k <= last; k++ {
			if lowMM := p.lowIn(&edges[i], k); lowMM <= roofs[k] {
				p.cols[k].edges = append(p.cols[k].edges, colEdge{lowMM, edges[i]})
			}
		}
	}
	for k := range p.cols {
		c := &p.cols[k]
		slices.SortStableFunc(c.edges, func(a, b colEdge) int { return cmp.Compare(a.lowMM, b.lowMM) })
		c.lowMM = math.Inf(1)
		if len(c.edges) > 0 {
			c.lowMM = c.edges[0].lowMM
		}
	}
	return p
}

// roofs returns for each column the height above which nothing can matter: the
// outline at a border of the column, and twice the column's width above it. So
// steep, 63°, no outline of equal angle runs that decides about a car.
func (p *profile) roofs(edges []edge) []float64 {
	atMM := make([]float64, columns+1)
	for k := range atMM {
		atMM[k] = math.Inf(1)
	}
	for i := range edges {
		e := &edges[i]
		loMM, hiMM := math.Min(e.from[0], e.to[0]), math.Max(e.from[0], e.to[0])
		first, last := p.spanOf(e)
		for k := first; k <= last+1; k++ {
			if xMM := p.borderMM(k); xMM >= loMM && xMM <= hiMM {
				atMM[k] = math.Min(atMM[k], e.heightMM(xMM))
			}
		}
	}
	roofs := make([]float64, columns)
	for k := range roofs {
		roofs[k] = math.Min(atMM[k], atMM[k+1]) + 2*p.widthMM
	}
	return roofs
}

func (p *profile) borderMM(k int) float64 { return p.fromMM + float64(k)*p.widthMM }

// spanOf returns the first and the last column that an edge passes.
func (p *profile) spanOf(e *edge) (first, last int) {
	at := func(xMM float64) int {
		return min(max(int((xMM-p.fromMM)/p.widthMM), 0), columns-1)
	}
	return at(math.Min(e.from[0], e.to[0])), at(math.Max(e.from[0], e.to[0]))
}

// heightMM returns the height of the edge at a place across, the lower end of
// an upright edge.
func (e *edge) heightMM(xMM float64) float64 {
	if e.from[0] == e.to[0] {
		return math.Min(e.from[1], e.to[1])
	}
	t := (xMM - e.from[0]) / (e.to[0] - e.from[0])
	return e.from[1] + min(max(t, 0), 1)*(e.to[1]-e.from[1])
}

// lowIn returns the lowest height of an edge within column k.
func (p *profile) lowIn(e *edge, k int) float64 {
	loMM, hiMM := math.Min(e.from[0], e.to[0]), math.Max(e.from[0], e.to[0])
	return math.Min(e.heightMM(min(max(p.borderMM(k), loMM), hiMM)), e.heightMM(min(max(p.borderMM(k+1), loMM), hiMM)))
}

// least answers a query. Cost: one call of the measure per column and a few
// dozen along the edges that could decide.
func (p *profile) least(q *query) found {
	best := found{value: math.Inf(1)}
	if len(p.cols) == 0 {
		return best
	}
	var bounds [columns]float64 // Bare numbers: in the unit of the measure
	for k := range p.cols {
		bounds[k] = p.bound(q, k, p.cols[k].lowMM)
	}
	for {
		k := 0
		for i := range bounds {
			if bounds[i] < bounds[k] {
				k = i
			}
		}
		if bounds[k] >= best.value || math.IsInf(bounds[k], 1) {
			return best
		}
		bounds[k] = math.Inf(1)
		for i := range p.cols[k].edges {
			e := &p.cols[k].edges[i]
			if p.bound(q, k, e.lowMM) >= best.value {
				break
			}
			p.along(q, k, &e.edge, &best)
		}
	}
}

// bound returns the least value that anything at a height or above can have in
// column k, +Inf where the column does not count.
func (p *profile) bound(q *query, k int, lowMM float64) float64 {
	loMM := math.Max(p.borderMM(k)+q.acrossMM, q.fromMM)
	hiMM := math.Min(p.borderMM(k+1)+q.acrossMM, q.toMM)
	if loMM > hiMM || math.IsInf(lowMM, 1) {
		return math.Inf(1)
	}
	return q.value(point2{min(max(q.towardsMM, loMM), hiMM), lowMM + q.upMM})
}

// along lowers best to the least value on an edge within column k.
func (p *profile) along(q *query, k int, e *edge, best *found) {
	loMM := math.Max(p.borderMM(k)+q.acrossMM, q.fromMM)
	hiMM := math.Min(p.borderMM(k+1)+q.acrossMM, q.toMM)
	t0, t1, ok := e.within(loMM-q.acrossMM, hiMM-q.acrossMM)
	if !ok {
		return
	}
	at := func(t float64) point2 {
		return point2{e.from[0] + t*(e.to[0]-e.from[0]) + q.acrossMM, e.from[1] + t*(e.to[1]-e.from[1]) + q.upMM}
	}
	try := func(t float64) float64 { // Bare numbers: in the unit of the measure
		v := q.value(at(t))
		if v < best.value {
			*best = found{v, at(t), *e, t}
		}
		return v
	}
	try(t0)
	try(t1)
	a, b := at(t0), at(t1)
	nearestMM := min(max(q.towardsMM, math.Min(a[0], b[0])), math.Max(a[0], b[0]))
	if !q.straight && q.value(point2{nearestMM, math.Min(a[1], b[1])}) < best.value {
		golden(t0, t1, try)
	}
}

// within returns the stretch of an edge between two places across.
// Bare numbers: t runs from 0 to 1 along the edge.
func (e *edge) within(loMM, hiMM float64) (t0, t1 float64, ok bool) {
	const slackMM = 1e-9 // an edge on the border of its column belongs to it
	run := e.to[0] - e.from[0]
	if run == 0 {
		return 0, 1, e.from[0] >= loMM-slackMM && e.from[0] <= hiMM+slackMM
	}
	t0, t1 = (loMM-e.from[0])/run, (hiMM-e.from[0])/run
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	t0, t1 = math.Max(t0, 0), math.Min(t1, 1)
	return math.Min(t0, t1), t1, t0 <= t1+slackMM/math.Abs(run)
}

// golden narrows in on the least value of a measure that first falls, then
// rises, calling it at every place it looks at.
// Bare numbers: the measure is in whatever unit.
func golden(lo, hi float64, value func(t float64) float64) {
	const ratio, steps = 0.6180339887498949, 40 // 0.618^40 = 4e-9 of the stretch
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	va, vb := value(a), value(b)
	for range steps {
		if va < vb {
			hi, b, vb = b, a, va
			a = hi - ratio*(hi-lo)
			va = value(a)
		} else {
			lo, a, va = a, b, vb
			b = lo + ratio*(hi-lo)
			vb = value(b)
		}
	}
}

// place returns the point of the vehicle where a query's least value is met,
// shifted as the query was.
func (p *profile) place(f found) geom.Vec {
	var v geom.Vec
	v[p.axes[0]], v[2] = f.at[0], f.at[1]
	v[p.axes[1]] = f.edge.third[0] + f.t*(f.edge.third[1]-f.edge.third[0])
	return v
}
