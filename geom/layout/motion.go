package layout

import "aftbay/geom"

// Group is a set of parts that move as one.
type Group struct {
	Name      string    `json:"name"`
	PivotMM   geom.Vec  `json:"pivot_mm,omitzero"`
	Motion    *Motion   `json:"motion,omitempty"`
	Positions string    `json:"positions,omitempty"` // CSV path: name,x_mm,y_mm,z_mm,roll_deg,pitch_deg,yaw_deg
	Mounts    []Spring  `json:"mounts,omitempty"`
	MassKg    *float64  `json:"mass_kg,omitempty"` // all that hangs on the mounts
	CgMM      *geom.Vec `json:"cg_mm,omitempty"`
	DrawnG    *geom.Vec `json:"drawn_g,omitempty"` // the load that the parts are drawn under, as Load.G
	Loads     []Load    `json:"loads,omitempty"`
	Notes     string    `json:"notes,omitempty"`
}

// Spring is an elastic mount of a group.
type Spring struct {
	Name  string   `json:"name,omitempty"`
	AtMM  geom.Vec `json:"at_mm"`
	KNMM  geom.Vec `json:"k_N_mm"` // stiffness along X, Y, Z, N/mm
	Notes string   `json:"notes,omitempty"`
}

// Load is a load case of a group on mounts: one more named position. G is the
// whole force on the mass, weight included, as a multiple of mass times
// standard gravity: [0, 0, −1] stands still.
type Load struct {
	Name     string   `json:"name"`
	G        geom.Vec `json:"g,omitzero"`
	TorqueNm geom.Vec `json:"torque_Nm,omitzero"` // on the group, right-hand rule
	Notes    string   `json:"notes,omitempty"`
}

// Range is [least, most].
type Range [2]float64

// Motion is a motion box about the group's pivot; an omitted range is [0, 0].
type Motion struct {
	XMM      Range  `json:"x_mm,omitzero"`
	YMM      Range  `json:"y_mm,omitzero"`
	ZMM      Range  `json:"z_mm,omitzero"`
	RollDeg  Range  `json:"roll_deg,omitzero"`
	PitchDeg Range  `json:"pitch_deg,omitzero"`
	YawDeg   Range  `json:"yaw_deg,omitzero"`
	Notes    string `json:"notes,omitempty"`
}

// States of the clearance check, as the file writes them.
const (
	StateStatic = "static"
	StateHot    = "hot"
	StateMoving = "moving"
	StateAll    = "all together"
)

// Rule asks for a least clearance between two selections in one state.
type Rule struct {
	A       string  `json:"a"` // selector: role:x, part:x, group:x or *
	B       string  `json:"b"`
	State   string  `json:"state,omitempty"` // StateStatic when empty
	LeastMM float64 `json:"least_mm"`
	Source  string  `json:"source,omitempty"`
	Notes   string  `json:"notes,omitempty"`
}

// Route is a tube along points, a part made from numbers.
type Route struct {
	Name         string     `json:"name"`
	Role         string     `json:"role"`
	DiameterMM   float64    `json:"diameter_mm"`
	PointsMM     []geom.Vec `json:"points_mm"`
	BendRadiusMM float64    `json:"bend_radius_mm,omitempty"`
	Group        string     `json:"group,omitempty"`
	Material     string     `json:"material,omitempty"`
	LimitDegC    *Limit     `json:"limit_degC,omitempty"`
	Fluid        string     `json:"fluid,omitempty"`
	Notes        string     `json:"notes,omitempty"`
}
