package rearview

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// seeThrough are the roles that do not block: panes, the mirror itself (its
// face is given by numbers), and drawings. Read-only.
var seeThrough = map[string]bool{"glass": true, "mirror": true, "sightline": true, "road": true}

// study is one arrangement of eyes, mirror and parts.
type study struct {
	scene   *scene.Scene
	sight   *sight
	fields  []field
	windows [nEyes][]pane
	around  pane     // of all fields
	shadows []shadow // of the blockers that hide something, by part

	lines   []line
	sweeper sweeper
}

// fieldsOf returns the fields to answer for; the first is the one asked for.
func fieldsOf(r *layout.RearView, s *sight) ([]field, error) {
	fields := []field{unField(s)}
	switch {
	case r.RearEndXMM != nil:
		fields = append(fields, usField(s, s.toRoad.Point(geom.Vec{*r.RearEndXMM, 0, 0})[0]))
	case r.Requirement == RuleUS:
		return nil, fault("/rear_end_x_mm", say.Of("US 571.111 counts from the rear end of the car, which is not given"), say.Of("give rear_end_x_mm"))
	}
	if r.Field != nil {
		free, err := freeField(r.Field, s)
		if err != nil {
			return nil, err
		}
		fields = append(fields, free)
	}
	asked := slices.IndexFunc(fields, func(f field) bool { return f.rule == r.Requirement })
	if asked < 0 && r.Requirement == RuleFree {
		return nil, fault("/field", say.Of("the free field is asked for, but not given"), say.Of("give field with near_mm and width_mm"))
	}
	if asked > 0 {
		f := fields[asked]
		fields = slices.Insert(slices.Delete(fields, asked, asked+1), 0, f)
	}
	for i := range fields {
		if fields[i].nearXMM-s.midXMM < leastMM {
			return nil, fault("", say.F("%s: the road to be seen begins in front of the image of the eyes", fields[i].rule), say.Of("check rear_end_x_mm, eyes and mirror"))
		}
	}
	return fields, nil
}

// newStudy throws all parts of a scene.
func newStudy(ctx context.Context, sc *scene.Scene, s *sight, fields []field, o Options, progress geom.Progress) (*study, error) {
	st := &study{scene: sc, sight: s, fields: fields}
	st.around = emptyPane()
	for i := range fields {
		r := paneOf(fields[i].poly)
		st.around = st.around.grow(r.lo).grow(r.hi)
	}
	for k := range s.eyes {
		st.windows[k] = windowsOf(fields, s.eyes[k].reach)
	}
	all := make([]shadow, len(sc.Parts))
	err := geom.Each(ctx, o.Workers, len(sc.Parts), progress, func(i int) error {
		if p := &sc.Parts[i]; !seeThrough[p.Role] && !o.hidden[i] {
			all[i] = st.throw(i, allEyes, &sweeper{})
		}
		return nil
	})
	for i := range all {
		if !all[i].empty() {
			st.shadows = append(st.shadows, all[i])
		}
	}
	return st, err
}

// windowsOf returns where the picture of an eye matters: the fields, the centre
// line, the horizon and the near side of each field, so far as the mirror shows
// them.
func windowsOf(fields []field, reach pane) []pane {
	inf := math.Inf(1)
	all := []pane{{dot{0, 0}, dot{0, inf}}, {dot{-inf, 0}, dot{inf, 0}}}
	for i := range fields {
		all = append(all, paneOf(fields[i].poly), pane{dot{-inf, fields[i].near}, dot{inf, fields[i].near}})
	}
	var out []pane
	for _, w := range all {
		if w = w.common(reach); w.lo.a <= w.hi.a && w.lo.b <= w.hi.b {
			out = append(out, w)
		}
	}
	return out
}

// throw returns what part i hides from some eyes.
func (st *study) throw(i int, eyes []int, sw *sweeper) shadow {
	p := &st.scene.Parts[i]
	out := shadow{part: i}
	if len(p.Mesh.Tris) > 0 {
		st.throwMesh(&out, solid{p.Mesh, p.Tree.Box(), p.Pose}, 0, eyes, sw)
	}
	return out
}

// solid is a mesh that fits a box of its own frame, in its pose in the vehicle.
type solid struct {
	mesh *mesh.Mesh
	box  geom.Box
	pose geom.Pose
}

// throwMesh adds to a shadow what a mesh hides when it is raised.
func (st *study) throwMesh(out *shadow, of solid, raisedMM float64, eyes []int, sw *sweeper) {
	pose := geom.Shift(geom.Vec{0, 0, raisedMM}).After(st.sight.toRoad).After(of.pose)
	mirrored := st.sight.reflect.After(pose)
	var t thrower
	for _, k := range eyes {
		e := &st.sight.eyes[k]
		out.edges[k] = append(t.outline(of.mesh, of.box, pose, &e.road, st.windows[k]), t.outline(of.mesh, of.box, mirrored, &e.near, st.windows[k])...)
		out.trim[k] = sw.trim(out.edges[k], st.around)
	}
}

// SeeThrough reports whether parts of a role are taken not to block.
func SeeThrough(role string) bool { return seeThrough[role] }
