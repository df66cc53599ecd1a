package layout

import "aftbay/geom"

// Heat is the heat study: its cases and how it is computed.
type Heat struct {
	Cases   []HeatCase `json:"cases,omitempty"`
	Spread  *Spread    `json:"spread,omitempty"`
	PatchMM *float64   `json:"patch_mm,omitempty"` // target edge length; 40 when absent
	Rays    *int       `json:"rays,omitempty"`     // per patch; 1024 when absent
	Seed    *uint64    `json:"seed,omitempty"`     // 1 when absent
	Shields []Shield   `json:"shields,omitempty"`  // on trial
	// Materials stand before the built-in table: rows of a name that it has
	// replace them.
	Materials []Material `json:"materials,omitempty"`
	Notes     string     `json:"notes,omitempty"`
}

// Material is a row of the layout's own material table. What is absent is taken
// from the row Like, or not known.
type Material struct {
	Name            string      `json:"name"`
	Like            string      `json:"like,omitempty"`       // row of the built-in table
	Emissivity      *[3]float64 `json:"emissivity,omitempty"` // low, typical, high
	ConductivityWMK *float64    `json:"conductivity_W_mK,omitempty"`
	DensityKgM3     *float64    `json:"density_kg_m3,omitempty"`
	HeatJKgK        *float64    `json:"heat_J_kgK,omitempty"`
	LimitDegC       *Limit      `json:"limit_degC,omitempty"`
	Source          string      `json:"source"`
	Notes           string      `json:"notes,omitempty"`
}

// Plume is the hotter air above hot parts: an input like the air itself.
type Plume struct {
	RiseK    float64  `json:"rise_K"`              // over the case's air
	HeightMM *float64 `json:"height_mm,omitempty"` // how far up; 300 when absent
	FromDegC *float64 `json:"from_degC,omitempty"` // above held parts at least this hot; 200 when absent
	Notes    string   `json:"notes,omitempty"`
}

// Shield is a heat shield on trial: a sheet at an offset from the part that it
// covers, towards another that it protects.
type Shield struct {
	Name            string   `json:"name"`
	Over            string   `json:"over"`                       // part name
	For             string   `json:"for"`                        // part name
	Form            string   `json:"form,omitempty"`             // shell (when empty) or plate
	OffsetMM        *float64 `json:"offset_mm,omitempty"`        // 15 when absent
	WidthMM         *float64 `json:"width_mm,omitempty"`         // of a plate, level
	HeightMM        *float64 `json:"height_mm,omitempty"`        // of a plate
	Material        string   `json:"material,omitempty"`         // name in the material table
	Emissivity      *float64 `json:"emissivity,omitempty"`       // of the face away from the covered part
	InnerEmissivity *float64 `json:"inner_emissivity,omitempty"` // of the face towards it; as the other when absent
	ThicknessMM     *float64 `json:"thickness_mm,omitempty"`
	Notes           string   `json:"notes,omitempty"`
}

// HeatCase is a steady case, or a soak when After names another case.
type HeatCase struct {
	Name             string   `json:"name"`
	After            string   `json:"after,omitempty"`
	AirDegC          *float64 `json:"air_degC,omitempty"`
	AirSpeedMS       *float64 `json:"air_speed_m_s,omitempty"`
	SurroundingsDegC *float64 `json:"surroundings_degC,omitempty"`
	FilmWM2K         *float64 `json:"film_W_m2K,omitempty"` // replaces the correlation for every part
	Minutes          *float64 `json:"minutes,omitempty"`
	AirSettlesDegC   *float64 `json:"air_settles_degC,omitempty"`
	AirTimeS         *float64 `json:"air_time_s,omitempty"`
	Plume            *Plume   `json:"plume,omitempty"`
	Notes            string   `json:"notes,omitempty"`
}

// Spread is how far the inputs may be off, for the low and high figures.
type Spread struct {
	SourceK       *float64 `json:"source_K,omitempty"`       // ± on held temperatures
	Emissivity    *float64 `json:"emissivity,omitempty"`     // ±
	Film          *Range   `json:"film,omitempty"`           // factors [least, most]
	AirK          *float64 `json:"air_K,omitempty"`          // ±
	SurroundingsK *float64 `json:"surroundings_K,omitempty"` // ±
	Notes         string   `json:"notes,omitempty"`
}

// Spot asks where a component can be mounted. The mesh sits with its mounting
// face on z = 0 of its own frame, body towards +Z.
type Spot struct {
	Name       string    `json:"name"`
	Mesh       string    `json:"mesh"`
	MeshUnit   string    `json:"mesh_unit,omitempty"`
	Role       string    `json:"role"`
	Hosts      []string  `json:"hosts"` // selectors
	ServeMM    *geom.Vec `json:"serve_mm,omitempty"`
	ReachMM    *float64  `json:"reach_mm,omitempty"`
	LimitDegC  *Limit    `json:"limit_degC,omitempty"`
	Tool       *Tool     `json:"tool,omitempty"`
	Thermal    *Thermal  `json:"thermal,omitempty"`
	Emissivity *float64  `json:"emissivity,omitempty"`
	Replaces   string    `json:"replaces,omitempty"` // part name that this component stands in for; left out of the search
	Lead       *Lead     `json:"lead,omitempty"`
	Pull       *geom.Vec `json:"pull,omitempty"`      // direction in which it comes off, vehicle axes; the host's normal when absent
	KeepFrom   []Keep    `json:"keep_from,omitempty"` // beside the rules
	SplashMM   *float64  `json:"splash_mm,omitempty"` // lowest height over the ground, as the car stands
	NotAbove   []string  `json:"not_above,omitempty"` // selectors: fill points and the like
	Weights    *Weights  `json:"weights,omitempty"`
	Notes      string    `json:"notes,omitempty"`
}

// Tool is the straight cylinder that must reach the component.
type Tool struct {
	DiameterMM float64   `json:"diameter_mm"`
	LengthMM   float64   `json:"length_mm"`
	AtMM       *geom.Vec `json:"at_mm,omitempty"`     // its tip, component frame; on top over the middle of the foot when absent
	SwingMM    *float64  `json:"swing_mm,omitempty"`  // length of the handle, square to the tool at its far end
	SwingDeg   *float64  `json:"swing_deg,omitempty"` // how far the handle must turn; 60 when absent
	Notes      string    `json:"notes,omitempty"`
}

// Lead is the wire from a component to what it serves.
type Lead struct {
	FromMM       *geom.Vec `json:"from_mm,omitempty"` // connector, component frame; the middle of its top when absent
	DiameterMM   *float64  `json:"diameter_mm,omitempty"`
	BendRadiusMM *float64  `json:"bend_radius_mm,omitempty"`
	HotMM        *float64  `json:"hot_mm,omitempty"` // to hot parts; what the rules ask of the component when absent
	Notes        string    `json:"notes,omitempty"`
}

// Keep is a distance to keep from some parts, at rest.
type Keep struct {
	From    string  `json:"from"` // selector
	LeastMM float64 `json:"least_mm"`
	Notes   string  `json:"notes,omitempty"`
}

// Weights say how much each margin counts; 1 when absent, 0 takes it out.
// Bare numbers: ratios.
type Weights struct {
	Temperature *float64 `json:"temperature,omitempty"`
	Clearance   *float64 `json:"clearance,omitempty"`
	Lead        *float64 `json:"lead,omitempty"`
	Notes       string   `json:"notes,omitempty"`
}
