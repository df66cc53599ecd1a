package spot

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// kept is a part that the component keeps from, beside the rules.
type kept struct {
	part    int
	leastMM float64
}

// readKeeps resolves what the component keeps from and what it may not stand
// over.
func (st *study) readKeeps() error {
	for k, keep := range st.layout.KeepFrom {
		parts, err := st.scene.Select(keep.From)
		if err != nil {
			return say.Errorf("keep_from[%d]: %w", k, err)
		}
		for _, i := range parts {
			if i != st.replaced {
				st.keepFrom = append(st.keepFrom, kept{i, keep.LeastMM})
			}
		}
	}
	for k, selector := range st.layout.NotAbove {
		parts, err := st.scene.Select(selector)
		if err != nil {
			return say.Errorf("not_above[%d]: %w", k, err)
		}
		for _, i := range parts {
			if i != st.replaced {
				st.notAbove = append(st.notAbove, i)
			}
		}
	}
	if st.layout.SplashMM == nil {
		return nil
	}
	if v := st.scene.Doc.Vehicle; v != nil {
		st.level = drop.NewRoad(v, layout.Attitude{}).HeightMM
		return nil
	}
	st.level = func(p geom.Vec) float64 { return p[2] }
	st.assumed = append(st.assumed, say.Of("no vehicle: the splash line is measured from z = 0"))
	return nil
}

// splashes tests the lowest point of the component against the splash line.
func (st *study) splashes(t *trial) {
	if st.level == nil {
		return
	}
	heightMM := math.Inf(1)
	for _, v := range st.component.Mesh.Verts {
		heightMM = math.Min(heightMM, st.level(t.pose.Point(v)))
	}
	if mostMM := *st.layout.SplashMM; heightMM < mostMM {
		t.refuse(Splashed, mostMM-heightMM, say.F("%.1f mm over the ground, the splash line lies at %g", heightMM, mostMM))
	}
}

// keeps tests the distances that the component keeps beside the rules, at rest.
func (st *study) keeps(ctx context.Context, t *trial) error {
	body := dist.Body{Tree: t.guest.Tree, Pose: t.guest.Pose, Closed: t.guest.Closed}
	for _, k := range st.keepFrom {
		enoughMM := k.leastMM + t.marginMM
		if t.guest.Box.GapMM(st.scene.Parts[k.part].Box) >= enoughMM {
			continue
		}
		r, err := dist.Between(ctx, body, st.scene.Body(k.part), dist.Options{EnoughMM: enoughMM})
		if err != nil {
			return err
		}
		gapMM := r.GapMM
		if r.Overlap {
			gapMM = 0
		}
		if gapMM < k.leastMM {
			t.refuse(NotKept, k.leastMM-gapMM, say.F("%.1f mm to %s, %g to be kept", gapMM, st.scene.Parts[k.part].Name, k.leastMM))
			return nil
		}
		if marginMM := gapMM - k.leastMM; marginMM < t.marginMM {
			t.marginMM, t.nearest, t.state, t.leastMM = marginMM, k.part, layout.StateStatic, k.leastMM
		}
	}
	return nil
}

// standsOver tests that the component, let fall straight down, meets none of
// the parts over which it may not stand.
func (st *study) standsOver(t *trial) {
	body := dist.Body{Tree: t.guest.Tree, Pose: t.guest.Pose, Closed: t.guest.Closed}
	for _, i := range st.notAbove {
		p := &st.scene.Parts[i]
		fallMM := t.guest.Box.Max[2] - p.Box.Min[2]
		way := t.guest.Box
		way.Min[2] -= fallMM
		if i == t.host || fallMM <= 0 || way.GapMM(p.Box) > 0 {
			continue
		}
		if meets(body, st.scene.Body(i), dist.Sweep{Shift: geom.Box{Min: geom.Vec{0, 0, -fallMM}}}) {
			t.refuse(OverFill, fallMM, say.F("stands over %s", p.Name))
			return
		}
	}
}
