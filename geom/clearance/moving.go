package clearance

import (
	"container/heap"
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/say"
	"aftbay/geom/sweep"
	"aftbay/geom/units"
)

const (
	// searchMM is how close the certified low end must come to the least gap
	// found before the search stops: a hundredth, far below any rule's step.
	searchMM = 0.01
	// roundMM lets a bound that was asked to reach a distance miss it by its own
	// rounding.
	roundMM = 1e-6
	// farShare loosens that for pairs far above their rule: the ends of the
	// answer may lie apart by this share of what is to spare.
	farShare = 0.1
	// maxCells ends a search that converges badly; what is left open is then
	// stated in the error. Large enough for two groups turning about all axes.
	maxCells = 2000
)

// mover is one pair whose groups move against each other.
type mover struct {
	a, b         dist.Body
	ma, mb       sweep.Motion
	boxA, boxB   geom.Box // at rest
	nameA, nameB string   // of the groups, "" for the fixed body
	careMM       float64  // the least clearance asked for
	rest         *gap     // at rest, where that is known
	o            dist.Options
}

func (c *check) mover(j job, bodies []dist.Body, k int, rest *gap) *mover {
	a, b := &c.scene.Parts[j.a], &c.scene.Parts[j.b]
	return &mover{
		a: bodies[j.a], b: bodies[j.b], ma: c.motion[j.a], mb: c.motion[j.b],
		boxA: boxOf(bodies[j.a]), boxB: boxOf(bodies[j.b]), nameA: a.Group, nameB: b.Group, careMM: j.careMM(k), rest: rest, o: c.overlaps(),
	}
}

// boxOf returns a box around the body in its pose.
func boxOf(b dist.Body) geom.Box {
	box := geom.EmptyBox()
	for _, c := range b.Tree.Box().Corners() {
		box = box.Grow(b.Pose.Point(c))
	}
	return box
}

// cell is a box of turns of both groups, with all their shifts.
type cell struct {
	a, b  region
	lowMM float64 // no pose in the cell is nearer than this
}

// region is a part of one group's motion.
type region struct {
	lo, hi sweep.Setting
	name   string // of a named position
}

func regionsOf(m sweep.Motion) []region {
	var rs []region
	if m.HasRange || len(m.Named) == 0 {
		rs = append(rs, region{lo: m.Lo, hi: m.Hi})
	}
	for _, n := range m.Named {
		rs = append(rs, region{n.At, n.At, n.Name})
	}
	return rs
}

func (r region) holdsRest() bool {
	for k := range r.lo {
		if r.lo[k] > 0 || r.hi[k] < 0 {
			return false
		}
	}
	return true
}

func (r region) mid() sweep.Setting {
	for k := range r.lo {
		r.lo[k] += (r.hi[k] - r.lo[k]) / 2
	}
	return r.lo
}

func (r region) half() sweep.Setting {
	for k := range r.hi {
		r.hi[k] = (r.hi[k] - r.lo[k]) / 2
	}
	return r.hi
}

// best is the nearest pose found so far.
type best struct {
	gapMM  float64
	at     [2]sweep.Setting
	name   [2]string
	within cell
}

// search returns the least clearance over the whole motion by branch and bound
// over the turns; all shifts are swept within each cell.
func (m *mover) search(ctx context.Context) (gap, error) {
	if m.rest != nil && m.rest.overlap && m.ma.HoldsRest() && m.mb.HoldsRest() {
		g := *m.rest
		g.errorMM += m.ma.ReachMM(m.boxA) + m.mb.ReachMM(m.boxB)
		g.notes = append(g.notes, say.Of("overlaps at rest already: depth at rest"))
		return g, nil
	}
	found, lowMM, err := m.bound(ctx, math.Inf(1))
	if err != nil {
		return gap{}, err
	}
	return m.finish(ctx, found, lowMM)
}

// lowMM returns the certified low end of the least clearance over the motion;
// it may stop at any value of at least enoughMM.
func (m *mover) lowMM(ctx context.Context, enoughMM float64) (float64, error) {
	_, lowMM, err := m.bound(ctx, enoughMM)
	return lowMM, err
}

// bound narrows the least clearance between the nearest pose found and a lower
// bound for all others, until they are as close as spareMM asks or the bound
// reaches enoughMM.
func (m *mover) bound(ctx context.Context, enoughMM float64) (found best, lowMM float64, err error) {
	armsA, armsB := sweep.NewArms(m.ma, m.boxA), sweep.NewArms(m.mb, m.boxB)
	found = m.start()
	if reachMM := m.ma.ReachMM(m.boxA) + m.mb.ReachMM(m.boxB); found.gapMM-reachMM > 0 && reachMM <= m.spareMM(found.gapMM) {
		return found, found.gapMM - reachMM, nil
	}
	var open cells
	add := func(c cell) {
		c.lowMM = math.Max(c.lowMM, m.try(&found, c, enoughMM))
		heap.Push(&open, c)
	}
	for _, ra := range regionsOf(m.ma) {
		for _, rb := range regionsOf(m.mb) {
			c := cell{a: ra, b: rb}
			if inside, err := m.inside(ctx, c); err != nil {
				return best{}, 0, err
			} else if inside {
				return best{0, [2]sweep.Setting{ra.mid(), rb.mid()}, [2]string{ra.name, rb.name}, c}, 0, nil
			}
			add(c)
		}
	}
	for tried := 0; open[0].lowMM < math.Min(found.gapMM-m.spareMM(found.gapMM), enoughMM)-roundMM && tried < maxCells; tried++ {
		if err := ctx.Err(); err != nil {
			return best{}, 0, err
		}
		one, two := split(heap.Pop(&open).(cell), armsA, armsB)
		add(one)
		add(two)
	}
	return found, math.Min(open[0].lowMM, found.gapMM), nil
}

// inside reports whether the bodies overlap in the middle of a cell. As long as
// their surfaces do not meet within the cell, which the search finds, one of them
// is then inside the other all over the cell, or nowhere in it. What is known at
// rest need not be asked again.
func (m *mover) inside(ctx context.Context, c cell) (bool, error) {
	if m.rest != nil && !m.rest.overlap && c.a.holdsRest() && c.b.holdsRest() {
		return false, nil
	}
	a, b := m.a, m.b
	a.Pose, b.Pose = m.ma.Pose(c.a.mid()).After(a.Pose), m.mb.Pose(c.b.mid()).After(b.Pose)
	r, err := dist.Between(ctx, a, b, dist.Options{EnoughMM: roundMM})
	return r.Overlap, err
}

// start is the rest position where it belongs to the motion and its gap is
// known.
func (m *mover) start() best {
	if m.rest == nil || m.rest.overlap || !m.ma.HoldsRest() || !m.mb.HoldsRest() {
		return best{gapMM: math.Inf(1)}
	}
	return best{gapMM: m.rest.clearanceMM, within: cell{a: regionsOf(m.ma)[0], b: regionsOf(m.mb)[0]}}
}

// spareMM is how far the two ends of the answer may lie apart: searchMM where
// the verdict hangs on it, more where the pair is far from its limit anyway.
func (m *mover) spareMM(gapMM float64) float64 {
	if math.IsInf(gapMM, 1) {
		return searchMM
	}
	return math.Max(searchMM, farShare*(gapMM-m.careMM))
}

// try bounds the clearance over a cell, all shifts and turns at once. The search
// for the bound meets single poses; the nearest of them is kept if it is the
// nearest so far. It returns the bound.
func (m *mover) try(found *best, c cell, enoughMM float64) float64 {
	at := [2]sweep.Setting{c.a.mid(), c.b.mid()}
	a, b := m.a, m.b
	a.Pose, b.Pose = m.ma.Turned(at[0]).After(a.Pose), m.mb.Turned(at[1]).After(b.Pose)
	motion := dist.Sweep{Shift: relativeShift(c), TurnA: m.ma.Turns(at[0], c.a.half()), TurnB: m.mb.Turns(at[1], c.b.half())}
	r := dist.Swept(a, b, motion, math.Min(found.gapMM-m.spareMM(found.gapMM), enoughMM))
	if r.AtLeast || r.GapMM >= found.gapMM {
		return r.LowMM
	}
	for k := range 3 {
		at[0][sweep.Roll+k] += r.TurnA[k]
		at[1][sweep.Roll+k] += r.TurnB[k]
		at[0][k] = min(max(r.Shift[k]+at[1][k], c.a.lo[k]), c.a.hi[k])
		at[1][k] = at[0][k] - r.Shift[k]
	}
	*found = best{r.GapMM, at, [2]string{c.a.name, c.b.name}, c}
	return r.LowMM
}

// relativeShift returns the box of a's shift less b's shift.
func relativeShift(c cell) geom.Box {
	var box geom.Box
	for k := range 3 {
		box.Min[k] = c.a.lo[k] - c.b.hi[k]
		box.Max[k] = c.a.hi[k] - c.b.lo[k]
	}
	return box
}

// split halves the cell across the turn that strays most.
func split(c cell, armsA, armsB sweep.Arms) (one, two cell) {
	axisA, mmA := armsA.MostAxis(c.a.half())
	axisB, mmB := armsB.MostAxis(c.b.half())
	one, two = c, c
	if mmA >= mmB {
		mid := c.a.mid()[axisA]
		one.a.hi[axisA], two.a.lo[axisA] = mid, mid
	} else {
		mid := c.b.mid()[axisB]
		one.b.hi[axisB], two.b.lo[axisB] = mid, mid
	}
	return one, two
}

// finish measures the worst pose exactly and names it.
func (m *mover) finish(ctx context.Context, found best, lowMM float64) (gap, error) {
	g, err := m.at(ctx, found.at)
	if err != nil {
		return gap{}, err
	}
	if (found.gapMM <= 0 || g.overlap) && !m.o.DepthOnly {
		if g, err = m.deepest(ctx, &found, g); err != nil {
			return gap{}, err
		}
	}
	if g.overlap {
		g.errorMM += m.ma.ReachMM(m.boxA) + m.mb.ReachMM(m.boxB)
		g.notes = append(g.notes, say.Of("depth of the deepest pose tried"))
	} else {
		g.errorMM += math.Max(g.clearanceMM-lowMM, 0)
	}
	g.worst = map[string]GroupShift{}
	if m.nameA != "" {
		g.worst[m.nameA] = shiftOf(found.at[0], found.name[0])
	}
	if m.nameB != "" {
		g.worst[m.nameB] = shiftOf(found.at[1], found.name[1])
	}
	return g, nil
}

// at measures one pose of both groups.
func (m *mover) at(ctx context.Context, at [2]sweep.Setting) (gap, error) {
	a, b := m.a, m.b
	a.Pose, b.Pose = m.ma.Pose(at[0]).After(a.Pose), m.mb.Pose(at[1]).After(b.Pose)
	return between(ctx, a, b, m.o)
}

// deepest tries the corners of the shift boxes around the touching pose.
func (m *mover) deepest(ctx context.Context, found *best, g gap) (gap, error) {
	start := found.at
	for corner := range 64 {
		at := start
		for k := range 3 {
			at[0][k] = pick(corner>>k&1, found.within.a.lo[k], found.within.a.hi[k])
			at[1][k] = pick(corner>>(3+k)&1, found.within.b.lo[k], found.within.b.hi[k])
		}
		if repeated(corner, found.within) {
			continue
		}
		deeper, err := m.at(ctx, at)
		if err != nil {
			return gap{}, err
		}
		if deeper.overlap && (!g.overlap || deeper.clearanceMM < g.clearanceMM) {
			g, found.at = deeper, at
		}
	}
	return g, nil
}

func pick(high int, loMM, hiMM float64) float64 {
	if high == 1 {
		return hiMM
	}
	return loMM
}

// repeated reports whether a corner equals an earlier one for want of range.
func repeated(corner int, c cell) bool {
	for k := range 3 {
		if corner>>k&1 == 1 && c.a.lo[k] == c.a.hi[k] || corner>>(3+k)&1 == 1 && c.b.lo[k] == c.b.hi[k] {
			return true
		}
	}
	return false
}

func shiftOf(s sweep.Setting, name string) GroupShift {
	return GroupShift{
		Name: name, XMM: s[sweep.X], YMM: s[sweep.Y], ZMM: s[sweep.Z],
		RollDeg: units.Deg(s[sweep.Roll]), PitchDeg: units.Deg(s[sweep.Pitch]), YawDeg: units.Deg(s[sweep.Yaw]),
	}
}

// cells is a heap, lowest bound first.
type cells []cell

func (c cells) Len() int           { return len(c) }
func (c cells) Less(i, j int) bool { return c[i].lowMM < c[j].lowMM }
func (c cells) Swap(i, j int)      { c[i], c[j] = c[j], c[i] }
func (c *cells) Push(x any)        { *c = append(*c, x.(cell)) }
func (c *cells) Pop() any {
	old := *c
	last := old[len(old)-1]
	*c = old[:len(old)-1]
	return last
}
