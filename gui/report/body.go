package report

import (
	"aftbay/geom/mesh"
)

// Body is one part of the scene as it stands, for the views that a reader can
// turn. Corners are in vehicle axes, mm.
type Body struct {
	Name, Role string
	Mesh       *mesh.Mesh // placed
	Colour     [3]uint8   // of its role
	Ghost      bool       // drawn see-through: it stands around everything else
	Verdict    Verdict    // of its most pressing finding, empty without one
	// NominalDegC is its temperature in HeatCase, nil where none is known;
	// HeatColour goes with it.
	NominalDegC *float64
	HeatColour  [3]uint8
}

// Scene is the layout as it stands.
type Scene struct {
	Bodies   []Body
	HeatCase string // that the temperatures are of, empty without any
	// HeatScale is the scale of the temperatures' colours, from cold to hot.
	HeatScale []HeatTint
}

// HeatTint is the colour of a temperature.
type HeatTint struct {
	AtDegC float64
	Colour [3]uint8
}

// verdictColour is the colour of a body by its verdict.
func (o *Body) verdictColour() [3]uint8 {
	_, colour := o.Verdict.sign()
	return colour
}

// heatColour is the colour of a body by its temperature, grey without one.
func (o *Body) heatColour() [3]uint8 {
	if o.NominalDegC == nil {
		return [3]uint8{200, 203, 205}
	}
	return o.HeatColour
}
