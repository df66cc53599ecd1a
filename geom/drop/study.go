package drop

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// unsprung are the roles that move with the wheels or are no part of the body:
// they do not count for ground clearance, departure and ramp angle. Read-only.
var unsprung = map[string]bool{"wheel": true, "road": true, "sightline": true, "suspension": true, "half-shaft": true}

// Study is a drop group made ready: all that can be asked at any drop without
// looking at a mesh again. It is read-only once made.
type Study struct {
	scene  *scene.Scene
	v      *layout.Vehicle // may be nil
	group  string
	within Window
	aside  geom.Vec // fore-aft shift of the group besides the drop
	probe  *clearance.Probe
	shafts []shaft
	lines  []shaftLine
	mass   Mass
	under  [2]*profile    // side view of the body: what follows, what stands
	axle   [2][2]*profile // seen along X under the front and the rear axle, likewise
	tops   []deckTop
	topMM  float64 // highest point of the group
	top    string
}

// The halves of the body that a profile is of.
const (
	follows = iota
	stands
)

// Prepare makes the layout's drop group ready.
//
// Errors: ErrNoStudy, a group without parts, a cancelled ctx.
func Prepare(ctx context.Context, s *scene.Scene, o Options) (*Study, error) {
	d := s.Doc.Drop
	if d == nil {
		return nil, ErrNoStudy
	}
	members, err := s.Select("group:" + d.Group)
	if err != nil || len(members) == 0 {
		return nil, say.Errorf("drop: group %q has no parts: give parts that group or name another one", d.Group)
	}
	probe, err := clearance.NewProbe(ctx, s, d.Group, o.Workers)
	if err != nil {
		return nil, err
	}
	st := &Study{scene: s, v: s.Doc.Vehicle, group: d.Group, within: Window(d.RangeMM), probe: probe, mass: weigh(s, d.Group, o.Density)}
	for _, h := range s.Doc.HalfShafts {
		st.shafts = append(st.shafts, shaft{h, h.InnerGroup == st.group})
	}
	for _, l := range s.Doc.ShaftLines {
		st.lines = append(st.lines, shaftLine{l, l.CrankGroup == st.group, l.InputGroup == st.group})
	}
	st.outline()
	st.overAxles(follows, stands)
	st.underDeck()
	st.highest()
	return st, ctx.Err()
}

// Shifted returns the study with the group shifted fore and aft by dxMM besides
// the drop.
func (st *Study) Shifted(dxMM float64) *Study {
	moved := *st
	moved.aside = geom.Vec{dxMM, 0, 0}
	if dxMM != st.aside[0] {
		moved.overAxles(follows)
		moved.underDeck()
	}
	return &moved
}

// shift returns how the group stands at a drop.
func (st *Study) shift(dropMM float64) geom.Vec { return st.aside.Sub(geom.Vec{0, 0, dropMM}) }

// Mass returns the masses that the study counts with.
func (st *Study) Mass() *Mass { return &st.mass }

// bodyParts calls see for the parts that count for the road, with the half that
// they belong to.
func (st *Study) bodyParts(see func(half int, p *scene.Part)) {
	for i := range st.scene.Parts {
		p := &st.scene.Parts[i]
		switch {
		case unsprung[p.Role]:
		case p.Group == st.group:
			see(follows, p)
		default:
			see(stands, p)
		}
	}
}

// outline makes the side views.
func (st *Study) outline() {
	var edges [2][]edge
	st.bodyParts(func(half int, p *scene.Part) {
		at := make([]geom.Vec, len(p.Mesh.Verts))
		for i, v := range p.Mesh.Verts {
			at[i] = p.Pose.Point(v)
		}
		for _, tri := range p.Mesh.Tris {
			for k := range 3 {
				a, b := tri[k], tri[(k+1)%3]
				if a < b || !p.Closed { // a solid has every edge from both sides
					edges[half] = append(edges[half], edgeOf(at[a], at[b], 0, 1, p.Index))
				}
			}
		}
	})
	for half := range edges {
		st.under[half] = newProfile(edges[half], 0, 1)
	}
}

func edgeOf(a, b geom.Vec, axis, third, part int) edge {
	return edge{from: point2{a[axis], a[2]}, to: point2{b[axis], b[2]}, third: [2]float64{a[third], b[third]}, part: int32(part)}
}

// least answers a query for one half of the body as it stands at a drop.
func (st *Study) least(of [2]*profile, half int, q query, dropMM float64) found {
	if half == follows {
		s := st.shift(dropMM)
		q.acrossMM, q.upMM = s[of[half].axes[0]], s[2]
	}
	return of[half].least(&q)
}

// groundAt returns the least height of one half of the body over the road and
// the part that has it; +Inf without any.
func (st *Study) groundAt(road Road, dropMM float64, half int) (mm float64, part string) {
	f := st.least(st.under, half, query{
		value:  func(p point2) float64 { return road.HeightMM(geom.Vec{p[0], 0, p[1]}) },
		fromMM: math.Inf(-1), toMM: math.Inf(1), towardsMM: math.Copysign(math.Inf(1), road.perMM), straight: true,
	}, dropMM)
	return f.value, st.partOf(f)
}

func (st *Study) partOf(f found) string {
	if math.IsInf(f.value, 1) {
		return ""
	}
	return st.scene.Parts[f.edge.part].Name
}

// angleAt returns the governing departure or ramp angle of some halves of the
// body at a drop; ok is false where no point counts.
func (st *Study) angleAt(of angleOf, dropMM float64, halves ...int) (a Angle, ok bool) {
	a = Angle{TangentRad: math.Inf(1), ContactRad: math.Inf(1)}
	for _, half := range halves {
		q := query{value: of.tangentRad, fromMM: of.fromMM, toMM: of.toMM, towardsMM: of.towardsMM, straight: of.straight}
		if f := st.least(st.under, half, q, dropMM); f.value < a.TangentRad {
			a.TangentRad, a.Point, a.Part, ok = f.value, st.under[half].place(f), st.partOf(f), true
		}
		q.value = of.contactRad
		a.ContactRad = math.Min(a.ContactRad, st.least(st.under, half, q, dropMM).value)
	}
	return a, ok
}

func (a Angle) text() *AngleText {
	return &AngleText{units.Deg(a.TangentRad), units.Deg(a.ContactRad), a.Part, a.Point}
}

// overAxles makes, for some halves of the body, the views along X of what stands over each axle: the body
// within one tyre radius of it (common practice, no source: the rule speaks of
// the lowest fixed part between the wheels).
func (st *Study) overAxles(halves ...int) {
	if !st.noAxleArc().IsZero() {
		return
	}
	for k, axleMM := range [2]float64{st.v.FrontAxleMM[0], st.v.RearAxleMM[0]} {
		var edges [2][]edge
		st.bodyParts(func(half int, p *scene.Part) {
			by := geom.Vec{}
			if half == follows {
				by = st.aside
			}
			if !slices.Contains(halves, half) {
				return
			}
			lo, hi := axleMM-st.v.TyreRadiusMM, axleMM+st.v.TyreRadiusMM
			if p.Box.Max[0]+by[0] < lo || p.Box.Min[0]+by[0] > hi {
				return
			}
			var corners []geom.Vec
			for _, tri := range p.Mesh.Tris {
				corners = corners[:0]
				for _, v := range tri {
					corners = append(corners, p.Pose.Point(p.Mesh.Verts[v]))
				}
				corners = cutX(cutX(corners, lo-by[0], 1), hi-by[0], -1)
				for i, a := range corners {
					edges[half] = append(edges[half], edgeOf(a, corners[(i+1)%len(corners)], 1, 0, p.Index))
				}
			}
		})
		for _, half := range halves {
			st.axle[k][half] = newProfile(edges[half], 1, 0)
		}
	}
}

// cutX returns the part of a polygon on one side of an upright plane across the
// car: sign·x ≥ sign·xMM.
func cutX(corners []geom.Vec, xMM, sign float64) []geom.Vec {
	inside := true
	for _, c := range corners {
		inside = inside && sign*c[0] >= sign*xMM
	}
	if inside {
		return corners
	}
	var out []geom.Vec
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		inA, inB := sign*a[0] >= sign*xMM, sign*b[0] >= sign*xMM
		if inA {
			out = append(out, a)
		}
		if inA != inB {
			t := (xMM - a[0]) / (b[0] - a[0])
			out = append(out, a.Add(b.Sub(a).Mul(t)))
		}
	}
	return out
}

// noAxleArc says what is missing for the clearance under the axles, nothing if
// nothing is.
func (st *Study) noAxleArc() say.Text {
	switch {
	case st.v == nil:
		return say.Name("vehicle")
	case st.v.TyreRadiusMM <= 0:
		return say.Name("vehicle tyre_radius_mm")
	case st.v.TrackMM <= 0:
		return say.Name("vehicle track_mm")
	}
	return st.noAxles()
}

// noAxles says that the axles are not given, nothing if they are.
func (st *Study) noAxles() say.Text {
	if st.v == nil {
		return say.Name("vehicle")
	}
	if st.v.RearAxleMM[0] <= st.v.FrontAxleMM[0] {
		return say.Name("vehicle front_axle_mm and rear_axle_mm")
	}
	return say.Text{}
}

// underAxle returns the apex of the arc under an axle (0 front, 1 rear) and the
// part that it touches; +Inf where nothing counts.
func (st *Study) underAxle(axle int, dropMM float64, half int) (mm float64, part string) {
	if st.axle[axle][half] == nil {
		return math.Inf(1), ""
	}
	contactMM, groundMM := st.v.TrackMM/2, st.v.GroundZMM
	f := st.least(st.axle[axle], half, query{
		value:  func(p point2) float64 { return ArcApexMM(contactMM, p[0], p[1]-groundMM) },
		fromMM: -contactMM, toMM: contactMM,
	}, dropMM)
	return f.value, st.partOf(f)
}

// highest finds the top of the group.
func (st *Study) highest() {
	st.topMM = math.Inf(-1)
	for i := range st.scene.Parts {
		if p := &st.scene.Parts[i]; p.Group == st.group && p.Box.Max[2] > st.topMM {
			st.topMM, st.top = p.Box.Max[2], p.Name
		}
	}
}
