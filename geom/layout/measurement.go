package layout

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/say"
)

// Measurement is a distance or angle that was asked for in the scene. It follows
// the parts that its ends are on.
type Measurement struct {
	From  MeasuredEnd `json:"from"`
	To    MeasuredEnd `json:"to"`
	Notes string      `json:"notes,omitempty"`
}

// MeasuredEnd is one end of a measurement. A part that is gone leaves it without
// a figure.
type MeasuredEnd struct {
	Part  string   `json:"part"`
	What  string   `json:"what"`           // point, edge, axis, face or part
	AtMM  geom.Vec `json:"at_mm"`          // in the frame of the part's mesh, in mm
	ToMM  geom.Vec `json:"to_mm,omitzero"` // other end of an edge or axis; of a face, straight out of it
	Notes string   `json:"notes,omitempty"`
}

// checkMeasurements asks that what has a direction says it.
func (c *checker) checkMeasurements() {
	for i := range c.doc.Measurements {
		m := &c.doc.Measurements[i]
		for k, e := range [2]*MeasuredEnd{&m.From, &m.To} {
			switch e.What {
			case "edge", "axis", "face":
				if e.ToMM == e.AtMM {
					at := fmt.Sprintf("/measurements/%d/%s/to_mm", i, [2]string{"from", "to"}[k])
					c.fault(at, say.F("to_mm is where at_mm is, so the %s has no direction", e.What), say.Of("say its other end, or measure it anew"))
				}
			}
		}
	}
}
