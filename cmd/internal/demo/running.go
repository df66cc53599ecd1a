package demo

import "aftbay/geom"

const (
	wheelZMM    = 320.0
	rearAxleMM  = 2550.0
	halfTrackMM = 790.0
)

// running adds wheels, uprights, links, dampers and the subframe.
func (c *car) running() {
	for _, s := range sides {
		c.wheel("front wheel "+s.name, s, 0, 235)
		c.wheel("rear wheel "+s.name, s, rearAxleMM, 275)
		c.suspension(s)
		c.subframe(s)
	}
	c.bar("subframe cross front", 22, geom.Vec{1545, -300, 172}, geom.Vec{1545, 300, 172})
	c.bar("subframe cross rear", 22, geom.Vec{2840, -300, 200}, geom.Vec{2840, 300, 200})
}

// wheel is a cup open to the inside: tyre, barrel and disc in one.
func (c *car) wheel(name string, s side, xMM, widthMM float64) {
	w := widthMM
	inner := s.at(xMM, halfTrackMM-w/2, wheelZMM)
	m := turned(inner, s.at(0, 1, 0), []point2{
		{w - 85, 0}, {w - 85, 215}, {0, 215}, {0, 298}, {14, 320}, {w - 14, 320}, {w, 298}, {w, 228}, {w - 40, 215}, {w - 40, 0},
	}, 2*roundSides)
	p := of(c.add(name, "wheel", "", m), rubber, 21)
	p.Thermal.ThicknessMM = new(12.0)
}

func (c *car) bar(name string, radiusMM float64, from, to geom.Vec) {
	of(c.add(name, "suspension", "", rod(from, to, radiusMM)), steelTube, 3)
}

func (c *car) suspension(s side) {
	upright := "upright " + s.name
	of(c.add(upright, "suspension", "", s.box(geom.Vec{2500, 672, 185}, geom.Vec{2600, 846, 452})), casting, 9)
	c.join(upright, "rear wheel "+s.name)
	links := []struct {
		name     string
		from, to geom.Vec
		on       string
	}{
		{"lower link front", s.at(2288, 318, 204), s.at(2518, 690, 205), "subframe side"},
		{"lower link rear", s.at(2770, 318, 204), s.at(2588, 690, 205), "subframe side"},
		{"toe link", s.at(2405, 312, 222), s.at(2507, 690, 258), "subframe side"},
		{"upper link", s.at(2428, 474, 482), s.at(2540, 690, 436), "subframe brace"},
	}
	for _, l := range links {
		name := l.name + " " + s.name
		c.bar(name, 13, l.from, l.to)
		c.join(name, upright, l.on+" "+s.name)
	}
	damper := turned(s.at(2634, 596, 206), s.at(8, -36, 420), []point2{{0, 0}, {0, 14}, {95, 14}, {95, 34}, {360, 34}, {360, 16}, {424, 16}, {424, 0}}, roundSides)
	of(c.add("damper "+s.name, "suspension", "", damper), steelTube, 3.5)
	c.join("damper "+s.name, "lower link rear "+s.name, "subframe brace "+s.name)
}

func (c *car) subframe(s side) {
	sideTube, brace := "subframe side "+s.name, "subframe brace "+s.name
	c.bar(sideTube, 25, s.at(1500, 300, 200), s.at(2865, 300, 200))
	m := c.tube(brace, bent{20, 60, []geom.Vec{s.at(2345, 302, 206), s.at(2424, 470, 480), s.at(2650, 545, 640)}})
	of(c.add(brace, "suspension", "", m), steelTube, 3)
	c.join(sideTube, brace, "subframe cross front", "subframe cross rear")
}
