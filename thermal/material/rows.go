package material

// Emissivity is one surface and what it radiates beside a black one.
type Emissivity struct {
	Name              string  `json:"material"`
	LowEmissivity     float64 `json:"low"`
	TypicalEmissivity float64 `json:"typical"`
	HighEmissivity    float64 `json:"high"`
	Kind              string  `json:"kind"`   // total, or the band it was read in
	Temperatures      string  `json:"temp_C"` // °C, as printed
	Source            string  `json:"source"`
	Status            string  `json:"status"`
	Solid             string  `json:"solid,omitempty"` // the solid usually under this surface; common practice
}

// Solid is one bulk material.
type Solid struct {
	Name            string  `json:"material"`
	DensityKgM3     float64 `json:"rho"`
	HeatJKgK        float64 `json:"cp"`
	ConductivityWMK float64 `json:"k"`
	Source          string  `json:"source"`
	Status          string  `json:"status"`
	Surface         string  `json:"surface,omitempty"` // its usual surface; common practice
}

// Limit is what a kind of part or plastic stands; nil means not known.
type Limit struct {
	Item           string   `json:"item"`
	ContinuousDegC *float64 `json:"continuous_C"`
	ShortDegC      *float64 `json:"short_C"`
	Source         string   `json:"source"`
	Status         string   `json:"status"`
}

// CableClass is a vehicle cable's temperature class.
type CableClass struct {
	Letter    string  `json:"letter"`
	LeastDegC float64 `json:"T_min"`
	MostDegC  float64 `json:"T_max"`
	Source    string  `json:"source"`
	Status    string  `json:"status"`
}

// InsulationClass is a thermal class of electrical insulation.
type InsulationClass struct {
	Class    string  `json:"cls"`
	MostDegC float64 `json:"T"`
	Source   string  `json:"source"`
	Status   string  `json:"status"`
}

// Condition is a typical figure of a bay, low to high, in the unit its text
// names.
type Condition struct {
	What   string   `json:"what"`
	Low    *float64 `json:"low"`  // Bare numbers: the row's text names the unit
	High   *float64 `json:"high"` // Bare numbers: the row's text names the unit
	Source string   `json:"source"`
	Status string   `json:"status"`
}

// Ignition is the range in which published tests saw a fluid ignite on a hot
// surface.
type Ignition struct {
	Fluid    string  `json:"fluid"`
	LowDegC  float64 `json:"low_C"`
	HighDegC float64 `json:"high_C"`
	HighNote string  `json:"high_note"`
	Source   string  `json:"source"`
	Status   string  `json:"status"`
}

// FlaskIgnition is a fluid's ignition temperature in a closed flask, as text.
type FlaskIgnition struct {
	Fluid        string `json:"fluid"`
	Temperatures string `json:"AIT_C"`
	Source       string `json:"source"`
	Status       string `json:"status"`
}

// Burn is the temperature of bare smooth metal that burns skin after a contact
// time.
type Burn struct {
	Contact      string `json:"contact"`
	Temperatures string `json:"T_C"`
	Source       string `json:"source"`
	Status       string `json:"status"`
}

// OtherBurn is the same for another surface and about one second of contact.
type OtherBurn struct {
	Surface      string `json:"material"`
	Temperatures string `json:"T_C_1s"`
	Source       string `json:"source"`
	Status       string `json:"status"`
}
