package layout

import (
	"fmt"

	"aftbay/geom/say"
)

// checkDrop checks what the drop study adds to a layout.
func (c *checker) checkDrop() {
	if d := c.doc.Drop; d != nil {
		c.refer("/drop/group", d.Group, &c.groups)
		c.order("/drop/range_mm", d.RangeMM)
		if d.ShiftMM != nil {
			c.order("/drop/shift_mm", *d.ShiftMM)
		}
		points := names{word: say.Of("deck point")}
		for i, p := range d.DeckPoints {
			points.add(c, fmt.Sprintf("/drop/deck_points/%d", i), p.Name)
		}
	}
	lines := names{word: say.Of("shaft line")}
	for i := range c.doc.ShaftLines {
		l := &c.doc.ShaftLines[i]
		at := fmt.Sprintf("/shaft_lines/%d", i)
		lines.add(c, at, l.Name)
		c.refer(at+"/crank_group", l.CrankGroup, &c.groups)
		c.refer(at+"/input_group", l.InputGroup, &c.groups)
		c.direction(at+"/crank_axis", l.CrankAxis)
		c.direction(at+"/input_axis", l.InputAxis)
	}
	for i := range c.doc.Parts {
		others := names{word: say.Of("alternative")}
		for k, a := range c.doc.Parts[i].Alternatives {
			at := fmt.Sprintf("/parts/%d/alternatives/%d", i, k)
			others.add(c, at, a.Name)
			c.file(at+"/mesh", a.Mesh)
		}
	}
}
