package rearview

import (
	"context"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// MirrorSays is the mirror as it stands, and what it would take.
type MirrorSays struct {
	CentreMM   geom.Vec `json:"centre_mm"`
	Normal     geom.Vec `json:"normal"`
	AutoNormal geom.Vec `json:"auto_normal"` // aimed at the middle of the near side of the field
	WidthMM    float64  `json:"width_mm"`
	HeightMM   float64  `json:"height_mm"`
	// Least size at which the mirror itself takes nothing of the field, for the
	// centre and normal as they are; nil: not within a metre.
	RequiredWidthMM  *float64 `json:"required_width_mm"`
	RequiredHeightMM *float64 `json:"required_height_mm"`
	Moves            []Move   `json:"moves"` // what moving the mirror would change
}

// Move is the mirror at another place, aimed anew in the same direction.
type Move struct {
	Name           say.Text `json:"name"`
	ShiftMM        geom.Vec `json:"shift_mm"`
	EitherShare    float64  `json:"either"`
	NearestRoadMM  *float64 `json:"nearest_road_mm"`
	GainedShare    float64  `json:"gained_share"` // against the mirror as it stands
	UnbrokenRoadMM *float64 `json:"unbroken_road_mm"`
}

// Drivers is the sweep over short and tall drivers.
type Drivers struct {
	Rows   []Driver `json:"rows"`
	Worst  say.Text `json:"worst"`
	Source say.Text `json:"source"`
}

// Driver is one place of the eyes.
type Driver struct {
	Name           say.Text `json:"name"`
	ShiftMM        geom.Vec `json:"shift_mm"`
	EitherShare    float64  `json:"either"`
	Met            bool     `json:"met"`
	NearestRoadMM  *float64 `json:"nearest_road_mm"`
	UnbrokenRoadMM *float64 `json:"unbroken_road_mm"`
}

// Variant is the view with some parts elsewhere or gone.
type Variant struct {
	Name           string   `json:"name"`
	Seen           Seen     `json:"seen"`
	Met            bool     `json:"met"`
	LostBy         []Loss   `json:"lost_by"`
	NearestRoadMM  *float64 `json:"nearest_road_mm"`
	UnbrokenRoadMM *float64 `json:"unbroken_road_mm"`
}

// with answers the first rule for another arrangement of eyes and mirror.
func (st *study) with(ctx context.Context, g *given, o Options) (Answer, error) {
	s, err := g.sight()
	if err != nil {
		return Answer{}, err
	}
	fields, err := fieldsOf(g.view, s)
	if err != nil {
		return Answer{}, err
	}
	other, err := newStudy(ctx, st.scene, s, fields[:1], o, nil)
	if err != nil {
		return Answer{}, err
	}
	a := other.answer(&fields[0])
	a.judge(&fields[0])
	return a, nil
}

// moved returns the same view from other eyes or another mirror. A mirror that
// the file aims, or that has neither, is turned to the same direction again; a
// mirror with a normal keeps it when the eyes move.
func (g *given) moved(eyesBy, mirrorBy geom.Vec) (*given, error) {
	out := *g
	for i := range out.eyes {
		out.eyes[i] = out.eyes[i].Add(eyesBy)
	}
	view, mirror := *g.view, *g.view.Mirror
	mirror.CentreMM = mirror.CentreMM.Add(mirrorBy)
	if mirror.Normal != nil && mirrorBy.Len() > 0 {
		mid := g.mid()
		n := mirror.Normal.Normalize()
		u := g.mirror.Centre.Sub(mid).Normalize()
		dir := u.Sub(n.Mul(2 * u.Dot(n)))
		mirror.Normal, mirror.Aim = nil, &dir
	}
	view.Mirror = &mirror
	out.view = &view
	var err error
	out.mirror, err = mirrorOf(&view, out.mid())
	return &out, err
}

// The eyes' range: half axes of the 95th-percentile eye ellipsoid, its long axis
// tilted down toward the front. Source: SAE J941, from memory.
const (
	rangeXMM      = 206.4 / 2
	rangeYMM      = 60.3 / 2
	rangeZMM      = 93.4 / 2
	rangeTiltDeg  = 12.0
	driversSource = "Eye range: half axes 103.2, 30.15 and 46.7 mm about the eyes given, tilted by 12°: SAE J941 (2002 on), from memory. The ellipsoid's own centre is not used. A mirror with an aim is aimed anew for each driver."
)

// mirrorMoves are the places that the helper tries. Common practice, no source.
// Read-only.
var mirrorMoves = []Move{
	{Name: say.Of("20 mm up"), ShiftMM: geom.Vec{0, 0, 20}},
	{Name: say.Of("20 mm down"), ShiftMM: geom.Vec{0, 0, -20}},
	{Name: say.Of("50 mm forward"), ShiftMM: geom.Vec{-50, 0, 0}},
	{Name: say.Of("50 mm rearward"), ShiftMM: geom.Vec{50, 0, 0}},
	{Name: say.Of("50 mm to the left"), ShiftMM: geom.Vec{0, -50, 0}},
	{Name: say.Of("50 mm to the right"), ShiftMM: geom.Vec{0, 50, 0}},
}

// explore answers what else one would try.
func (r *Result) explore(ctx context.Context, st *study, g *given, o Options) error {
	for _, m := range mirrorMoves {
		moved, err := g.moved(geom.Vec{}, m.ShiftMM)
		if err != nil {
			continue // no such place: the mirror would stand in or behind the eyes
		}
		a, err := st.with(ctx, moved, o)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			continue
		}
		m.EitherShare, m.NearestRoadMM, m.UnbrokenRoadMM = a.Seen.EitherShare, a.NearestRoadMM, a.UnbrokenRoadMM
		m.GainedShare = a.Seen.EitherShare - r.Seen.EitherShare
		r.Mirror.Moves = append(r.Mirror.Moves, m)
	}
	r.Drivers = &Drivers{Rows: []Driver{}, Source: say.Of(driversSource)}
	tilt := geom.Turn(geom.Vec{0, units.Rad(-rangeTiltDeg), 0})
	for _, d := range []Driver{
		{Name: say.Of("as given")},
		{Name: say.Of("forward"), ShiftMM: tilt.Mul3x1(geom.Vec{-rangeXMM, 0, 0})},
		{Name: say.Of("rearward"), ShiftMM: tilt.Mul3x1(geom.Vec{rangeXMM, 0, 0})},
		{Name: say.Of("to the left"), ShiftMM: geom.Vec{0, -rangeYMM, 0}},
		{Name: say.Of("to the right"), ShiftMM: geom.Vec{0, rangeYMM, 0}},
		{Name: say.Of("low"), ShiftMM: tilt.Mul3x1(geom.Vec{0, 0, -rangeZMM})},
		{Name: say.Of("high"), ShiftMM: tilt.Mul3x1(geom.Vec{0, 0, rangeZMM})},
	} {
		if err := r.drive(ctx, st, g, o, d); err != nil {
			return err
		}
	}
	return r.vary(ctx, st, g, o)
}

// drive adds one driver.
func (r *Result) drive(ctx context.Context, st *study, g *given, o Options, d Driver) error {
	moved, err := g.moved(d.ShiftMM, geom.Vec{})
	var a Answer
	if err == nil {
		a, err = st.with(ctx, moved, o)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		r.Notes = append(r.Notes, say.F("eyes %s: %v", d.Name, err))
		return nil
	}
	d.EitherShare, d.Met, d.NearestRoadMM, d.UnbrokenRoadMM = a.Seen.EitherShare, a.Required.Met, a.NearestRoadMM, a.UnbrokenRoadMM
	r.Drivers.Rows = append(r.Drivers.Rows, d)
	worst := slices.IndexFunc(r.Drivers.Rows, func(w Driver) bool { return w.Name.String() == r.Drivers.Worst.String() })
	if worst < 0 || d.EitherShare < r.Drivers.Rows[worst].EitherShare {
		r.Drivers.Worst = d.Name
	}
	return nil
}

// vary answers for the variants of the layout.
func (r *Result) vary(ctx context.Context, st *study, g *given, o Options) error {
	for i := range g.view.Variants {
		v := &g.view.Variants[i]
		sc, hidden := posed(st, v)
		o.hidden = hidden
		other := *st
		other.scene = sc
		a, err := other.with(ctx, g, o)
		if err != nil {
			return err
		}
		r.Variants = append(r.Variants, Variant{v.Name, a.Seen, a.Required.Met, a.LostBy, a.NearestRoadMM, a.UnbrokenRoadMM})
	}
	return nil
}

// mirrorSays tells the mirror's own figures for the first field.
func (st *study) mirrorSays() MirrorSays {
	s, f := st.sight, &st.fields[0]
	back := s.toRoad.Inverse()
	mid := s.eyes[middle].eye
	aimAt := geom.Vec{f.nearXMM, 0, 0}
	normal := aimed(mid, s.mirror.Centre, aimAt.Sub(s.mirror.Centre))
	out := MirrorSays{
		CentreMM: back.Point(s.mirror.Centre), Normal: back.Dir(s.mirror.Normal), AutoNormal: back.Dir(normal),
		WidthMM: s.mirror.WidthMM, HeightMM: s.mirror.HeightMM, Moves: []Move{},
	}
	const mostMM = 1000.0
	out.RequiredWidthMM = st.leastSize(f, func(m *Mirror, sizeMM float64) { m.WidthMM, m.HeightMM = sizeMM, mostMM })
	out.RequiredHeightMM = st.leastSize(f, func(m *Mirror, sizeMM float64) { m.WidthMM, m.HeightMM = mostMM, sizeMM })
	return out
}

// cutShare is what rounding may leave of the field when a mirror cuts nothing.
// What is missing in area goes with the square of what is missing in width, so
// it must be small.
const cutShare = 1e-13

// leastSize finds the least size of the mirror at which it shows the whole field
// to one eye or the other.
func (st *study) leastSize(f *field, set func(m *Mirror, sizeMM float64)) *float64 {
	shows := func(sizeMM float64) bool {
		s := *st.sight
		set(&s.mirror, sizeMM)
		for k := range s.eyes {
			if s.open(&s.eyes[k]) != nil {
				return false
			}
		}
		other := &study{sight: &s}
		t := other.measure(f, nil)
		return t.unpaned >= t.field*(1-cutShare)
	}
	lowMM, highMM := 0.0, 1000.0
	if !shows(highMM) {
		return nil
	}
	for highMM-lowMM > heightMM {
		if midMM := (lowMM + highMM) / 2; shows(midMM) {
			highMM = midMM
		} else {
			lowMM = midMM
		}
	}
	return &highMM
}

// posed returns the scene of a variant, and the parts that it leaves out.
func posed(st *study, v *layout.ViewVariant) (sc *scene.Scene, hidden map[int]bool) {
	sc, hidden = st.scene, map[int]bool{}
	for _, name := range v.Without {
		if i, ok := sc.Index(name); ok {
			hidden[i] = true
		}
	}
	for _, m := range v.Parts {
		i, ok := sc.Index(m.Part)
		if !ok {
			continue // the layout's check names it
		}
		turnRad := m.TurnDeg
		for k := range turnRad {
			turnRad[k] = units.Rad(turnRad[k])
		}
		sc = sc.Placed(i, geom.About(m.PivotMM, geom.Turn(turnRad), m.MoveMM).After(sc.Parts[i].Pose))
	}
	return sc, hidden
}
