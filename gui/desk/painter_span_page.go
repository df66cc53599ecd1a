package desk

import (
	"cmp"
	"slices"

	"aftbay/thermal/balance"
)

// heatSpans is the room that the values of a picture take, in a soak over all
// its times: a slider through time keeps one scale. Bare numbers: °C or kW/m².
type heatSpans struct {
	of  [][2]float32 // least and largest per part
	top float32      // end of the scale
}

const (
	// scaleMoments is at how many moments of a soak the ends of the scale are
	// looked up; a film passes through them smoothly.
	scaleMoments = 13
	// scaleShare of the surface lies within the scale of a picture by patches: a
	// few spots beside a source would leave one colour for all others. Common
	// practice, no source.
	scaleShare = 0.98
)

// spansOf returns the spans of a case for what the picture shows.
func (h *heatFields) spansOf(a *Attention) heatSpans {
	key := fieldKey{momentKey: momentKey{caseAt: a.Case}, shows: a.Heat}
	if spans, known := h.spans[key]; known {
		return spans
	}
	endS, moments := h.result.EndS(a.Case), 1
	if endS > 0 {
		moments = scaleMoments
	}
	spans := heatSpans{}
	given := heldParts(h.result, &h.result.Cases[a.Case])
	for k := range moments {
		m := h.result.Moment(a.Case, endS*float64(k)/float64(max(1, moments-1)))
		if spans.of == nil {
			spans.of = make([][2]float32, len(m.Parts))
		}
		var pool pool
		for _, ph := range h.result.Cases[a.Case].Parts {
			values, span := valuesAt(m, ph.Part, a.Heat), &spans.of[ph.Part]
			for t, v := range values {
				if k == 0 && t == 0 {
					*span = [2]float32{v, v}
				}
				*span = [2]float32{min(span[0], v), max(span[1], v)}
			}
			if a.Heat == PartTemperature { // peaks fall between the moments
				span[1] = max(span[1], float32(ph.Temperature.NominalDegC))
			}
			if !given[ph.Name] {
				pool.add(values, h.areasOf(ph.Part, a.Heat))
				if a.Heat == PartTemperature {
					spans.top = max(spans.top, span[1])
				}
			}
		}
		if a.Heat != PartTemperature {
			spans.top = max(spans.top, pool.below(scaleShare))
		}
	}
	h.spans[key] = spans
	return spans
}

// valuesAt returns the figures of a part at a moment. Bare numbers: °C, kW/m².
func valuesAt(m *balance.Moment, i int, shows HeatPicture) []float32 {
	switch {
	case !m.Parts[i].Known:
		return nil
	case shows == Irradiated:
		return kilo(m.FineIrradiation(i))
	case shows == SkinTemperature:
		return m.FineSkinDegC(i)
	}
	return []float32{float32(m.Parts[i].Temperature.NominalDegC)}
}

// areasOf returns the areas that the values of a part stand for.
func (h *heatFields) areasOf(i int, shows HeatPicture) (areasMM2 []float64) {
	if shows == PartTemperature {
		return nil
	}
	areasMM2, known := h.areasMM2[i]
	if known {
		return areasMM2
	}
	if m := h.result.FineMesh(i); m != nil {
		for t := range m.Tris {
			x, y, z := m.Corners(t)
			areasMM2 = append(areasMM2, y.Sub(x).Cross(z.Sub(x)).Len()/2)
		}
	}
	h.areasMM2[i] = areasMM2
	return areasMM2
}

// pool is values with the surface that each stands for.
type pool []weighed

// weighed is a value of a piece of surface.
type weighed struct {
	value   float32
	areaMM2 float64
}

// add takes values in.
func (p *pool) add(values []float32, areasMM2 []float64) {
	for t, v := range values {
		if t < len(areasMM2) {
			*p = append(*p, weighed{v, areasMM2[t]})
		}
	}
}

// below returns the value below which a share of the surface lies.
func (p pool) below(share float64) float32 {
	slices.SortFunc(p, func(a, b weighed) int { return cmp.Compare(a.value, b.value) })
	var allMM2, upToMM2 float64
	for _, x := range p {
		allMM2 += x.areaMM2
	}
	for _, x := range p {
		if upToMM2 += x.areaMM2; upToMM2 >= share*allMM2 {
			return x.value
		}
	}
	return 0
}
