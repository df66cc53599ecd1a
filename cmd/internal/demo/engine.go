package demo

import (
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
)

// The engine: a 60 degree V6 lying along the car, crankshaft along X.
const (
	crankZMM    = 330.0
	blockFromMM = 1600.0
	blockToMM   = 2030.0
	headFromMM  = 1625.0
	headToMM    = 2000.0
	pitchMM     = 105.0  // of the bores
	leftBoreMM  = 1715.0 // X of the first bore
	rightBoreMM = 1690.0
	deckMM      = 215.0 // crank to head, along the bank
	headTopMM   = 345.0
	coverTopMM  = 415.0
	portMM      = 250.0 // exhaust port, along the bank
	portOutMM   = 80.0  // and square to it
	bankRad     = math.Pi / 6
)

// bank is one row of three cylinders.
type bank struct {
	side
	firstBoreMM float64
	firstNumber int
}

// banks, left first: cylinders 1 to 3 and 4 to 6, from the front. Read-only.
var banks = [2]bank{{sides[0], leftBoreMM, 1}, {sides[1], rightBoreMM, 4}}

// cylinder is one bore: its number and X.
type cylinder struct {
	bank
	number int
	xMM    float64
}

func (b bank) cylinders() []cylinder {
	var out []cylinder
	for i := range 3 {
		out = append(out, cylinder{b, b.firstNumber + i, b.firstBoreMM + float64(i)*pitchMM})
	}
	return out
}

// section returns the (y, z) point alongMM up the bank from the crankshaft and
// outMM square to it, outboard positive.
func (b bank) section(alongMM, outMM float64) point2 {
	sin, cos := math.Sincos(bankRad)
	return point2{b.sign * (alongMM*sin + outMM*cos), crankZMM + alongMM*cos - outMM*sin}
}

func (b bank) point(xMM, alongMM, outMM float64) geom.Vec {
	return lift(axisX, xMM, b.section(alongMM, outMM))
}

// slab is a prism along the bank between two heights and half widths.
func (b bank) slab(fromXMM, toXMM float64, low, high point2) *mesh.Mesh {
	return prism(axisX, fromXMM, toXMM, []point2{
		b.section(low[0], -low[1]), b.section(low[0], low[1]),
		b.section(high[0], high[1]), b.section(high[0], -high[1]),
	})
}

func (c *car) engine() {
	l, r := banks[0], banks[1]
	block := prism(axisX, blockFromMM, blockToMM, []point2{
		{-120, crankZMM - 70},
		{120, crankZMM - 70},
		{120, crankZMM + 60},
		r.section(deckMM, 75), r.section(deckMM, -75),
		{0, crankZMM + 150},
		l.section(deckMM, -75), l.section(deckMM, 75),
		{-120, crankZMM + 60},
	})
	cooled(of(c.add("block", "engine", powertrain, block), casting, 62), 92)
	for _, b := range banks {
		head, cover := "head "+b.name, "cam cover "+b.name
		cooled(of(c.add(head, "engine", powertrain, b.slab(headFromMM, headToMM, point2{deckMM, 80}, point2{headTopMM, 80})), casting, 15), 110)
		cooled(of(c.add(cover, "engine", powertrain, b.slab(headFromMM, headToMM, point2{headTopMM, 72}, point2{coverTopMM, 62})), casting, 3), 100)
		c.join("block", head)
		c.join(head, cover)
	}
	timing := prism(axisX, 1555, blockFromMM, []point2{
		{-110, 268}, {110, 268}, {140, 330}, {140, 640}, {90, 655}, {-90, 655}, {-140, 640}, {-140, 330},
	})
	cooled(of(c.add("timing cover", "engine", powertrain, timing), casting, 6), 100)
	c.join("timing cover", "block")
	pulley := rod(geom.Vec{1525, 0, crankZMM}, geom.Vec{1556, 0, crankZMM}, 75)
	cooled(of(c.add("crank pulley", "engine", powertrain, pulley), steelTube, 3), 90)
	c.join("crank pulley", "timing cover")
	c.sump()
	c.mounts()
	c.machines()
}

// sump is shallow with a dry sump on the transaxle, deep without.
func (c *car) sump() {
	shallow := prism(axisY, -122, 122, []point2{{blockFromMM, 260}, {blockToMM, 260}, {blockToMM, 192}, {1990, 188}, {1620, 188}, {blockFromMM, 200}})
	deep := prism(axisY, -122, 122, []point2{{blockFromMM, 260}, {blockToMM, 260}, {blockToMM, 200}, {1960, 152}, {1660, 152}, {blockFromMM, 200}})
	is, other, file := shallow, deep, "meshes/sump_deep.stl"
	alternative := layout.Alternative{Name: "deep, wet", Mesh: file, MassKg: new(8.0)}
	if c.variant == BrambleA {
		is, other, file = deep, shallow, "meshes/sump_shallow.stl"
		alternative = layout.Alternative{Name: "shallow, for a dry sump", Mesh: file, MassKg: new(6.0)}
	}
	p := of(c.add("sump", "engine", powertrain, is), casting, 7)
	cooled(p, 115)
	p.Alternatives = []layout.Alternative{alternative}
	c.files = append(c.files, meshFile{file, other})
	c.join("sump", "block", "bell housing")
}

func (c *car) mounts() {
	for _, s := range sides {
		bracket := prism(axisX, 1620, 1665, []point2{
			{s.sign * 116, 268}, {s.sign * 116, 304}, {s.sign * 325, 304}, {s.sign * 325, 212}, {s.sign * 275, 212}, {s.sign * 275, 268},
		})
		name := "engine mount " + s.name
		of(c.add(name, "mount", powertrain, bracket), casting, 1.6)
		c.join(name, "block", "subframe side "+s.name)
	}
	rear := box(geom.Vec{2735, -45, 190}, geom.Vec{2850, 45, 236})
	of(c.add("transaxle mount", "mount", powertrain, rear), casting, 2)
	c.join("transaxle mount", "gear casing", "subframe cross rear")
}

// machines hang on the engine: alternator and starter.
func (c *car) machines() {
	alternator := turned(geom.Vec{1532, 215, 378}, geom.Vec{1, 0, 0}, []point2{{0, 0}, {0, 34}, {22, 34}, {22, 52}, {88, 52}, {94, 40}, {94, 0}}, roundSides)
	p := of(c.add("alternator", "alternator", powertrain, alternator), casting, 6)
	p.Thermal.PowerW = 200
	p.Thermal.Mount = &layout.Mount{To: "block", WK: 4}
	stands(p, 155, 180, "insulation class F, IEC 60085; margin for windings invented for the demo")
	starter := turned(geom.Vec{1880, -192, 292}, geom.Vec{1, 0, 0}, []point2{{0, 0}, {0, 36}, {6, 40}, {110, 40}, {110, 30}, {152, 30}, {152, 0}}, roundSides)
	p = of(c.add("starter", "starter", powertrain, starter), steelTube, 4)
	p.Thermal.Mount = &layout.Mount{To: "bell housing", WK: 3}
	stands(p, 155, 180, "insulation class F, IEC 60085")
	c.join("starter", "bell housing")
}

// intake: plenum, six runners down the V, throttle, duct and filter.
func (c *car) intake() {
	plenum := prism(axisX, 1640, 1990, rounded(point2{-150, 842}, point2{150, 932}, 24))
	stands(of(c.add("plenum", "intake", powertrain, plenum), moulding, 5), 120, 180, plenumLimit)
	for _, b := range banks {
		for _, cyl := range b.cylinders() {
			name := fmt.Sprintf("runner %d", cyl.number)
			points := []geom.Vec{b.point(cyl.xMM, 280, -58), b.point(cyl.xMM, 280, -110), b.at(cyl.xMM, 55, 850)}
			stands(of(c.add(name, "intake", powertrain, c.tube(name, bent{20, 30, points})), moulding, 0.4), 120, 180, "as plenum")
			c.join(name, "head "+b.name, "plenum")
		}
	}
	throttle := rod(geom.Vec{1572, 0, 887}, geom.Vec{1645, 0, 887}, 36)
	of(c.add("throttle", "intake", powertrain, throttle), casting, 1.2)
	duct := c.tube("intake duct", bent{33, 45, []geom.Vec{{1580, 0, 887}, {1534, 0, 887}, {1534, 330, 887}, {1570, 470, 850}}})
	stands(of(c.add("intake duct", "intake", powertrain, duct), moulding, 0.6), 120, 180, plenumLimit)
	filter := rod(geom.Vec{1570, 460, 845}, geom.Vec{1570, 595, 845}, 78)
	of(c.add("air filter", "intake", "", filter), moulding, 1.4).LimitDegC = &layout.Limit{Like: "PA6-GF"}
	c.join("plenum", "throttle")
	c.join("intake duct", "throttle", "air filter")
}
