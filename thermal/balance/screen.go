package balance

import "math"

// ScreenShare returns the share of the radiation between two grey surfaces that
// one thin sheet between them, bright on both sides, lets through. Ratios of
// emissivities, 0..1; all three must be above 0.
//
// Source: one radiation shield between large parallel planes: the resistance
// 1/ε₁ + 1/ε₂ − 1 grows by that of the sheet, 2/ε − 1 (Incropera, DeWitt,
// radiation shields, from memory).
func ScreenShare(sourceEmissivity, spotEmissivity, sheetEmissivity float64) float64 {
	bare := 1/sourceEmissivity + 1/spotEmissivity - 1
	return bare / (bare + 2/sheetEmissivity - 1)
}

// Screened returns the view with what comes from one part cut down to a share,
// as by a sheet in between; the sheet's other side counts as surroundings. An
// estimate: the sheet's own temperature is not solved for. passShare: 0..1.
func (r *Result) Screened(v *View, part string, passShare float64) (*View, error) {
	i, err := r.study.partOf(part)
	if err != nil {
		return nil, err
	}
	out := *v
	out.meanShare = append([]float64(nil), v.meanShare...)
	last := len(out.meanShare) - 1
	n := len(r.study.parts)
	for c := range last {
		if c == i || c >= n && r.study.along[c-n] == i {
			out.meanShare[last] += out.meanShare[c] * (1 - passShare)
			out.meanShare[c] *= passShare
		}
	}
	return &out, nil
}

// EmissivityOf returns a part's emissivity as the study took it, 0.9 for a name
// that it does not know.
func (r *Result) EmissivityOf(part string) float64 {
	i, err := r.study.partOf(part)
	if err != nil {
		return usualEmissivity
	}
	return math.Max(r.study.parts[i].outer.emissivity, leastEmissivity)
}
