package desk

import (
	"errors"
	"fmt"
	"slices"

	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal"
	"aftbay/thermal/balance"
)

// HeatCaution stands wherever heat figures stand. Read-only.
var HeatCaution = phrase.Of(thermal.Caution) + phrase.Of(" No measured validation yet.")

// HeatCautions stand on the heat page: where people or the car can be hurt.
// They are reminders, no limits of ours. Read-only.
var HeatCautions = HeatColours + phrase.Of(thermal.Validation) + " " + hurts

// HeatColours explains the colours of the picture. Read-only.
var HeatColours = phrase.Of("Colours: nominal figures; what is hotter than the scale takes its top colour. ")

// hurts says how. Read-only.
var hurts = phrase.Of("Touching hot metal burns at once, fluids on it can ignite, and parts go on heating after key-off. " +
	"Follow local codes and let qualified people judge; measure before anybody relies on a figure.")

// HeatPicture is what the picture of the heat page shows.
type HeatPicture int

// What it can show.
const (
	PartTemperature HeatPicture = iota // of each part as a whole
	SkinTemperature                    // of each patch of its surface
	Irradiated                         // what falls on each patch
)

// HeatPictures names them, for a choice. Read-only.
var HeatPictures = []string{phrase.Of("temperature of parts"), phrase.Of("temperature of skin"), "irradiation"}

// heatWords name them in the picture. Read-only.
var heatWords = []string{"temperature", phrase.Of("skin temperature"), "irradiation"}

// HeatCases names the cases of the answer.
func HeatCases(s *State) []string {
	r := s.Answers.Heat.Value
	if r == nil {
		return nil
	}
	var names []string
	for i := range r.Cases {
		name := r.Cases[i].Name
		if r.Cases[i].After != "" {
			name += ", peaks"
		}
		names = append(names, name)
	}
	return names
}

// HeatPage lists the parts of a case, those over their limit on top, then by
// how near they come to it, then the rest by temperature.
func HeatPage(r *balance.Result, k int) Table {
	t := Table{Columns: []Column{
		text(phrase.Of("part")), number(phrase.Of("low °C")), number(phrase.Of("nominal")), number(phrase.Of("high")), number(phrase.Of("limit")), text(phrase.Of("most from")),
	}}
	if k < 0 || k >= len(r.Cases) {
		return t
	}
	for _, p := range sortedHeat(r.Cases[k].Parts) {
		low, nominal, high := units.NumberDegC(p.Temperature.LowDegC), units.NumberDegC(p.Temperature.NominalDegC), units.NumberDegC(p.Temperature.HighDegC)
		from := "" // its share stands beside the part, there is no room for it here
		if len(p.From) > 0 {
			from = p.From[0].Part
		}
		if p.Held {
			from = "held"
		}
		limit := ""
		if p.LimitDegC != nil {
			limit = units.NumberDegC(*p.LimitDegC)
		}
		t.Rows = append(t.Rows, Row{
			Cells: []string{p.Name, low, nominal, high, limit, from}, Verdict: p.Verdict, Key: p.Name, Parts: []string{p.Name},
		})
	}
	return t
}

// sortedHeat returns the parts as compareHeat orders them.
func sortedHeat(parts []balance.PartHeat) []*balance.PartHeat {
	out := make([]*balance.PartHeat, len(parts))
	for i := range parts {
		out[i] = &parts[i]
	}
	slices.SortStableFunc(out, func(a, b *balance.PartHeat) int { return compareHeat(*a, *b) })
	return out
}

// compareHeat orders parts: verdict, then margin of the high end, then hottest
// first.
func compareHeat(a, b balance.PartHeat) int {
	if ra, rb := heatRank(a.Verdict), heatRank(b.Verdict); ra != rb {
		return ra - rb
	}
	x, y := -a.Temperature.NominalDegC, -b.Temperature.NominalDegC
	if a.HighMarginK != nil && b.HighMarginK != nil {
		x, y = *a.HighMarginK, *b.HighMarginK
	}
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

func heatRank(verdict string) int {
	return slices.Index([]string{balance.Over, balance.Close, balance.OK, balance.NoLimit}, verdict)
}

func sharesText(shares []balance.Share) string {
	s := ""
	for i, share := range shares {
		if i == 2 || share.Share < 0.02 {
			break
		}
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("%s %.0f %%", share.Part, 100*share.Share)
	}
	return s
}

// HeatSentence says in one line what is hottest against its limit in a case.
func HeatSentence(s *State, k int) string {
	a := &s.Answers.Heat
	prefix := ""
	switch {
	case errors.Is(a.Err, ErrCancelled) && a.Rough:
		prefix = phrase.Of("Coarse only, ") + phrase.Err(a.Err) + ". "
	case a.Rough:
		prefix = phrase.Of("Coarse, refining. ")
	case a.Err != nil:
		return phrase.Err(a.Err)
	case a.Value != nil && !a.Fresh:
		prefix = phrase.Of("Before the last change: ")
	}
	switch {
	case a.Value == nil:
		return phrase.Of("Computing temperatures …")
	case k >= len(a.Value.Cases):
		return noHeatCase
	}
	c := &a.Value.Cases[k]
	n := judge([]balance.Case{*c})
	if n.worst == nil {
		return prefix + phrase.Of("No part has a temperature limit: nothing is judged.")
	}
	return phrase.F("%s%s. Worst: %s: %s.", prefix, n.text(), n.worst.Name, n.worst.Temperature.Judged(*n.worst.LimitDegC))
}

// Cautions are what the help shows: reminders where people can be hurt, not
// limits of ours.
func Cautions() string {
	return HeatCaution + "\n\n" + phrase.Of(thermal.Validation) + "\n\n" + hurts + "\n\n" +
		phrase.Of("Never work under a raised vehicle or a hanging powertrain that is not on stands or slings made for it: defer to local codes and qualified people.")
}
