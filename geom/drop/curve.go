package drop

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/say"
)

// curveSteps is how finely the curve is drawn over the range: 61 samples.
const curveSteps = 60

// curve describes the state of things over the range, with both ends of the
// windows among its points.
func (st *Study) curve(ctx context.Context, r *Result, workers int) ([]Point, error) {
	drops := st.drops(r)
	points := make([]Point, len(drops))
	decks, err := st.scene.Select("role:deck")
	if err != nil {
		decks = nil // no such role in this layout: no deck clearance to tell
	}
	err = geom.Each(ctx, workers, len(drops), nil, func(i int) error {
		p := st.At(drops[i])
		var err error
		p.DeckMM, err = st.deckMM(ctx, drops[i], decks)
		points[i] = p
		return err
	})
	return points, err
}

func (st *Study) drops(r *Result) []float64 {
	lo, hi := st.within[0], st.within[1]
	drops := samples(st.within)
	for _, w := range r.WindowsMM {
		drops = append(drops, w[0], w[1])
	}
	if r.ReachMM != nil {
		drops = append(drops, r.ReachMM[0], r.ReachMM[1])
	}
	if lo <= 0 && hi >= 0 {
		drops = append(drops, 0)
	}
	slices.Sort(drops)
	return slices.Compact(drops)
}

// samples returns evenly spaced drops over a range, both ends among them.
func samples(within Window) []float64 {
	drops := make([]float64, curveSteps+1)
	for i := range drops {
		drops[i] = within[0] + (within[1]-within[0])*float64(i)/curveSteps
	}
	return drops
}

// At returns the state of things at any drop, clearances excepted: what a
// slider shows while it is pulled. Cost: some tens of microseconds.
func (st *Study) At(dropMM float64) Point {
	shift := st.shift(dropMM)
	p := Point{DropMM: dropMM, GroundMM: map[string]float64{}, HalfShafts: []ShaftAngles{}, Deck: st.deckHeights(dropMM)}
	for _, s := range st.shafts {
		p.HalfShafts = append(p.HalfShafts, s.anglesAt(shift))
	}
	for i := range st.lines {
		p.ShaftLines = append(p.ShaftLines, st.lines[i].reading(shift))
	}
	st.heights(&p)
	st.road(&p)
	st.gravity(&p)
	return p
}

// heights fills in how high the group stands over the road.
func (st *Study) heights(p *Point) {
	var groundMM float64
	if st.v != nil {
		groundMM = st.v.GroundZMM
	}
	highMM := st.topMM - p.DropMM - groundMM
	p.HighestMM, p.HighestPart = &highMM, st.top
	if c := st.scene.Doc.Drop.CrankMM; c != nil {
		crankMM := c[2] - p.DropMM - groundMM
		p.CrankMM = &crankMM
	}
}

// road fills in heights and angles under the whole car.
func (st *Study) road(p *Point) {
	if st.v == nil {
		return
	}
	for _, att := range st.v.Attitudes {
		road := NewRoad(st.v, att)
		a, partA := st.groundAt(road, p.DropMM, follows)
		b, partB := st.groundAt(road, p.DropMM, stands)
		if partA != "" || partB != "" {
			p.GroundMM[att.Name] = math.Min(a, b)
		}
	}
	for axle, to := range []**float64{&p.UnderAxleMM.FrontMM, &p.UnderAxleMM.RearMM} {
		a, _ := st.underAxle(axle, p.DropMM, follows)
		b, _ := st.underAxle(axle, p.DropMM, stands)
		if mm := math.Min(a, b); !math.IsInf(mm, 1) {
			*to = &mm
		}
	}
	if st.v.TyreRadiusMM <= 0 || !st.noAxles().IsZero() {
		return
	}
	if a, ok := st.angleAt(departureOf(st.v), p.DropMM, follows, stands); ok {
		t := a.text()
		p.DepartureDeg, p.DepartureText = &t.TangentDeg, &t.ContactDeg
	}
	if a, ok := st.angleAt(rampOf(st.v), p.DropMM, follows, stands); ok {
		t := a.text()
		p.RampDeg, p.RampText = &t.TangentDeg, &t.ContactDeg
	}
}

// gravity fills in what the drop buys in height of the centre of gravity.
func (st *Study) gravity(p *Point) {
	m := &st.mass
	if st.v == nil || m.CGMM == nil || m.VehicleKg == nil {
		return
	}
	shift := st.shift(p.DropMM)
	cg := CGAt(*m.CGMM, *m.VehicleKg, m.GroupKg, shift)
	p.CGMM = &cg
	if m.GroupCGMM != nil {
		yaw := YawInertiaChangeKgM2(*m.CGMM, *m.VehicleKg, *m.GroupCGMM, m.GroupKg, shift)
		p.YawKgM2 = &yaw
	}
	height := cg[2] - st.v.GroundZMM
	if st.v.TrackMM > 0 && height > 0 {
		transfer := LoadTransferN(*m.VehicleKg, lateralG(st.v), height, st.v.TrackMM)
		factor := StabilityFactor(st.v.TrackMM, height)
		p.LoadTransferN, p.Stability = &transfer, &factor
	}
}

// gains lists what the drop buys from where the group stands to a drop.
func gains(from, to *Point) []Gain {
	out := []Gain{}
	add := func(what say.Text, unit string, a, b *float64) { // Bare numbers: in unit
		if a != nil && b != nil {
			out = append(out, Gain{what, unit, *a, *b, *b - *a})
		}
	}
	for i := range from.Deck {
		if i < len(to.Deck) && from.Deck[i].Name == to.Deck[i].Name {
			add(say.F("lowest deck at %s", from.Deck[i].Name), "mm", &from.Deck[i].LowestMM, &to.Deck[i].LowestMM)
		}
	}
	add(say.F("highest part, %s", to.HighestPart), "mm", from.HighestMM, to.HighestMM)
	add(say.Of("clearance to the deck"), "mm", from.DeckMM, to.DeckMM)
	add(say.Of("crank height"), "mm", from.CrankMM, to.CrankMM)
	add(say.Of("rear view seen"), "share", from.SeenShare, to.SeenShare)
	if from.CGMM != nil && to.CGMM != nil {
		add(say.Of("centre of gravity, x"), "mm", &from.CGMM[0], &to.CGMM[0])
		add(say.Of("centre of gravity, z"), "mm", &from.CGMM[2], &to.CGMM[2])
	}
	add(say.Of("lateral load transfer"), "N", from.LoadTransferN, to.LoadTransferN)
	add(say.Of("static stability factor"), "ratio", from.Stability, to.Stability)
	add(say.Of("yaw inertia against the start"), "kg m2", from.YawKgM2, to.YawKgM2)
	return out
}

// buys fills in what the drop to the end of the window buys.
func (st *Study) buys(r *Result) {
	r.Buys = []Gain{}
	end := r.WindowMM
	if end == nil {
		end = r.ReachMM
	}
	if end != nil {
		r.Buys = r.Gains(end[1])
	}
}

// Gains lists what going down to a drop buys, from where the group stands. The
// clearance to the deck is among it where the curve holds both drops.
func (r *Result) Gains(dropMM float64) []Gain {
	from, to := r.At(0), r.At(dropMM)
	return gains(&from, &to)
}

// GainsAside is Gains for a group that is also shifted rearward.
func (r *Result) GainsAside(dropMM, shiftMM float64) []Gain {
	if shiftMM == 0 || r.study == nil {
		return r.Gains(dropMM)
	}
	from, to := r.At(0), r.study.Shifted(shiftMM).At(dropMM)
	return gains(&from, &to)
}

// At returns the state of things at any drop: clearances only where the curve
// has that drop.
func (r *Result) At(dropMM float64) Point {
	for i := range r.Curve {
		if r.Curve[i].DropMM == dropMM {
			return r.Curve[i]
		}
	}
	if r.study == nil {
		return Point{DropMM: dropMM}
	}
	return r.study.At(dropMM)
}
