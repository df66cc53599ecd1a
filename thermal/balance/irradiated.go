package balance

import (
	"cmp"
	"math"
	"slices"

	"aftbay/thermal"
)

// sums holds, per part, the mean share of every emitter, and the patches.
type sums struct {
	patches [][]int // patches[part]: with a radiating side
	areaM2  []float64
	// share[part][column]: mean over those, of areas; direct alike.
	share, directShare [][]float64
	// takes[part][column]: absorbed per black emission, in m²; straight alike.
	takesM2, straightM2 [][]float64
}

// newSums prepares what answerRadiation reads.
func (st *study) newSums() *sums {
	n := len(st.parts)
	s := &sums{patches: make([][]int, n), areaM2: make([]float64, n)}
	for _, rows := range []*[][]float64{&s.share, &s.directShare, &s.takesM2, &s.straightM2} {
		*rows = make([][]float64, n)
		for i := range *rows {
			(*rows)[i] = make([]float64, st.received.Columns)
		}
	}
	for p := range st.set.Patches {
		pp := &st.set.Patches[p]
		if pp.Blind {
			continue
		}
		s.patches[pp.Part] = append(s.patches[pp.Part], p)
		s.areaM2[pp.Part] += pp.AreaM2
		takes := st.emission.Emissivity[p]
		direct := st.received.Direct(p)
		for c, share := range st.received.Row(p) {
			s.share[pp.Part][c] += pp.AreaM2 * share
			s.directShare[pp.Part][c] += pp.AreaM2 * direct[c]
			s.takesM2[pp.Part][c] += pp.AreaM2 * takes * share
			s.straightM2[pp.Part][c] += pp.AreaM2 * takes * direct[c]
		}
	}
	for i, areaM2 := range s.areaM2 {
		if areaM2 > 0 {
			for c := range s.share[i] {
				s.share[i][c] /= areaM2
				s.directShare[i][c] /= areaM2
			}
		}
	}
	return s
}

// answerRadiation sets the irradiation and where it comes from, the ways of
// heat and the hottest patch.
func (st *study) answerRadiation(ph *PartHeat, sol *solution, now state, s *sums) {
	emittedWM2 := st.emitted(sol.columns, now)
	ph.shares(st, s.share[ph.Part], s.directShare[ph.Part], emittedWM2)
	l := &Loads{ConvectedW: ph.ConvectiveW, ConductedW: ph.ConductedW, OwnW: ph.PowerW}
	var takenW float64
	for c, areaM2 := range s.takesM2[ph.Part] {
		takenW += areaM2 * emittedWM2[c]
		l.DirectW += s.straightM2[ph.Part][c] * emittedWM2[c]
	}
	l.ReflectedW, l.RadiatedW = takenW-l.DirectW, ph.RadiativeW-takenW
	ph.Loads = l
	skin := st.skinsOf(sol, ph.Part, now)
	for _, p := range s.patches[ph.Part] {
		var onWM2 float64
		for c, share := range st.received.Row(p) {
			onWM2 += share * emittedWM2[c]
		}
		if onWM2 > ph.Irradiation.PeakWM2 {
			ph.Irradiation.PeakWM2, ph.Irradiation.PeakAtMM = onWM2, st.set.Patches[p].CenterMM
		}
		if degC := thermal.Celsius(skin(p, onWM2)); ph.Skin == nil || degC > ph.Skin.PeakDegC {
			ph.Skin = &Skin{PeakDegC: degC, PeakAtMM: st.set.Patches[p].CenterMM}
		}
	}
}

// leastShare: smaller sources are not listed.
const leastShare = 1e-6

// shares sets the mean irradiation and its sources from the mean shares per
// emitter column; direct is the part of them without a reflection, nil where
// that is not told.
func (ph *PartHeat) shares(st *study, meanShares, directShares, emittedWM2 []float64) {
	n := len(st.parts)
	perPart, straight := make([]float64, n+1), make([]float64, n+1) // W/m²; last the surroundings
	for c, share := range meanShares {
		at := c
		switch {
		case c == len(meanShares)-1:
			at = n
		case c >= n:
			at = st.along[c-n]
		}
		perPart[at] += share * emittedWM2[c]
		if directShares != nil {
			straight[at] += directShares[c] * emittedWM2[c]
		}
	}
	for _, w := range perPart {
		ph.Irradiation.MeanWM2 += w
	}
	ph.From = []Share{}
	for i, w := range perPart {
		from := Share{Part: Surroundings, Share: w / math.Max(ph.Irradiation.MeanWM2, leastShare)}
		if from.Share < leastShare {
			continue
		}
		if i < n {
			from.Part = st.parts[i].name
		}
		if directShares != nil {
			from.DirectShare = math.Min(from.Share, straight[i]/math.Max(ph.Irradiation.MeanWM2, leastShare))
			from.ReflectedShare = from.Share - from.DirectShare
		}
		ph.From = append(ph.From, from)
	}
	slices.SortStableFunc(ph.From, func(a, b Share) int { return cmp.Compare(b.Share, a.Share) })
}
