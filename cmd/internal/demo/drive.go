package demo

import (
	"strings"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// Half-shaft joint centres for the right side, mm.
const (
	innerXMM, innerYMM, innerZMM = 2530.0, 190.0, 312.0
	outerXMM, outerYMM, outerZMM = 2550.0, 700.0, wheelZMM
)

// drive adds bell housing, transaxle and half-shafts.
func (c *car) drive() {
	bell := turned(geom.Vec{blockToMM, 0, crankZMM}, geom.Vec{1, 0, 0}, []point2{{0, 0}, {0, 165}, {40, 165}, {130, 150}, {130, 0}}, 2*roundSides)
	cooled(of(c.add("bell housing", "transaxle", powertrain, bell), casting, 9), 95)
	c.join("bell housing", "block")
	main := prism(axisX, 2158, 2640, rounded(point2{-125, 187}, point2{125, 460}, 40))
	cooled(of(c.add("transaxle", "transaxle", powertrain, main), casting, 48), 105)
	final := rod(geom.Vec{2530, -152, 312}, geom.Vec{2530, 152, 312}, 132)
	cooled(of(c.add("final drive", "transaxle", powertrain, final), casting, 26), 110)
	gears := prism(axisX, 2638, 2780, rounded(point2{-95, 212}, point2{95, 405}, 30))
	cooled(of(c.add("gear casing", "transaxle", powertrain, gears), casting, 14), 105)
	c.join("transaxle", "bell housing", "final drive", "gear casing")
	c.join("final drive", "gear casing")
	for _, s := range sides {
		inner, outer := s.at(innerXMM, innerYMM, innerZMM), s.at(outerXMM, outerYMM, outerZMM)
		l := outer.Sub(inner).Len()
		shaft := turned(inner, outer.Sub(inner), []point2{
			{-42, 0}, {-42, 55}, {50, 55}, {92, 17}, {l - 95, 17}, {l - 58, 48}, {l + 14, 48}, {l + 14, 0},
		}, roundSides)
		name := "half-shaft " + s.name
		p := of(c.add(name, "half-shaft", "", shaft), steelTube, 8)
		stands(p, 125, 140, "joint boot, elastomer: common practice, no source")
		c.join(name, "final drive", "upright "+s.name)
		c.doc.HalfShafts = append(c.doc.HalfShafts, layout.HalfShaft{
			Name: name, InnerMM: inner, InnerGroup: powertrain, OuterMM: outer, BumpMM: 70, ReboundMM: 60,
			LimitDeg: &layout.JointLimit{StaticDeg: new(6.0), TravelDeg: new(12.0), Notes: "plunging joint, long-life angle; common practice, no source"},
			PlungeMM: new(24.0), Notes: "Invented for the demo.",
		})
	}
}

// oil adds the oil tank and its hoses: on the transaxle in the later layout,
// tall and on its own beside the engine in the earlier one.
func (c *car) oil() {
	if c.variant == BrambleA {
		tank := rod(geom.Vec{1582, -432, 236}, geom.Vec{1582, -432, 949}, 84)
		c.oilTank(of(c.add("oil tank", "oil tank", "", tank), sheet, 16))
		c.hose("oil hose feed", 13, []geom.Vec{{1600, -352, 262}, {1588, -200, 262}, {1612, -90, 230}}, "", "sump", "oil tank", "block", "timing cover", "engine mount left")
		c.hose("oil hose return", 13, []geom.Vec{{1560, -110, 505}, {1516, -110, 505}, {1516, -300, 590}, {1570, -400, 630}}, "", "timing cover", "oil tank")
		return
	}
	tank := prism(axisX, 2222, 2425, rounded(point2{-165, 458}, point2{165, 650}, 35))
	c.oilTank(of(c.add("oil tank", "oil tank", powertrain, tank), casting, 17))
	c.join("oil tank", "transaxle")
	// The low sweep past the subframe side is what the packaging forgot.
	c.hose("oil hose feed", 13, []geom.Vec{
		{2250, -150, 520}, {2190, -240, 480}, {2100, -262, 330}, {1970, -262, 244}, {1860, -271, 217}, {1770, -256, 240}, {1700, -110, 232},
	}, "", "oil tank", "sump", "block")
	c.hose("oil hose return", 13, []geom.Vec{
		{1900, 110, 228}, {1970, 205, 240}, {2100, 250, 330}, {2195, 245, 480}, {2250, 150, 560},
	}, "", "oil tank", "sump", "block")
}

func (c *car) oilTank(p *layout.Part) {
	stands(p, 130, 150, "oil, common practice, no source")
	p.Thermal.HeldDegC = nil
	p.Thermal.HeatCapacityJK = new(26000.0) // about 10 l of oil; invented for the demo
}

// hose adds a rubber hose that is clamped to the parts named.
func (c *car) hose(name string, radiusMM float64, points []geom.Vec, group string, ends ...string) {
	m := c.tube(name, bent{radiusMM, 2.2 * radiusMM, points})
	p := of(c.add(name, "hose", group, m), rubber, 0.8)
	p.Fluid, p.LimitDegC = "Engine oil", &layout.Limit{Like: "HNBR"}
	if strings.HasPrefix(name, "coolant") {
		p.Fluid = "Coolant, ethylene glycol 50 %"
		stands(p, 125, 150, "coolant hose class D-1, D-2 EPDM, SAE J20; 150 for class D-3")
	}
	c.join(name, ends...)
}

// coolant adds the two coolant hoses from the firewall to the engine.
func (c *car) coolant() {
	c.hose("coolant hose feed", 18, []geom.Vec{{1466, -300, 420}, {1521, -300, 420}, {1521, -100, 420}, {1565, -100, 420}}, "", "firewall", "timing cover")
	c.hose("coolant hose return", 18, []geom.Vec{{1466, 300, 505}, {1521, 300, 505}, {1521, 105, 565}, {1565, 105, 565}}, "", "firewall", "timing cover")
}

// brakes adds the rear brake line, a route: a part made from points alone.
func (c *car) brakes() {
	c.doc.Routes = []layout.Route{{
		Name: "brake line", Role: "brake", DiameterMM: 6, BendRadiusMM: 25,
		PointsMM: []geom.Vec{{1466, 420, 245}, {2250, 420, 245}, {2350, 455, 350}, {2440, 600, 400}, {2505, 690, 400}},
	}}
	c.join("brake line", "firewall", "upright right")
}

// fuel adds tank, line and the two rails.
func (c *car) fuel() {
	tank := prism(axisY, -480, 480, rounded(point2{1335, 170}, point2{1455, 470}, 30))
	of(c.add("fuel tank", "fuel", "", tank), moulding, 46)
	for _, s := range sides {
		name := "fuel rail " + s.name
		stands(of(c.add(name, "fuel", powertrain, rod(s.at(1650, 92, 690), s.at(1965, 92, 690), 8)), steelTube, 0.4), 110, 135, "fuel rail, vapour: common practice, no source")
	}
	line := c.tube("fuel line", bent{6, 20, []geom.Vec{{1410, 180, 460}, {1410, 180, 620}, {1530, 168, 690}, {1655, 92, 690}}})
	p := of(c.add("fuel line", "fuel", powertrain, line), rubber, 0.3)
	stands(p, 100, 125, "fuel hose R6/R7: from memory, enter the maker's figure")
	c.join("fuel line", "fuel tank", "fuel rail right", "firewall")
}
