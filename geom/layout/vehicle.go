package layout

import "aftbay/geom"

// Vehicle is the car that the powertrain sits in.
type Vehicle struct {
	FrontAxleMM       geom.Vec   `json:"front_axle_mm,omitzero"`
	RearAxleMM        geom.Vec   `json:"rear_axle_mm,omitzero"`
	TyreRadiusMM      float64    `json:"tyre_radius_mm,omitempty"` // static loaded radius
	TrackMM           float64    `json:"track_mm,omitempty"`
	GroundZMM         float64    `json:"ground_z_mm,omitempty"`
	MassKg            float64    `json:"mass_kg,omitempty"`
	CgMM              *geom.Vec  `json:"cg_mm,omitempty"`
	LateralG          *float64   `json:"lateral_g,omitempty"` // 1 when absent
	LeastDepartureDeg *float64   `json:"least_departure_deg,omitempty"`
	LeastRampDeg      *float64   `json:"least_ramp_deg,omitempty"`
	LeastUnderAxleMM  *float64   `json:"least_under_axle_mm,omitempty"` // apex of the arc between the tyres
	Attitudes         []Attitude `json:"attitudes,omitempty"`
	Notes             string     `json:"notes,omitempty"`
}

// Attitude is how far the body sits down at each axle in one load state.
type Attitude struct {
	Name          string   `json:"name"`
	FrontDownMM   float64  `json:"front_down_mm,omitempty"`
	RearDownMM    float64  `json:"rear_down_mm,omitempty"`
	LeastGroundMM *float64 `json:"least_ground_mm,omitempty"`
	Notes         string   `json:"notes,omitempty"`
}

// HalfShaft joins a gearbox flange to a wheel that travels.
type HalfShaft struct {
	Name       string      `json:"name"`
	InnerMM    geom.Vec    `json:"inner_mm"`
	InnerGroup string      `json:"inner_group,omitempty"`
	InnerAxis  *geom.Vec   `json:"inner_axis,omitempty"` // of the flange, along Y when absent
	OuterMM    geom.Vec    `json:"outer_mm"`
	OuterAxis  *geom.Vec   `json:"outer_axis,omitempty"` // of the hub, along Y when absent
	BumpMM     float64     `json:"bump_mm,omitempty"`    // wheel up, positive
	ReboundMM  float64     `json:"rebound_mm,omitempty"` // wheel down, positive
	LimitDeg   *JointLimit `json:"limit_deg,omitempty"`
	PlungeMM   *float64    `json:"plunge_mm,omitempty"` // whole stroke
	Notes      string      `json:"notes,omitempty"`
}

// JointLimit is the largest joint angle, standing and over the travel.
type JointLimit struct {
	StaticDeg *float64 `json:"static,omitempty"`
	TravelDeg *float64 `json:"travel,omitempty"`
	Notes     string   `json:"notes,omitempty"`
}

// RearView is the driver's inside mirror and what it looks through.
type RearView struct {
	RPointMM    *geom.Vec  `json:"r_point_mm,omitempty"`
	EyesMM      []geom.Vec `json:"eyes_mm,omitempty"` // [left, right], or none
	Mirror      *Mirror    `json:"mirror,omitempty"`
	GlassMM     []geom.Vec `json:"glass_mm,omitempty"` // polygon corners
	RearEndXMM  *float64   `json:"rear_end_x_mm,omitempty"`
	Requirement string     `json:"requirement,omitempty"` // "UN R46 class I", "US 571.111" or "free field"
	Attitude    string     `json:"attitude,omitempty"`    // of the vehicle; as drawn when absent
	Field       *RearField `json:"field,omitempty"`       // of "free field"

	Variants []ViewVariant `json:"variants,omitempty"`
	Forward  *Forward      `json:"forward,omitempty"`
	Notes    string        `json:"notes,omitempty"`
}

// Forward is a line ahead of the car that the driver must see directly.
type Forward struct {
	TargetMM   []geom.Vec `json:"target_mm"`             // its two ends
	GlassMM    []geom.Vec `json:"glass_mm,omitempty"`    // polygon corners of the windscreen
	LeastShare *float64   `json:"least_share,omitempty"` // seen by either eye; 1 when absent
	Notes      string     `json:"notes,omitempty"`
}

// RearField is a road strip of the user's own, about the middle of the car.
type RearField struct {
	NearMM     float64  `json:"near_mm"`          // behind the eyes
	FarMM      *float64 `json:"far_mm,omitempty"` // the horizon when absent
	WidthMM    float64  `json:"width_mm"`
	LeastShare *float64 `json:"least_share,omitempty"` // seen by either eye; 1 when absent
	Notes      string   `json:"notes,omitempty"`
}

// ViewVariant is the view with some parts elsewhere, such as a lid up.
type ViewVariant struct {
	Name    string      `json:"name"`
	Parts   []ViewShift `json:"parts,omitempty"`
	Without []string    `json:"without,omitempty"` // parts that are left out
	Notes   string      `json:"notes,omitempty"`
}

// ViewShift moves one part of a variant from where it is posed.
type ViewShift struct {
	Part    string   `json:"part"`
	MoveMM  geom.Vec `json:"move_mm,omitzero"`
	TurnDeg geom.Vec `json:"turn_deg,omitzero"` // about PivotMM: X first, then Y, then Z
	PivotMM geom.Vec `json:"pivot_mm,omitzero"` // vehicle axes
	Notes   string   `json:"notes,omitempty"`
}

// Mirror is a flat rectangle, either with its normal or aimed.
type Mirror struct {
	CentreMM geom.Vec  `json:"centre_mm"`
	WidthMM  float64   `json:"width_mm"`
	HeightMM float64   `json:"height_mm"`
	Normal   *geom.Vec `json:"normal,omitempty"`
	Aim      *geom.Vec `json:"aim,omitempty"` // direction of the view after reflection
	Up       *geom.Vec `json:"up,omitempty"`
	Notes    string    `json:"notes,omitempty"`
}
