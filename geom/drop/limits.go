package drop

import (
	"context"
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/units"
)

// newLimit fills in the largest drop from the windows.
func newLimit(name, kind, event, source string, windows []Window, within Window) Limit {
	l := Limit{Name: name, Kind: kind, event: event, Source: source, WindowsMM: windows}
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

// groundLimits gives one limit for each attitude that asks for a height: the
// height of the group falls by cos(tilt) for each mm of drop.
func (st *study) groundLimits() []Limit {
	if st.v == nil {
		return nil
	}
	var out []Limit
	for _, att := range st.v.Attitudes {
		if att.LeastGroundMM == nil {
			continue
		}
		road := NewRoad(st.v, att)
		heightMM, part := st.groundAt(road, 0, following)
		if part == "" {
			continue
		}
		mostMM := (heightMM - *att.LeastGroundMM) / road.cos
		out = append(out, newLimit(
			"ground clearance, "+att.Name, "ground",
			fmt.Sprintf("%s comes down to %s over the road, attitude %s", part, units.FormatMM(*att.LeastGroundMM), att.Name),
			"layout file, vehicle attitudes", clip(Window{math.Inf(-1), mostMM}, st.within), st.within))
	}
	return out
}

// angleLimits gives the departure and ramp limits where the file asks for them.
// Both angles fall steadily as the group goes down.
func (st *study) angleLimits() []Limit {
	if st.v == nil {
		return nil
	}
	var out []Limit
	add := func(name string, leastDeg *float64, of angleOf) {
		if leastDeg == nil {
			return
		}
		if _, ok := st.angleAt(of, 0, following); !ok {
			return
		}
		leastRad := units.Rad(*leastDeg)
		holds := func(dropMM float64) bool {
			a, _ := st.angleAt(of, dropMM, following)
			return a.TangentRad >= leastRad
		}
		event := fmt.Sprintf("%s angle falls to %s", name, units.FormatDeg(*leastDeg))
		out = append(out, newLimit(name+" angle", name, event, "layout file, vehicle", fallingWindow(holds, st.within), st.within))
	}
	add("departure", st.v.LeastDepartureDeg, departureOf)
	add("ramp", st.v.LeastRampDeg, rampOf)
	return out
}

// fallingWindow returns the drops at which something holds that, once lost, is
// not regained further down.
func fallingWindow(holds func(dropMM float64) bool, within Window) []Window {
	if !holds(within[0]) {
		return nil
	}
	if holds(within[1]) {
		return []Window{within}
	}
	loMM, hiMM := within[0], within[1]
	for hiMM-loMM > bracketMM {
		if mid := (loMM + hiMM) / 2; holds(mid) {
			loMM = mid
		} else {
			hiMM = mid
		}
	}
	return []Window{{within[0], loMM}}
}

// shaftLimits gives the joint angle and plunge limits of every half-shaft.
func (st *study) shaftLimits() []Limit {
	var out []Limit
	for _, s := range st.shafts {
		add := func(what string, travelMM float64, limitDeg *float64) {
			if limitDeg == nil {
				return
			}
			event := fmt.Sprintf("%s reaches %s %s", s.Name, units.FormatDeg(*limitDeg), what)
			windows := s.angleWindow(travelMM, units.Rad(*limitDeg), st.within)
			out = append(out, newLimit(s.Name+", joint angle "+what, "half-shaft", event, "layout file, half-shafts", windows, st.within))
		}
		if s.LimitDeg != nil {
			add("standing", 0, s.LimitDeg.StaticDeg)
			add("at full bump", s.BumpMM, s.LimitDeg.TravelDeg)
			add("at full rebound", -s.ReboundMM, s.LimitDeg.TravelDeg)
		}
		if s.PlungeMM != nil {
			event := fmt.Sprintf("%s uses its whole plunge of %s", s.Name, units.FormatMM(*s.PlungeMM))
			out = append(out, newLimit(s.Name+", plunge", "plunge", event, "layout file, half-shafts", s.strokeWindow(*s.PlungeMM, st.within), st.within))
		}
	}
	return out
}

// pairLimits walks every ruled pair across the group's border.
func (st *study) pairLimits(ctx context.Context, workers int, progress geom.Progress) ([]Limit, error) {
	pairs := st.probe.Ruled()
	out := make([]Limit, len(pairs))
	err := geom.Each(ctx, workers, len(pairs), progress, func(i int) error {
		r := pairs[i]
		windows, err := walk(ctx, st.within, st.pairMargin(r))
		if err != nil {
			return err
		}
		a, b := st.scene.Parts[r.A].Name, st.scene.Parts[r.B].Name
		if st.scene.Parts[r.B].Group == st.group {
			a, b = b, a
		}
		event := fmt.Sprintf("%s comes within %s of %s (%s)", a, units.FormatMM(r.Rule.LeastMM), b, r.State)
		out[i] = newLimit(fmt.Sprintf("%s to %s, %s", a, b, r.State), "clearance", event, r.Rule.Source, windows, st.within)
		return nil
	})
	return out, err
}

func (st *study) pairMargin(r clearance.Ruled) marginFunc {
	return func(ctx context.Context, dropMM, enoughMM float64) (float64, error) {
		gapMM, err := st.probe.GapMM(ctx, r, st.shiftOf(dropMM, true), r.Rule.LeastMM+enoughMM)
		return gapMM - r.Rule.LeastMM, err
	}
}
