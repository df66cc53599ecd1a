package layout

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/say"
)

func (c *checker) checkParts() {
	for i := range c.doc.Parts {
		p := &c.doc.Parts[i]
		at := fmt.Sprintf("/parts/%d", i)
		c.file(at+"/mesh", p.Mesh)
		c.refer(at+"/group", p.Group, &c.groups)
		c.limit(at+"/limit_degC", p.LimitDegC)
		c.thermal(at+"/thermal", p.Name, p.Thermal)
		if g := p.Growth; g != nil && 1+g.PerK*(g.ToDegC-g.FromDegC) <= 0 {
			c.fault(at+"/growth", say.Of("the part would shrink to nothing"), say.Of("check per_K and the two temperatures"))
		}
	}
	for i, pair := range c.doc.Joined {
		at := fmt.Sprintf("/joined/%d", i)
		for k, name := range pair {
			c.refer(fmt.Sprintf("%s/%d", at, k), name, &c.parts)
		}
		if pair[0] == pair[1] && pair[0] != "" {
			c.fault(at, say.F("%q is joined to itself", clip(pair[0])), say.Of("name two parts"))
		}
	}
}

func (c *checker) limit(at string, l *Limit) {
	if l != nil && l.ContinuousDegC != nil && l.PeakDegC != nil && *l.ContinuousDegC > *l.PeakDegC {
		c.fault(at, say.Of("the continuous limit is above the peak limit"), say.Of("swap or mend them"))
	}
}

func (c *checker) thermal(at, self string, t *Thermal) {
	if t == nil {
		return
	}
	if t.HeldDegC != nil && t.HeldAlong != nil {
		c.fault(at, say.Of("held_degC and held_along both given"), say.Of("keep one"))
	}
	if t.HeldOffK != nil && t.HeldDegC == nil && t.HeldAlong == nil {
		c.fault(at, say.Of("held_off_K says how far a held temperature may be off, but none is held"), say.Of("give held_degC or held_along, or take it away"))
	}
	if a := t.HeldAlong; a != nil && a.FromMM == a.ToMM {
		c.fault(at+"/held_along", say.Of("from_mm and to_mm are the same point"), say.Of("use held_degC for one temperature"))
	}
	if m := t.Mount; m != nil {
		c.refer(at+"/mount/to", m.To, &c.parts)
		if m.To == self && self != "" {
			c.fault(at+"/mount/to", say.Of("the part is mounted to itself"), say.Of("name the part that carries it"))
		}
	}
}

func (c *checker) checkGroups() {
	for i := range c.doc.Groups {
		g := &c.doc.Groups[i]
		at := fmt.Sprintf("/groups/%d", i)
		c.file(at+"/positions", g.Positions)
		c.mounts(at, g)
		m := g.Motion
		if m == nil {
			continue
		}
		at += "/motion/"
		c.order(at+"x_mm", m.XMM)
		c.order(at+"y_mm", m.YMM)
		c.order(at+"z_mm", m.ZMM)
		c.order(at+"roll_deg", m.RollDeg)
		c.order(at+"pitch_deg", m.PitchDeg)
		c.order(at+"yaw_deg", m.YawDeg)
	}
}

func (c *checker) checkRules() {
	for i, r := range c.doc.Rules {
		at := fmt.Sprintf("/rules/%d", i)
		c.selector(at+"/a", r.A)
		c.selector(at+"/b", r.B)
	}
}

func (c *checker) checkSpots() {
	spots := names{word: say.Of("spot")}
	for i := range c.doc.Spots {
		s := &c.doc.Spots[i]
		at := fmt.Sprintf("/spots/%d", i)
		spots.add(c, at, s.Name)
		c.file(at+"/mesh", s.Mesh)
		for k, host := range s.Hosts {
			c.selector(fmt.Sprintf("%s/hosts/%d", at, k), host)
		}
		c.limit(at+"/limit_degC", s.LimitDegC)
		c.thermal(at+"/thermal", "", s.Thermal)
		c.refer(at+"/replaces", s.Replaces, &c.parts)
		for k := range s.KeepFrom {
			c.selector(fmt.Sprintf("%s/keep_from/%d/from", at, k), s.KeepFrom[k].From)
		}
		for k, part := range s.NotAbove {
			c.selector(fmt.Sprintf("%s/not_above/%d", at, k), part)
		}
		c.mounting(at, s)
	}
}

// mounting checks what belongs together in one spot.
func (c *checker) mounting(at string, s *Spot) {
	if s.Pull != nil && *s.Pull == (geom.Vec{}) {
		c.fault(at+"/pull", say.Of("the direction [0, 0, 0] points nowhere"), say.Of("give a direction such as [0, 0, 1] for upward"))
	}
	if t := s.Tool; t != nil && t.SwingDeg != nil && t.SwingMM == nil {
		c.fault(at+"/tool/swing_deg", say.Of("swing_deg is given without swing_mm"), say.Of("add the length of the handle"))
	}
	if s.Lead != nil && s.ServeMM == nil {
		c.fault(at+"/lead", say.Of("lead is given without serve_mm"), say.Of("add the point that the lead must reach"))
	}
	if w := s.Weights; w != nil && zero(w.Temperature) && zero(w.Clearance) && zero(w.Lead) {
		c.fault(at+"/weights", say.Of("every weight is 0"), say.Of("leave at least one margin in the score"))
	}
	if d := s.Lead; d != nil && d.BendRadiusMM != nil && d.DiameterMM != nil && *d.BendRadiusMM > 0 && *d.BendRadiusMM < *d.DiameterMM/2 {
		c.fault(at+"/lead/bend_radius_mm", say.Of("the bend radius is less than half the diameter, so that the lead would fold"), say.Of("give at least half the diameter"))
	}
}

// zero reports whether a weight is given as 0. Bare numbers: a ratio.
func zero(weight *float64) bool { return weight != nil && *weight == 0 }

func (c *checker) checkRoutes() {
	for i := range c.doc.Routes {
		r := &c.doc.Routes[i]
		at := fmt.Sprintf("/routes/%d", i)
		c.refer(at+"/group", r.Group, &c.groups)
		c.distinct(at+"/points_mm", r.PointsMM)
	}
}

// distinct checks that no two neighbours in a list of points are the same.
func (c *checker) distinct(at string, points []geom.Vec) {
	for k := 1; k < len(points); k++ {
		if points[k] == points[k-1] {
			c.fault(fmt.Sprintf("%s/%d", at, k), say.Of("the same point twice in a row"), say.Of("leave one out"))
		}
	}
}
