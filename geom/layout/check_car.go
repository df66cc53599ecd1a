package layout

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/say"
)

func (c *checker) checkVehicle() {
	if v := c.doc.Vehicle; v != nil {
		given := v.FrontAxleMM != geom.Vec{} || v.RearAxleMM != geom.Vec{}
		if given && v.RearAxleMM[0] <= v.FrontAxleMM[0] {
			c.fault("/vehicle", say.Of("the rear axle isn't behind the front axle"), say.Of("give both axles; X points rearward"))
		}
		attitudes := names{word: say.Of("attitude"), are: say.Of("the attitudes are:")}
		for i, a := range v.Attitudes {
			attitudes.add(c, fmt.Sprintf("/vehicle/attitudes/%d", i), a.Name)
		}
	}
	shafts := names{word: say.Of("half-shaft")}
	for i, h := range c.doc.HalfShafts {
		at := fmt.Sprintf("/half_shafts/%d", i)
		shafts.add(c, at, h.Name)
		c.refer(at+"/inner_group", h.InnerGroup, &c.groups)
		if h.InnerMM == h.OuterMM && h.Name != "" {
			c.fault(at, say.Of("inner_mm and outer_mm are the same point"), say.Of("give the two joints"))
		}
		c.direction(at+"/inner_axis", h.InnerAxis)
		c.direction(at+"/outer_axis", h.OuterAxis)
	}
}

func (c *checker) checkRearView() {
	r := c.doc.RearView
	if r == nil {
		return
	}
	const at = "/rear_view"
	if r.RPointMM != nil && len(r.EyesMM) > 0 {
		c.fault(at, say.Of("r_point_mm and eyes_mm both given"), say.Of("keep one"))
	}
	c.distinct(at+"/eyes_mm", r.EyesMM)
	c.distinct(at+"/glass_mm", r.GlassMM)
	c.checkVariants(r)
	if f := r.Forward; f != nil {
		c.distinct(at+"/forward/target_mm", f.TargetMM)
		c.distinct(at+"/forward/glass_mm", f.GlassMM)
	}
	m := r.Mirror
	if m == nil {
		return
	}
	if m.Normal != nil && m.Aim != nil {
		c.fault(at+"/mirror", say.Of("normal and aim both given"), say.Of("keep one"))
	}
	c.direction(at+"/mirror/normal", m.Normal)
	c.direction(at+"/mirror/aim", m.Aim)
	c.direction(at+"/mirror/up", m.Up)
}

// checkVariants checks what the variants of the view name.
func (c *checker) checkVariants(r *RearView) {
	variants := names{word: say.Of("variant")}
	for i, v := range r.Variants {
		at := fmt.Sprintf("/rear_view/variants/%d", i)
		variants.add(c, at, v.Name)
		for k, p := range v.Parts {
			c.refer(fmt.Sprintf("%s/parts/%d/part", at, k), p.Part, &c.parts)
		}
		for k, name := range v.Without {
			c.refer(fmt.Sprintf("%s/without/%d", at, k), name, &c.parts)
		}
		if len(v.Parts)+len(v.Without) == 0 {
			c.fault(at, say.Of("the variant changes nothing"), say.Of("name parts that move, or parts that are left out under without"))
		}
	}
}

func (c *checker) direction(at string, v *geom.Vec) {
	if v != nil && v.Len() == 0 {
		c.fault(at, say.Of("the direction [0, 0, 0] points nowhere"), say.Of("give a direction"))
	}
}

func (c *checker) checkHeat() {
	h := c.doc.Heat
	if h == nil {
		return
	}
	cases := names{word: say.Of("case"), are: say.Of("the cases are:")}
	for i := range h.Cases {
		hc := &h.Cases[i]
		at := fmt.Sprintf("/heat/cases/%d", i)
		if hc.After != "" && hc.After == hc.Name {
			c.fault(at+"/after", say.Of("the case follows itself"), say.Of("name an earlier case"))
		} else if later(h.Cases[i:], hc.After) && !cases.has[hc.After] {
			c.fault(at+"/after", say.F("the case %q comes later", clip(hc.After)), say.Of("put it before this one"))
		} else {
			c.refer(at+"/after", hc.After, &cases)
		}
		cases.add(c, at, hc.Name)
	}
	if s := h.Spread; s != nil && s.Film != nil {
		c.order("/heat/spread/film", *s.Film)
	}
	c.checkShields(h.Shields)
	materials := names{word: say.Of("material"), are: say.Of("the materials are:")}
	for i := range h.Materials {
		m := &h.Materials[i]
		at := fmt.Sprintf("/heat/materials/%d", i)
		materials.add(c, at, m.Name)
		if e := m.Emissivity; e != nil && !(e[0] <= e[1] && e[1] <= e[2]) {
			c.fault(at+"/emissivity", say.F("[%g, %g, %g] isn't in order", e[0], e[1], e[2]), say.Of("write low, typical, high"))
		}
	}
}

// checkShields checks the shields on trial. Their names join those of the parts
// only on trial, but must differ from them.
func (c *checker) checkShields(shields []Shield) {
	list := names{word: say.Of("shield"), are: say.Of("the shields are:")}
	for i := range shields {
		sh := &shields[i]
		at := fmt.Sprintf("/heat/shields/%d", i)
		list.add(c, at, sh.Name)
		if c.parts.has[sh.Name] {
			c.fault(at+"/name", say.F("a part is called %q too", clip(sh.Name)), say.Of("give the shield a name of its own"))
		}
		c.refer(at+"/over", sh.Over, &c.parts)
		c.refer(at+"/for", sh.For, &c.parts)
		if sh.Over == sh.For && sh.Over != "" {
			c.fault(at+"/for", say.Of("the shield protects the part that it covers"), say.Of("name the part that it shall protect"))
		}
	}
}

// later reports whether one of the cases has the name.
func later(cases []HeatCase, name string) bool {
	for i := range cases {
		if name != "" && cases[i].Name == name {
			return true
		}
	}
	return false
}
