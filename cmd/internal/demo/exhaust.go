package demo

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
)

// Exhaust temperatures of the skin, °C, invented for the demo within the usual
// ranges (primaries 650-900, collectors 450-750, catalyst shells 300-550,
// mufflers 150-400: common practice, no source).
const (
	portDegC, primaryEndDegC = 820.0, 700.0
	collectorEndDegC         = 640.0
	shellDegC, shellEndDegC  = 470.0, 430.0
	pipeEndDegC              = 370.0
	mufflerDegC, tailDegC    = 290.0, 260.0
)

const (
	primaryMM    = 21.0 // outer radius of a primary
	bundleMM     = 27.0 // from the collector's axis to the three primaries'
	growthPerK   = 1.95e-5
	growthSource = "316 stainless, mean of 20-1000 °C 19.5e-6 per K (tube data page)"
)

// manifold is one bank's exhaust: where the collector begins, which way it
// runs, and the way of each primary between port and collector.
type manifold struct {
	bank
	mouth, dir geom.Vec   // of the collector
	slots      [3]float64 // Bare numbers: slots[i], the primary's angle about the collector axis, rad from +Y outboard
	bellyMM    [3]float64 // how far each runs out of its port before it turns
	runs       [3][]geom.Vec
}

// slot returns where primary i ends in the mouth of the collector.
func (m manifold) slot(i int) geom.Vec {
	sin, cos := math.Sincos(m.slots[i])
	return m.mouth.Add(m.at(0, bundleMM*cos, bundleMM*sin))
}

func (c *car) exhaust() {
	for _, b := range banks {
		m := up(b)
		if c.variant == BrambleA {
			m = down(b)
		}
		c.primaries(m)
		c.silence(m)
	}
	c.muffler()
}

// up sweeps the primaries over the heads to a collector above the transaxle.
// On the right the middle one takes the top place and passes close to its coil.
func up(b bank) manifold {
	const third = 2 * math.Pi / 3
	m := manifold{bank: b, mouth: b.at(2120, 446, 676), dir: geom.Vec{1, 0, 0}, slots: [3]float64{math.Pi / 2, -math.Pi / 6, math.Pi/2 + third}}
	crest := 0 // the primary at the top
	if b.sign > 0 {
		m.mouth = b.at(2120, 400, 700)
		m.slots[0], m.slots[1] = m.slots[1], m.slots[0]
		crest = 1
	}
	for i, cyl := range b.cylinders() {
		end := m.slot(i)
		m.runs[i] = []geom.Vec{{cyl.xMM + 12, end[1], end[2]}, end.Add(geom.Vec{8, 0, 0})}
		m.bellyMM[i] = 72
		if i == crest && b.sign > 0 {
			m.bellyMM[i] = 94
			m.runs[i] = []geom.Vec{b.at(cyl.xMM-8, 298, 752), b.at(cyl.xMM+100, 352, 738), end.Add(geom.Vec{8, 0, 0})}
		}
	}
	return m
}

// down drops the primaries beside the block to a collector beside the bell
// housing.
func down(b bank) manifold {
	const third = 2 * math.Pi / 3
	m := manifold{bank: b, mouth: b.at(2035, 302, 322), dir: b.at(130, -38, 0), slots: [3]float64{-math.Pi / 6, math.Pi/2 + third, math.Pi / 2}}
	for i, cyl := range b.cylinders() {
		end := m.slot(i)
		m.bellyMM[i] = 72
		m.runs[i] = []geom.Vec{{cyl.xMM + 12, end[1], end[2]}, end.Add(geom.Vec{8, 0, 0})}
	}
	return m
}

func (c *car) primaries(m manifold) {
	var names []string
	for i, cyl := range m.cylinders() {
		name := fmt.Sprintf("primary %d", cyl.number)
		flange := m.point(cyl.xMM, portMM, portOutMM)
		points := append([]geom.Vec{m.point(cyl.xMM, portMM, portOutMM-8), m.point(cyl.xMM, portMM, portOutMM+m.bellyMM[i])}, m.runs[i]...)
		p := c.add(name, "exhaust", powertrain, c.tube(name, bent{primaryMM, 52, points}))
		of(p, coated, 1.3)
		c.heldAlong(p, flange, m.slot(i), portDegC, primaryEndDegC)
		grows(p, flange, (portDegC+primaryEndDegC)/2)
		c.join(name, "head "+m.name, "collector "+m.name)
		for _, o := range names {
			c.join(name, o) // the bundle is welded at the collector
		}
		names = append(names, name)
	}
}

func (c *car) heldAlong(p *layout.Part, from, to geom.Vec, fromDegC, toDegC float64) {
	thermalOf(p).HeldAlong = &layout.HeldAlong{FromMM: from, ToMM: to, FromDegC: fromDegC, ToDegC: toDegC, Notes: "invented for the demo"}
}

func grows(p *layout.Part, anchor geom.Vec, toDegC float64) {
	p.Growth = &layout.Growth{AnchorMM: anchor, PerK: growthPerK, FromDegC: 20, ToDegC: toDegC, Notes: growthSource}
}

// silence adds collector, catalyst and the pipe to the muffler of one bank.
func (c *car) silence(m manifold) {
	anchor := m.point(m.cylinders()[1].xMM, portMM, portOutMM)
	along := m.dir.Normalize()
	collectorEnd := m.mouth.Add(along.Mul(134))
	name := "collector " + m.name
	p := c.add(name, "exhaust", powertrain, turned(m.mouth, along, []point2{{0, 0}, {0, 52}, {28, 52}, {116, 31}, {134, 31}, {134, 0}}, roundSides))
	of(p, coated, 1.6)
	c.heldAlong(p, m.mouth, collectorEnd, primaryEndDegC, collectorEndDegC)
	grows(p, anchor, (primaryEndDegC+collectorEndDegC)/2)

	cat := "catalyst " + m.name
	start := collectorEnd.Sub(along.Mul(4))
	l := 240.0
	if c.variant == BrambleA {
		l = 188 // room to climb over the half-shaft
	}
	end := start.Add(geom.Vec{l, 0, 0})
	p = c.add(cat, "exhaust", powertrain, turned(start, geom.Vec{1, 0, 0}, []point2{{0, 0}, {0, 30}, {10, 31}, {50, 57}, {l - 50, 57}, {l - 10, 31}, {l, 30}, {l, 0}}, roundSides))
	of(p, stainless, 4.2)
	c.heldAlong(p, start, end, shellDegC, shellEndDegC)
	grows(p, anchor, shellDegC)
	c.join(cat, name)

	pipe := "exhaust pipe " + m.name
	points := []geom.Vec{end.Sub(geom.Vec{6, 0, 0}), end.Add(geom.Vec{70, 0, 0}), m.at(2730, 225, 630), m.at(2835, 225, mufflerZMM)}
	if c.variant == BrambleA { // over the half-shaft, between it and the side of the transaxle
		points = []geom.Vec{end.Sub(geom.Vec{6, 0, 0}), end.Add(geom.Vec{26, 0, 0}), m.at(2438, 300, 476), m.at(2640, 300, 476), m.at(2760, 225, 440), m.at(2835, 225, c.mufflerZ())}
	}
	p = c.add(pipe, "exhaust", powertrain, c.tube(pipe, bent{26, 38, points}))
	of(p, stainless, 1.8)
	c.heldAlong(p, points[0], points[len(points)-1], shellEndDegC, pipeEndDegC)
	grows(p, anchor, shellEndDegC)
	c.join(pipe, cat, "muffler")
}

// mufflerZMM is the height of the muffler behind a high exhaust.
const mufflerZMM = 612.0

func (c *car) mufflerZ() float64 { // Bare numbers: mm
	if c.variant == BrambleA {
		return 436
	}
	return mufflerZMM
}

func (c *car) muffler() {
	z := c.mufflerZ()
	can := prism(axisY, -340, 340, rounded(point2{2826, z - 92}, point2{3012, z + 92}, 60))
	p := held(of(c.add("muffler", "exhaust", powertrain, can), stainless, 11), mufflerDegC)
	grows(p, geom.Vec{2920, 0, z}, mufflerDegC)
	for _, s := range sides {
		name := "tail pipe " + s.name
		p := held(of(c.add(name, "exhaust", powertrain, rod(s.at(3006, 110, z-12), s.at(3165, 110, z-12), 31)), stainless, 0.9), tailDegC)
		grows(p, geom.Vec{2920, 0, z}, tailDegC)
		c.join(name, "muffler")
	}
	c.shield()
}

// shield is an open sheet of foil between hot and warm: behind coil 6 in the
// later layout (beside coil 5 the primary leaves no room for it), round the
// inboard side of the right catalyst in the earlier one.
func (c *car) shield() {
	var m *mesh.Mesh
	if c.variant == BrambleA {
		m = halfPipe(2175, 2340, point2{264, 322}, 86, 100*math.Pi/180, 250*math.Pi/180)
	} else {
		m = sheetAlongX(1846, 2010, []point2{{261.5, 659}, {279, 696}, {276, 738}, {258, 772}})
	}
	p := of(c.add("heat shield", "shield", powertrain, m), foil, 0.4)
	p.InnerEmissivity = new(0.15)
	p.Notes = "Aluminium foil shield in service, emissivity 0.08-0.35, typical 0.15: common practice, no source."
	if c.variant == BrambleB {
		c.join("heat shield", "cam cover right")
	}
}
