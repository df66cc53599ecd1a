package desk

import (
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
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
	return d.Edit(phrase.F("mount %s at place %d", u.Study, u.Place.Rank), func(doc *layout.Document) error { return mountAt(doc, u) })
}

// JointUses returns the uses of all components that can be mounted together;
// empty without such an answer and while it is of an earlier state.
func JointUses(s *State) []Use {
	r := s.Answers.Spots.Value
	if r == nil || r.Joint == nil || !s.Answers.Spots.Fresh {
		return nil
	}
	var out []Use
	for _, place := range r.Joint.Places {
		for i := range r.Studies {
			st := &r.Studies[i]
			if st.Name == place.Component && place.Rank >= 1 && place.Rank <= len(st.Spots) {
				out = append(out, Use{st.Name, st.Spots[place.Rank-1]})
			}
		}
	}
	return out
}

// UseSpots mounts several components as one edit.
func (d *Desk) UseSpots(uses []Use) error {
	return d.Edit(phrase.F("mount %d components together", len(uses)), func(doc *layout.Document) error {
		for _, u := range uses {
			if err := mountAt(doc, u); err != nil {
				return err
			}
		}
		return nil
	})
}

// mountAt puts a component into a document as a part in its place.
func mountAt(doc *layout.Document, u Use) error {
	study, at := u.Study, u.Place
	i := slices.IndexFunc(doc.Spots, func(s layout.Spot) bool { return s.Name == study })
	if i < 0 {
		return say.New("the layout no longer asks for this component")
	}
	c := &doc.Spots[i]
	if c.Replaces == "" {
		part := layout.Part{Name: c.Name, Role: c.Role, LimitDegC: c.LimitDegC, Emissivity: c.Emissivity}
		if c.Thermal != nil {
			own := *c.Thermal
			if own.Mount != nil {
				mount := *own.Mount
				own.Mount = &mount
			}
			part.Thermal = &own
		}
		doc.Parts = append(doc.Parts, part)
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
}

// SetPriority gives one margin of a component more weight than the others, as
// an edit; "" weighs all alike.
func (d *Desk) SetPriority(study, margin string) error {
	return d.Edit(phrase.Of("what matters most for ")+study, func(doc *layout.Document) error {
		i := slices.IndexFunc(doc.Spots, func(s layout.Spot) bool { return s.Name == study })
		if i < 0 {
			return say.New("the layout no longer asks for this component")
		}
		weight := float64(priorityWeight)
		switch margin {
		case PriorityCool:
			doc.Spots[i].Weights = &layout.Weights{Temperature: &weight}
		case PriorityClear:
			doc.Spots[i].Weights = &layout.Weights{Clearance: &weight}
		case PriorityLead:
			doc.Spots[i].Weights = &layout.Weights{Lead: &weight}
		default:
			doc.Spots[i].Weights = nil
		}
		return nil
	})
}

// What can matter most. Read-only.
var (
	PriorityNone  = phrase.Of("all alike")
	PriorityCool  = phrase.Of("a cool place")
	PriorityClear = phrase.Of("room around it")
	PriorityLead  = phrase.Of("a short lead")
	priorityOwn   = phrase.Of("weights of the layout file")
)

// Priorities lists what can matter most. Read-only.
var Priorities = []string{PriorityNone, PriorityCool, PriorityClear, PriorityLead}

// priorityWeight is the weight of what matters most; the others have 1.
const priorityWeight = 3

// PriorityOf tells what matters most for the component that is looked at.
func PriorityOf(s *State, a *Attention) string {
	st := StudyOf(s, a)
	if st == nil || s.Doc == nil {
		return PriorityNone
	}
	i := slices.IndexFunc(s.Doc.Spots, func(q layout.Spot) bool { return q.Name == st.Name })
	if i < 0 || s.Doc.Spots[i].Weights == nil {
		return PriorityNone
	}
	w := s.Doc.Spots[i].Weights
	is := func(weight *float64) bool { return weight != nil && *weight == priorityWeight }
	switch {
	case is(w.Temperature) && w.Clearance == nil && w.Lead == nil:
		return PriorityCool
	case is(w.Clearance) && w.Temperature == nil && w.Lead == nil:
		return PriorityClear
	case is(w.Lead) && w.Temperature == nil && w.Clearance == nil:
		return PriorityLead
	}
	return priorityOwn
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
