package drop

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// set fills in the largest drop from the windows.
func (l Limit) set(windows []Window, within Window) Limit {
	l.WindowsMM, l.key = windows, l.Name.String()
	if windows == nil {
		l.WindowsMM = []Window{}
	}
	l.Reached = true
	if n := len(windows); n > 0 {
		most := windows[n-1][1]
		l.MostMM, l.Reached = &most, most < within[1]
	}
	return l
}

// fixed returns the limits that need no distance between meshes, with their
// windows within a range.
func (st *Study) fixed(within Window) []Limit {
	return append(append(append(st.shaftLimits(within), st.lineLimits(within)...), st.groundLimits(within)...), st.angleLimits(within)...)
}

// groundLimits gives one limit for each attitude that asks for a height: the
// height of the group falls by cos(tilt) for each mm of drop.
func (st *Study) groundLimits(within Window) []Limit {
	if st.v == nil {
		return nil
	}
	var out []Limit
	for _, att := range st.v.Attitudes {
		if att.LeastGroundMM == nil {
			continue
		}
		road := NewRoad(st.v, att)
		heightMM, part := st.groundAt(road, 0, follows)
		if part == "" {
			continue
		}
		mostMM := (heightMM - *att.LeastGroundMM) / road.cos
		out = append(out, Limit{
			Name: say.F("ground clearance, %s", att.Name), Kind: KindGround, Source: say.Of("layout file, vehicle attitudes"), Unit: "mm", Allowed: *att.LeastGroundMM,
			event: say.F("%s comes down to %s over the road, attitude %s", part, units.FormatMM(*att.LeastGroundMM), att.Name),
			value: func(dropMM float64) float64 { return heightMM - road.cos*dropMM },
		}.set(clip(Window{math.Inf(-1), mostMM}, within), within))
	}
	return out
}

// angleLimits gives the departure, ramp and under-axle limits where the file
// asks for them.
func (st *Study) angleLimits(within Window) []Limit {
	if st.v == nil || !st.noAxles().IsZero() {
		return nil
	}
	var out []Limit
	angle := func(name string, leastDeg *float64, of angleOf) {
		if leastDeg == nil || st.v.TyreRadiusMM <= 0 {
			return
		}
		if _, ok := st.angleAt(of, 0, follows); !ok {
			return
		}
		l := Limit{
			Name: say.F("%s angle", say.Word(name)), Kind: name, Source: say.Of("layout file, vehicle; by the tyre tangent"), Unit: "deg", Allowed: *leastDeg,
			event: say.F("%s angle falls to %s by the tyre tangent", say.Word(name), units.FormatDeg(*leastDeg)),
			value: func(dropMM float64) float64 {
				a, _ := st.angleAt(of, dropMM, follows)
				return units.Deg(a.TangentRad)
			},
		}
		out = append(out, l.set(scan(within, func(dropMM float64) bool { return l.value(dropMM) >= *leastDeg }), within))
	}
	angle(KindDeparture, st.v.LeastDepartureDeg, departureOf(st.v))
	angle(KindRamp, st.v.LeastRampDeg, rampOf(st.v))
	leastMM := st.v.LeastUnderAxleMM
	if leastMM == nil {
		return out
	}
	for axle, name := range [2]string{"front", "rear"} {
		_, part := st.underAxle(axle, 0, follows)
		if part == "" {
			continue
		}
		l := Limit{
			Name: say.F("clearance under the %s axle", say.Word(name)), Kind: KindUnderAxle, Source: say.Of("layout file, vehicle"), Unit: "mm", Allowed: *leastMM,
			event: say.F("%s leaves %s under the %s axle", part, units.FormatMM(*leastMM), say.Word(name)),
			value: func(dropMM float64) float64 { mm, _ := st.underAxle(axle, dropMM, follows); return mm },
		}
		out = append(out, l.set(scan(within, func(dropMM float64) bool { return l.value(dropMM) >= *leastMM }), within))
	}
	return out
}

// shaftLimits gives the joint angle and plunge limits of every half-shaft.
func (st *Study) shaftLimits(within Window) []Limit {
	source := say.Of("layout file, half-shafts")
	var out []Limit
	for _, s := range st.shafts {
		if s.LimitDeg != nil {
			out = append(out, st.jointLimits(s, say.Of("standing"), 0, s.LimitDeg.StaticDeg, within)...)
			out = append(out, st.jointLimits(s, say.Of("at full bump"), s.BumpMM, s.LimitDeg.TravelDeg, within)...)
			out = append(out, st.jointLimits(s, say.Of("at full rebound"), -s.ReboundMM, s.LimitDeg.TravelDeg, within)...)
		}
		if s.PlungeMM != nil {
			out = append(out, Limit{
				Name: say.F("%s, plunge", s.Name), Kind: KindPlunge, Source: source, Unit: "mm", Allowed: *s.PlungeMM,
				event: say.F("%s uses its whole plunge of %s", s.Name, units.FormatMM(*s.PlungeMM)),
				value: func(dropMM float64) float64 { return s.strokeMM(st.shift(dropMM)) },
			}.set(s.strokeWindow(*s.PlungeMM, st.aside, within), within))
		}
	}
	return out
}

// jointLimits gives the limits of both joints at one travel, one limit where
// both always have the same angle.
func (st *Study) jointLimits(s shaft, what say.Text, travelMM float64, limitDeg *float64, within Window) []Limit {
	if limitDeg == nil {
		return nil
	}
	var out []Limit
	for _, e := range []end{inner, outer} {
		name, event := say.F("%s, joint angle %s", s.Name, what), say.F("%s reaches %s %s", s.Name, units.FormatDeg(*limitDeg), what)
		if !s.oneAngle() {
			joint := say.Word(ends[e])
			name, event = say.F("%s, %s joint angle %s", s.Name, joint, what), say.F("%s, %s joint, reaches %s %s", s.Name, joint, units.FormatDeg(*limitDeg), what)
		} else if e == outer {
			break
		}
		out = append(out, Limit{
			Name: name, Kind: KindShaft, Source: say.Of("layout file, half-shafts"), Unit: "deg", Allowed: *limitDeg,
			event: event,
			value: func(dropMM float64) float64 { return units.Deg(s.angleRad(e, st.shift(dropMM), travelMM)) },
		}.set(s.angleWindow(e, travelMM, units.Rad(*limitDeg), st.aside, within), within))
	}
	return out
}

// lineLimits gives the limits of crank against input, where the drop changes
// one of them or they are off as they stand.
func (st *Study) lineLimits(within Window) []Limit {
	var out []Limit
	for i := range st.lines {
		l := &st.lines[i]
		boreMM, faceMM, _ := l.mostMM()
		out = append(out, Limit{
			Name: say.F("%s, bore reading", l.Name), Kind: KindLine, Source: l.source(), Unit: "mm", Allowed: boreMM,
			event: say.F("crank and input of %s are off by %s: %s of bore reading", l.Name, units.FormatMM(boreMM/2), units.FormatMM(boreMM)),
			value: func(dropMM float64) float64 { return l.reading(st.shift(dropMM)).BoreRunoutMM },
		}.set(l.offsetWindow(st.aside, within), within), Limit{
			Name: say.F("%s, face reading", l.Name), Kind: KindLine, Source: l.source(), Unit: "mm", Allowed: faceMM,
			event: say.F("the axes of %s stand at an angle of more than %s of face reading", l.Name, units.FormatMM(faceMM)),
			value: func(float64) float64 { return l.reading(geom.Vec{}).FaceRunoutMM },
		}.set(l.angleWindow(within), within))
	}
	return out
}

// pairLimits walks every ruled pair across the group's border.
func (st *Study) pairLimits(ctx context.Context, workers int, progress geom.Progress) ([]Limit, error) {
	pairs := st.probe.Ruled()
	out := make([]Limit, len(pairs))
	err := geom.Each(ctx, workers, len(pairs), progress, func(i int) error {
		windows, err := Walk(ctx, st.within, st.pairMargin(pairs[i]))
		out[i] = st.pairLimit(pairs[i]).set(windows, st.within)
		return err
	})
	return out, err
}

// pairLimit names the limit of a pair, the part that goes down first.
func (st *Study) pairLimit(r clearance.Ruled) Limit {
	a, b := &st.scene.Parts[r.A], &st.scene.Parts[r.B]
	if b.Group == st.group {
		a, b = b, a
	}
	kind := KindClearance
	if a.Role == "deck" || b.Role == "deck" {
		kind = KindDeck
	}
	return Limit{
		Name: say.F("%s to %s, %s", a.Name, b.Name, say.Word(r.State)), Kind: kind, Source: say.Name(r.Rule.Source), Unit: "mm", Allowed: r.Rule.LeastMM,
		event: say.F("%s comes within %s of %s (%s)", a.Name, units.FormatMM(r.Rule.LeastMM), b.Name, say.Word(r.State)),
	}
}

func (st *Study) pairMargin(r clearance.Ruled) Margin {
	return func(ctx context.Context, dropMM, enoughMM float64) (float64, error) {
		gapMM, err := st.probe.GapMM(ctx, r, st.shift(dropMM), r.Rule.LeastMM+enoughMM)
		return gapMM - r.Rule.LeastMM, err
	}
}
