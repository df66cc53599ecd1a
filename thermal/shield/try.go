package shield

import (
	"context"
	"math"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal"
	"aftbay/thermal/balance"
	"aftbay/thermal/material"
)

// Trial is what a shield does.
type Trial struct {
	Name    string   `json:"name"`
	Over    string   `json:"over"`
	For     string   `json:"for"`
	AreaMM2 float64  `json:"area_mm2"`
	Cuts    []string `json:"cuts"` // parts that the sheet crosses
	// Changes of every part whose temperature or irradiation changes, in every
	// case: the protected part first, then the largest fall of temperature.
	Changes  []Change        `json:"changes"`
	Itself   []Itself        `json:"itself"` // the sheet, case by case
	Sentence say.Text        `json:"sentence"`
	Assumed  []say.Text      `json:"assumed,omitempty"`
	Caution  string          `json:"caution"`
	Part     layout.Part     `json:"-"` // to keep it; its mesh has no file yet
	Mesh     *mesh.Mesh      `json:"-"` // vehicle frame
	Before   *balance.Result `json:"-"`
	After    *balance.Result `json:"-"`
}

// Change is one part in one case, without and with the shield.
type Change struct {
	Case   string  `json:"case"`
	Part   string  `json:"part"`
	Before State   `json:"before"`
	After  State   `json:"after"`
	ByK    float64 `json:"by_K"` // nominal, after less before
}

// State is what is compared.
type State struct {
	Temperature    balance.Band `json:"temperature_degC"`
	IrradiationWM2 float64      `json:"irradiation_W_m2"` // mean
	MarginK        *float64     `json:"margin_K"`         // limit less nominal
	HighMarginK    *float64     `json:"high_margin_K"`    // limit less high
	Verdict        string       `json:"verdict"`
}

// Itself is the sheet in one case. A shield that runs hot is itself a source.
type Itself struct {
	Case        string       `json:"case"`
	Temperature balance.Band `json:"temperature_degC"`
}

// Changes smaller than both are not listed.
const (
	leastChangeK     = 0.5
	leastChangeShare = 0.02
)

// Try solves the scene with a shield. before is the answer without it, nil to
// have it solved too; it must come from the same scene and options. Same input,
// same bits, whatever the number of workers.
func Try(ctx context.Context, s *scene.Scene, before *balance.Result, sh *layout.Shield, o balance.Options, progress geom.Progress) (*Trial, error) {
	sheet, err := Form(ctx, s, sh)
	if err != nil {
		return nil, say.Errorf("shield %q: %w", sh.Name, err)
	}
	if _, taken := s.Index(sh.Name); taken {
		return nil, say.Errorf("shield %q: a part has that name: give it another", sh.Name)
	}
	if s.Doc.Heat == nil || len(s.Doc.Heat.Cases) == 0 {
		return nil, say.Errorf("shield %q: the layout has no heat case to try it in: add one under heat.cases", sh.Name)
	}
	t := &Trial{Name: sh.Name, Over: sh.Over, For: sh.For, Cuts: []string{}, Mesh: sheet, Caution: thermal.Caution}
	tables, err := material.For(s.Doc)
	if err != nil {
		return nil, err
	}
	t.Part = partFor(sh, s, tables, t)
	extra := scene.Part{
		Index: len(s.Parts), Name: sh.Name, Role: t.Part.Role, Layout: &t.Part, Pose: geom.Identity(), Box: sheet.Box(),
		Shape: scene.ShapeOf(sheet),
	}
	extra.Closed = false // it stands for a sheet even where its edges meet
	t.AreaMM2 = extra.Measures.AreaMM2
	if before == nil {
		if before, err = balance.Run(ctx, s, o, nil); err != nil {
			return nil, err
		}
	}
	o.Extra, o.Prev = []scene.Part{extra}, before
	after, err := balance.Run(ctx, s, o, progress)
	if err != nil {
		return nil, err
	}
	t.Before, t.After = before, after
	if t.Cuts, err = cuts(ctx, s, &extra); err != nil {
		return nil, err
	}
	t.compare(len(s.Parts))
	t.Sentence = t.sentence()
	return t, nil
}

// usualEmissivity of both faces: a foil shield in service. Source: the row
// "Aluminium foil shield, embossed, in service" of the material table (common
// practice).
const usualEmissivity = 0.15

const usualMaterial = "Aluminium foil shield, embossed, in service (dust, oil film)"

// partFor returns the shield as a part of the layout.
func partFor(sh *layout.Shield, s *scene.Scene, tables *material.Tables, t *Trial) layout.Part {
	over, _ := s.Index(sh.Over)
	p := layout.Part{
		Name: sh.Name, Role: "shield", Group: s.Parts[over].Group, Material: sh.Material,
		Emissivity: sh.Emissivity, InnerEmissivity: sh.InnerEmissivity, Notes: sh.Notes,
	}
	if p.Material == "" {
		p.Material = usualMaterial
		t.Assumed = append(t.Assumed, say.F("material %q, none is given (common practice)", usualMaterial))
	}
	if p.InnerEmissivity == nil {
		p.InnerEmissivity = sh.Emissivity
	}
	if p.InnerEmissivity == nil {
		inner := balance.EmissivityOf(tables, p.Material, usualEmissivity)
		p.InnerEmissivity = &inner
	}
	if sh.ThicknessMM != nil {
		p.Thermal = &layout.Thermal{ThicknessMM: sh.ThicknessMM}
	}
	return p
}

// cuts lists the parts that a sheet crosses.
func cuts(ctx context.Context, s *scene.Scene, sheet *scene.Part) ([]string, error) {
	out := []string{}
	body := dist.Body{Tree: sheet.Tree, Pose: sheet.Pose}
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Role == "sightline" || p.Role == "road" || p.Box.GapMM(sheet.Box) > 0 {
			continue
		}
		r, err := dist.Between(ctx, body, s.Body(i), dist.Options{EnoughMM: leastGapMM})
		if err != nil {
			return nil, err
		}
		if r.Overlap {
			out = append(out, p.Name)
		}
	}
	return out, nil
}

// compare lists what changes.
func (t *Trial) compare(sheet int) {
	t.Changes, t.Itself = []Change{}, []Itself{}
	for k := range t.After.Cases {
		a := &t.After.Cases[k]
		was := map[int]*balance.PartHeat{}
		for i := range t.Before.Cases[k].Parts {
			was[t.Before.Cases[k].Parts[i].Part] = &t.Before.Cases[k].Parts[i]
		}
		for i := range a.Parts {
			p := &a.Parts[i]
			if p.Part == sheet {
				t.Itself = append(t.Itself, Itself{Case: a.Name, Temperature: p.Temperature})
				continue
			}
			c := Change{Case: a.Name, Part: p.Name, Before: stateOf(was[p.Part]), After: stateOf(p)}
			c.ByK = c.After.Temperature.NominalDegC - c.Before.Temperature.NominalDegC
			byWM2 := math.Abs(c.After.IrradiationWM2 - c.Before.IrradiationWM2)
			if p.Name == t.For || math.Abs(c.ByK) >= leastChangeK || byWM2 >= leastChangeShare*c.Before.IrradiationWM2 {
				t.Changes = append(t.Changes, c)
			}
		}
	}
	slices.SortStableFunc(t.Changes, func(a, b Change) int {
		switch {
		case (a.Part == t.For) != (b.Part == t.For):
			if a.Part == t.For {
				return -1
			}
			return 1
		case a.Part == t.For, a.ByK == b.ByK:
			return 0
		case a.ByK < b.ByK:
			return -1
		}
		return 1
	})
}

func stateOf(p *balance.PartHeat) State {
	return State{Temperature: p.Temperature, IrradiationWM2: p.Irradiation.MeanWM2, MarginK: p.MarginK, HighMarginK: p.HighMarginK, Verdict: p.Verdict}
}

// sentence says what it does for the part that it protects, in the case that is
// hottest without it.
func (t *Trial) sentence() say.Text {
	worst := -1
	for i := range t.Changes {
		if c := &t.Changes[i]; c.Part == t.For && (worst < 0 || c.Before.Temperature.NominalDegC > t.Changes[worst].Before.Temperature.NominalDegC) {
			worst = i
		}
	}
	if worst < 0 {
		return say.F("%s takes no part in a heat case: nothing to compare.", t.For)
	}
	c := &t.Changes[worst]
	text := say.F("%s in %s: %.0f °C (%.0f to %.0f) without, %.0f °C (%.0f to %.0f) with %s.", t.For, c.Case,
		c.Before.Temperature.NominalDegC, c.Before.Temperature.LowDegC, c.Before.Temperature.HighDegC,
		c.After.Temperature.NominalDegC, c.After.Temperature.LowDegC, c.After.Temperature.HighDegC, t.Name)
	for _, it := range t.Itself {
		if it.Case == c.Case {
			text = say.F("%s The shield itself runs at %.0f °C.", text, it.Temperature.NominalDegC)
		}
	}
	if len(t.Cuts) > 0 {
		text = say.F("%s It cuts %s.", text, strings.Join(t.Cuts, ", "))
	}
	return text
}
