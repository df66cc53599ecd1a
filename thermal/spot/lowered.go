package spot

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// lowerAll tells of every place given how far the drop group may go with it.
func (st *study) lowerAll(ctx context.Context, spots []Spot) error {
	if st.scene.Doc.Drop == nil {
		return nil
	}
	return geom.Each(ctx, st.options.Workers, len(spots), nil, func(i int) error {
		s := &spots[i]
		var err error
		if s.Lowered, err = st.lowered(ctx, s); err == nil {
			s.Sentence = spotSentence(s)
		}
		return err
	})
}

// stop is one thing that the component must keep clear of while the group goes
// up and down: the drops at which it does, and what it is.
type stop struct {
	windows []drop.Window
	what    say.Text
}

// lowered meets the windows of all that one place must keep clear of.
func (st *study) lowered(ctx context.Context, s *Spot) (*Lowered, error) {
	d := st.scene.Doc.Drop
	out := &Lowered{Group: d.Group, RangeMM: drop.Window(d.RangeMM)}
	stops, err := st.pairStops(ctx, s, out)
	if err != nil {
		return nil, err
	}
	stops = append(stops, st.roadStops(s, out)...)
	met := []drop.Window{out.RangeMM}
	for _, x := range stops {
		met = drop.Meet(met, x.windows)
	}
	if len(met) == 0 {
		return out, nil
	}
	w := drop.Chosen(met)
	out.WindowMM = &w
	for _, x := range stops {
		for _, own := range x.windows {
			if out.Low.IsZero() && own[0] == w[0] && w[0] > out.RangeMM[0] {
				out.Low = x.what
			}
			if out.High.IsZero() && own[1] == w[1] && w[1] < out.RangeMM[1] {
				out.High = x.what
			}
		}
	}
	return out, nil
}

// pairStops walks the ruled pairs of the component across the group's border.
func (st *study) pairStops(ctx context.Context, s *Spot, l *Lowered) ([]stop, error) {
	guest := st.guest(s.Pose, s.Group)
	var out []stop
	for i, rules := range st.rules[s.Group] {
		p := &st.scene.Parts[i]
		if i == st.replaced || (p.Group == l.Group) == (s.Group == l.Group) {
			continue
		}
		for _, r := range rules {
			windows, err := drop.Walk(ctx, l.RangeMM, func(ctx context.Context, dropMM, enoughMM float64) (float64, error) {
				down := clearance.Shift{Group: l.Group, By: geom.Vec{0, 0, -dropMM}}
				return st.guests.MarginMM(ctx, &guest, i, r, down, enoughMM)
			})
			if err != nil {
				return nil, err
			}
			out = append(out, stop{windows, say.F("%s, %s", p.Name, say.Word(r.State))})
		}
	}
	return out, nil
}

// roadStops holds the component over the road in every attitude.
func (st *study) roadStops(s *Spot, l *Lowered) []stop {
	if s.Group != l.Group {
		return nil
	}
	var out []stop
	for _, r := range st.roads {
		roomMM := math.Inf(1)
		for _, v := range st.component.Mesh.Verts {
			roomMM = math.Min(roomMM, r.DownMM(s.Pose.Point(v), r.leastMM))
		}
		windows := drop.Meet([]drop.Window{{math.Inf(-1), roomMM}}, []drop.Window{l.RangeMM})
		out = append(out, stop{windows, say.F("the ground, %s", r.name)})
	}
	return out
}

// sentence tells what the place means for the drop, "" where it means nothing.
func (l *Lowered) sentence() say.Text {
	switch {
	case l == nil:
		return say.Text{}
	case l.WindowMM == nil:
		return say.F("; clear at no drop of %s", l.Group)
	case !l.High.IsZero() && l.WindowMM[1] < 0:
		return say.F("; clear only with %s %s higher (%s)", l.Group, units.FormatMM(-l.WindowMM[1]), l.High)
	case !l.High.IsZero():
		return say.F("; lets %s go down by at most %s (%s)", l.Group, units.FormatMM(l.WindowMM[1]), l.High)
	case !l.Low.IsZero() && l.WindowMM[0] > 0:
		return say.F("; clear only with %s %s lower (%s)", l.Group, units.FormatMM(l.WindowMM[0]), l.Low)
	}
	return say.Text{}
}
