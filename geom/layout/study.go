package layout

import "aftbay/geom"

// Drop says which group goes down, how far it is studied, and what the drop
// is asked to buy.
type Drop struct {
	Group      string      `json:"group"`
	RangeMM    Range       `json:"range_mm"`
	ShiftMM    *Range      `json:"shift_mm,omitempty"` // fore-aft range of the map, rearward positive
	CrankMM    *geom.Vec   `json:"crank_mm,omitempty"` // a point of the crank axis; it goes along
	DeckPoints []DeckPoint `json:"deck_points,omitempty"`
	Notes      string      `json:"notes,omitempty"`
}

// DeckPoint is a place in plan at which the height of the deck matters.
type DeckPoint struct {
	Name  string     `json:"name"`
	AtMM  [2]float64 `json:"at_mm"` // x, y
	Notes string     `json:"notes,omitempty"`
}

// ShaftLine is where the crank drives the gearbox input: two axes that should
// be one. Each point goes along with its group.
type ShaftLine struct {
	Name           string    `json:"name"`
	CrankMM        geom.Vec  `json:"crank_mm"`
	CrankAxis      *geom.Vec `json:"crank_axis,omitempty"` // along X when absent
	CrankGroup     string    `json:"crank_group,omitempty"`
	InputMM        geom.Vec  `json:"input_mm"`
	InputAxis      *geom.Vec `json:"input_axis,omitempty"` // along X when absent
	InputGroup     string    `json:"input_group,omitempty"`
	BoreRunoutMM   *float64  `json:"bore_runout_mm,omitempty"`   // most total indicator reading of the bore
	FaceRunoutMM   *float64  `json:"face_runout_mm,omitempty"`   // most total indicator reading of the face
	FaceDiameterMM *float64  `json:"face_diameter_mm,omitempty"` // at which the face is read
	Source         string    `json:"source,omitempty"`
	Notes          string    `json:"notes,omitempty"`
}

// Alternative is another mesh for a part, to be compared with the present one.
// It stands in the part's place; what is not given stays as the part has it.
type Alternative struct {
	Name     string   `json:"name"`
	Mesh     string   `json:"mesh"`
	MeshUnit string   `json:"mesh_unit,omitempty"`
	MassKg   *float64 `json:"mass_kg,omitempty"`
	Notes    string   `json:"notes,omitempty"`
}
