package desk

import (
	"errors"
	"fmt"
	"slices"

	"aftbay/geom/layout"
	"aftbay/thermal/spot"
)

// Use is a component and the place where it is to be mounted.
type Use struct {
	Study string
	Place spot.Spot
}

// UseOf returns the use of the place that is looked at; ok is false without one
// and while the answer is of an earlier state.
func UseOf(s *State, a *Attention) (u Use, ok bool) {
	st, sp := StudyOf(s, a), SpotOf(s, a)
	if sp == nil || !s.Answers.Spots.Fresh {
		return u, false
	}
	return Use{st.Name, *sp}, true
}

// UseSpot mounts a component as an edit: the part that it replaces moves there,
// or a new part is added.
func (d *Desk) UseSpot(u Use) error {
	study, at := u.Study, u.Place
	return d.Edit(fmt.Sprintf("mount %s at place %d", study, at.Rank), func(doc *layout.Document) error {
		i := slices.IndexFunc(doc.Spots, func(s layout.Spot) bool { return s.Name == study })
		if i < 0 {
			return errors.New("the layout no longer asks for this component")
		}
		c := &doc.Spots[i]
		if c.Replaces == "" {
			doc.Parts = append(doc.Parts, layout.Part{
				Name: c.Name, Role: c.Role, LimitDegC: c.LimitDegC, Thermal: c.Thermal, Emissivity: c.Emissivity,
			})
			c.Replaces = c.Name // a later search leaves it out
		}
		p, err := partOf(doc, c.Replaces)
		if err != nil {
			return err
		}
		p.Mesh, p.MeshUnit = c.Mesh, c.MeshUnit
		p.MoveMM, p.TurnDeg, p.Group = at.PointMM, at.TurnDeg, at.Group
		p.Growth = nil // its anchor was of the old place
		if p.Thermal != nil && p.Thermal.Mount != nil {
			p.Thermal.Mount.To = at.Host
		}
		join(doc, p.Name, at.Host)
		return nil
	})
}

// join states that two parts touch on purpose.
func join(doc *layout.Document, a, b string) {
	for _, pair := range doc.Joined {
		if pair == [2]string{a, b} || pair == [2]string{b, a} {
			return
		}
	}
	doc.Joined = append(doc.Joined, [2]string{a, b})
}
