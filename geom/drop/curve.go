package drop

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/units"
)

// curveSteps is how finely the curve is drawn over the range.
const curveSteps = 40

// curve describes the state of things over the range, with both ends of the
// window among its points.
func (st *study) curve(ctx context.Context, r *Result, workers int) ([]Point, error) {
	drops := st.drops(r)
	points := make([]Point, len(drops))
	decks, err := st.scene.Select("role:deck")
	if err != nil {
		decks = nil // no such role in this layout: no deck clearance to tell
	}
	err = geom.Each(ctx, workers, len(drops), nil, func(i int) error {
		p := st.pointAt(drops[i], r.Mass)
		var err error
		p.DeckMM, err = st.deckMM(ctx, drops[i], decks)
		points[i] = p
		return err
	})
	return points, err
}

func (st *study) drops(r *Result) []float64 {
	lo, hi := st.within[0], st.within[1]
	var drops []float64
	for i := range curveSteps + 1 {
		drops = append(drops, lo+(hi-lo)*float64(i)/curveSteps)
	}
	for _, w := range []*Window{r.WindowMM, r.ReachMM} {
		if w != nil {
			drops = append(drops, w[0], w[1])
		}
	}
	if lo <= 0 && hi >= 0 {
		drops = append(drops, 0)
	}
	slices.Sort(drops)
	return slices.Compact(drops)
}

func (st *study) pointAt(dropMM float64, mass Mass) Point {
	p := Point{DropMM: dropMM, GroundMM: map[string]float64{}, HalfShafts: []ShaftAngles{}}
	for _, s := range st.shafts {
		p.HalfShafts = append(p.HalfShafts, s.anglesAt(dropMM))
	}
	if st.v == nil {
		return p
	}
	for _, att := range st.v.Attitudes {
		if mm, part := st.groundAt(NewRoad(st.v, att), dropMM, everything); part != "" {
			p.GroundMM[att.Name] = mm
		}
	}
	if a, ok := st.angleAt(departureOf, dropMM, everything); ok {
		deg := units.Deg(a.TangentRad)
		p.DepartureDeg = &deg
	}
	if a, ok := st.angleAt(rampOf, dropMM, everything); ok {
		deg := units.Deg(a.TangentRad)
		p.RampDeg = &deg
	}
	st.gravity(&p, mass)
	return p
}

// gravity fills in what the drop buys in height of the centre of gravity.
func (st *study) gravity(p *Point, mass Mass) {
	if st.v.CgMM == nil || st.v.MassKg <= 0 {
		return
	}
	cg := CGAt(*st.v.CgMM, st.v.MassKg, mass.GroupKg, st.shiftOf(p.DropMM, true))
	p.CGMM = &cg
	height := cg[2] - st.v.GroundZMM
	if st.v.TrackMM > 0 && height > 0 {
		transfer := LoadTransferN(st.v.MassKg, lateralG(st.v), height, st.v.TrackMM)
		factor := StabilityFactor(st.v.TrackMM, height)
		p.LoadTransferN, p.Stability = &transfer, &factor
	}
}

// deckMM returns the least clearance of the dropped group to the deck, 0 where
// they overlap, nil without a deck.
func (st *study) deckMM(ctx context.Context, dropMM float64, decks []int) (*float64, error) {
	least := math.Inf(1)
	for _, d := range decks {
		deck := st.scene.Body(d)
		if st.scene.Parts[d].Group == st.group {
			continue
		}
		for i := range st.scene.Parts {
			if st.scene.Parts[i].Group != st.group {
				continue
			}
			body := st.scene.Body(i)
			body.Pose.T = body.Pose.T.Add(st.shiftOf(dropMM, true))
			r, err := dist.Between(ctx, body, deck, dist.Options{EnoughMM: least})
			if err != nil {
				return nil, err
			}
			if r.Overlap {
				r.GapMM, r.AtLeast = 0, false
			}
			if !r.AtLeast {
				least = math.Min(least, r.GapMM)
			}
		}
	}
	if math.IsInf(least, 1) {
		return nil, nil
	}
	return &least, nil
}
