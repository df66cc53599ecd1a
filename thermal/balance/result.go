package balance

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
)

// Surroundings is the name under which sources list what no part covers.
const Surroundings = "surroundings"

// Band is a temperature with its uncertainty.
type Band struct {
	LowDegC     float64 `json:"low"`
	NominalDegC float64 `json:"nominal"`
	HighDegC    float64 `json:"high"`
}

// Irradiation is what falls on the radiating sides of a part, reflections
// included.
type Irradiation struct {
	MeanWM2  float64  `json:"mean"`
	PeakWM2  float64  `json:"peak"`
	PeakAtMM geom.Vec `json:"peak_at_mm"` // vehicle frame
}

// Share is one source's part of the irradiation: what comes straight from it
// and what others throw back of it. A component's is not split.
type Share struct {
	Part           string  `json:"part"`
	Share          float64 `json:"share"`
	DirectShare    float64 `json:"direct,omitempty"`
	ReflectedShare float64 `json:"reflected,omitempty"`
}

// Sample is one point of a soak curve.
type Sample struct {
	TimeS           float64 `json:"time_s"`
	TemperatureDegC float64 `json:"temperature_degC"`
	LowDegC         float64 `json:"low_degC"`
	HighDegC        float64 `json:"high_degC"`
}

// Skin is the hottest place of a part's surface: what it would read if heat went
// from it into the part through the wall alone and none along it. The part's own
// temperature is the mean over its bulk. In a first, coarse answer, and of a held
// part, it is the mean over a patch; so is the peak of the irradiation.
type Skin struct {
	PeakDegC float64  `json:"peak_degC"`
	PeakAtMM geom.Vec `json:"peak_at_mm"` // vehicle frame
}

// Loads are the ways in which a part takes and gives heat, W; into the part is
// positive. Their sum is NetW.
type Loads struct {
	DirectW    float64 `json:"direct_W"`    // absorbed, straight from other surfaces
	ReflectedW float64 `json:"reflected_W"` // absorbed, thrown back by others
	ConvectedW float64 `json:"convected_W"`
	ConductedW float64 `json:"conducted_W"`
	OwnW       float64 `json:"own_W"`
	RadiatedW  float64 `json:"radiated_W"` // what the part itself sends out; never positive
}

// Effect is what one uncertain input does to a temperature: the changes when it
// is moved over its spread.
type Effect struct {
	Input say.Text `json:"input"`
	DownK float64  `json:"down_K"` // at most 0
	UpK   float64  `json:"up_K"`   // at least 0
}

// PartHeat is the answer for one part in one case. In a soak the temperature is
// the peak, and irradiation, shares and flows are those of its moment.
type PartHeat struct {
	Part        int         `json:"-"` // index in the scene, −1 for a component
	Name        string      `json:"name"`
	Held        bool        `json:"held"`
	Irradiation Irradiation `json:"irradiation_W_m2"`
	Temperature Band        `json:"temperature_degC"`
	HottestDegC *float64    `json:"hottest_degC,omitempty"` // of a part held along a line
	Skin        *Skin       `json:"skin,omitempty"`
	PeakTimeS   *float64    `json:"peak_time_s"`                  // null in a standing case
	AboveLimitS *float64    `json:"above_limit_s,omitempty"`      // of the nominal
	HighAboveS  *float64    `json:"high_above_limit_s,omitempty"` // of the high end
	EndDegC     *float64    `json:"end_degC,omitempty"`
	LimitDegC   *float64    `json:"limit"`
	LimitSource string      `json:"limit_source,omitempty"`
	LimitHabit  bool        `json:"limit_habit,omitempty"` // common practice, no source
	MarginK     *float64    `json:"margin_K"`              // limit less nominal
	HighMarginK *float64    `json:"high_margin_K"`         // limit less high
	Verdict     string      `json:"verdict"`
	Burn        *Burn       `json:"burn,omitempty"` // shortest contact that may burn skin, high end
	From        []Share     `json:"from"`           // largest first
	Emissivity  float64     `json:"emissivity"`
	FilmWM2K    float64     `json:"film_W_m2K"`
	RadiativeW  float64     `json:"radiative_W"`
	ConvectiveW float64     `json:"convective_W"`
	ConductedW  float64     `json:"conducted_W"`
	PowerW      float64     `json:"power_W"`
	NetW        float64     `json:"net_W"`
	Loads       *Loads      `json:"loads,omitempty"`
	Effects     []Effect    `json:"effects,omitempty"` // of the band, the largest first
	Curve       []Sample    `json:"curve,omitempty"`
}

// Case is one load case with all its parts.
type Case struct {
	Name     string     `json:"name"`
	After    string     `json:"after,omitempty"`
	Parts    []PartHeat `json:"parts"`
	BalanceW float64    `json:"balance_W"` // sum of NetW; in a soak, at its end
	// What held parts and powers supply, and what reaches surroundings and air,
	// counted apart; equal in a standing case. Zero in a soak.
	SuppliedW float64 `json:"supplied_W"`
	TakenW    float64 `json:"taken_W"`

	solved *solution
}

// Result is all cases.
type Result struct {
	Cases             []Case     `json:"cases"`
	LargestCorrection float64    `json:"largest_correction"` // Bare numbers: of any view factor, by the repair
	Patches           int        `json:"patches"`
	Rays              int        `json:"rays"`        // all that were shot
	Traced            int        `json:"-"`           // of them, those not taken over from Options.Prev
	Exact             int        `json:"exact_pairs"` // pairs of patches whose view factor is by the contour form
	Warnings          []Warning  `json:"warnings"`
	Assumed           []say.Text `json:"assumed,omitempty"`
	Caution           string     `json:"caution"`
	Validation        string     `json:"validation"`       // what the figures were held against
	Coarse            bool       `json:"coarse,omitempty"` // a first answer, to be refined

	study *study
}

// Figures returns what a result tells, without what it was worked out from: its
// rays are most of it. Moments and Factors need those, comparisons do not.
func (r *Result) Figures() *Result {
	bare := *r
	bare.study = nil
	bare.Cases = slices.Clone(r.Cases)
	for k := range bare.Cases {
		bare.Cases[k].solved = nil
	}
	return &bare
}

// Factor is one view factor between parts.
type Factor struct {
	From          string  `json:"from"`
	To            string  `json:"to"`
	ValueFactor   float64 `json:"value"`
	StandardError float64 `json:"standard_error"` // Bare numbers: of the factor
}

// Factors lists the view factors that are not 0, row by row; a row sums to 1. Of
// a layout without a heat case there are none, unless Options.Factors asked.
func (r *Result) Factors() []Factor {
	var out []Factor
	if r.study == nil {
		return out
	}
	table := r.study.factors.Table()
	for i, row := range table.Factor {
		for j, value := range row {
			if value == 0 {
				continue
			}
			to := Surroundings
			if j < len(r.study.parts) {
				to = r.study.parts[j].name
			}
			out = append(out, Factor{From: r.study.parts[i].name, To: to, ValueFactor: value, StandardError: table.StandardError[i][j]})
		}
	}
	return out
}
