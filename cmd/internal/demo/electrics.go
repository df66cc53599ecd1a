package demo

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
)

const (
	coilFile   = "meshes/coil.stl"
	sensorFile = "meshes/sensor.stl"
	coilLimit  = "potted ignition coil on the head: common practice, no source; winding enamels 155/180 by IEC 60085"
	// hotCoil is the one that the story is about.
	hotCoil = 5
	// What a coil gives off and what two bolts carry away; invented for the demo.
	coilW    = 8.0
	boltedWK = 1.1

	plenumLimit = "heat-stabilised PA66-GF30, the low end of 120-130 continuous, 180 short: from memory"
	hallLimit   = "potted Hall or pickup sensor: common practice, no source"
)

// coilMesh stands with its mounting face on z = 0: body, and the plug nose to
// the rear.
func coilMesh() *mesh.Mesh {
	return prism(axisY, -20, 20, []point2{
		{-28, 0}, {28, 0}, {28, 14}, {46, 14}, {46, 34}, {28, 34}, {28, 40}, {23, 45}, {-23, 45}, {-28, 40},
	})
}

// sensorMesh is a small flanged pickup on z = 0.
func sensorMesh() *mesh.Mesh {
	return turned(geom.Vec{}, geom.Vec{0, 0, 1}, []point2{{0, 0}, {0, 14}, {5, 14}, {5, 10}, {34, 10}, {38, 7}, {38, 0}}, roundSides)
}

func (c *car) electrics() {
	c.files = append(c.files, meshFile{coilFile, coilMesh()}, meshFile{sensorFile, sensorMesh()})
	for _, b := range banks {
		for _, cyl := range b.cylinders() {
			c.coil(cyl)
		}
		name := "cam sensor " + b.name
		p := c.sensor(name, "cam cover "+b.name)
		p.TurnDeg, p.MoveMM = geom.Vec{0, -90, 0}, b.point(headFromMM+1, 378, 0)
	}
	p := c.sensor("crank sensor", "block")
	p.TurnDeg, p.MoveMM = geom.Vec{-90, 0, 0}, geom.Vec{1985, 119, 298}
	c.harness()
}

// coil puts one coil on top of its cam cover.
func (c *car) coil(cyl cylinder) {
	name, cover := fmt.Sprintf("coil %d", cyl.number), "cam cover "+cyl.name
	p := of(c.place(name, "coil", powertrain, coilFile), potted, 0.35)
	p.TurnDeg = geom.Vec{-30 * cyl.sign, 0, 0}
	p.MoveMM = cyl.point(cyl.xMM, coverTopMM, 0)
	p.Thermal.PowerW = coilW
	p.Thermal.Mount = &layout.Mount{To: cover, WK: boltedWK, Notes: "two bolts and the plug boot, invented for the demo"}
	if cyl.number == hotCoil {
		p.Thermal.Mount = &layout.Mount{To: cover, WK: 0.3, Notes: "one bolt only, the other ear clears the header; invented for the demo"}
	}
	stands(p, 130, 150, coilLimit)
	c.join(name, cover)
}

func (c *car) sensor(name, host string) *layout.Part {
	p := of(c.place(name, "sensor", powertrain, sensorFile), potted, 0.06)
	p.Thermal.PowerW = 0.3
	p.Thermal.Mount = &layout.Mount{To: host, WK: 0.15, Notes: "invented for the demo"}
	stands(p, 140, 150, hallLimit)
	c.join(name, host)
	return p
}

// harness adds the coil harness about both cam covers and the main loom.
func (c *car) harness() {
	coils := c.tube("coil harness", bent{7, 42, []geom.Vec{{1950, -180, 757}, {1596, -180, 757}, {1596, 180, 757}, {1950, 180, 757}}})
	stands(of(c.add("coil harness", "harness", powertrain, coils), copper, 0.5), 150, 175, "cable class D, ISO 6722-1 / ISO 19642")
	main := c.tube("main harness", bent{9, 90, []geom.Vec{{1466, -118, 800}, {2060, -118, 800}, {2135, -40, 480}}})
	stands(of(c.add("main harness", "harness", powertrain, main), copper, 2.4), 125, 150, "cable class C, ISO 6722-1 / ISO 19642")
	c.join("main harness", "firewall", "bell housing")
}
