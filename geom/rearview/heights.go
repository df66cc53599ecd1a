package rearview

import (
	"context"
	"math"

	"aftbay/geom"
)

const (
	// watchMM is how far below the field a part is still told of. Common
	// practice, no source: more than the lid moves in a redesign.
	watchMM = 100.0
	// stepMM is how far a part is raised at once when looking for where it
	// begins to hide: less than the field is high at the deck, about 50 mm.
	stepMM = 8.0
	// heightMM is how closely a height is found.
	heightMM = 1e-6
)

// heights finds how high each part may stand under a rule.
func (st *study) heights(ctx context.Context, o Options, f *field, a *Answer) error {
	rows := make([]*Height, len(st.scene.Parts))
	lost := map[string]bool{}
	for _, l := range a.LostBy {
		lost[l.Part] = l.Share > nothingShare
	}
	now := a.Seen.EitherShare
	err := geom.Each(ctx, o.Workers, len(rows), nil, func(i int) error {
		p := &st.scene.Parts[i]
		if seeThrough[p.Role] || o.hidden[i] || len(p.Mesh.Tris) == 0 {
			return nil
		}
		own := &lifter{study: study{scene: st.scene, sight: st.sight, windows: st.windows, shadows: st.shadows}, field: f, part: i}
		rows[i] = own.height(lost[p.Name], now)
		return nil
	})
	for i, h := range rows {
		if h != nil {
			a.HighestAllowedMM[st.scene.Parts[i].Name] = *h
		}
	}
	return err
}

// lifter raises one part; its study is its own, for the working memory.
type lifter struct {
	study
	field *field
	part  int
}

// height returns how high the part may stand, nil where it is out of the way.
func (l *lifter) height(loses bool, nowShare float64) *Height {
	enterMM := l.enterMM()
	if enterMM > watchMM {
		return nil
	}
	lowMM, found := l.firstLossMM(loses, enterMM)
	if !found {
		return nil
	}
	topMM := l.scene.Parts[l.part].Box.Max[2]
	h := &Height{NowMM: topMM, NoLossMM: new(topMM + lowMM), NoLossMarginMM: new(lowMM)}
	if atMM, ok := l.allowanceMM(lowMM, nowShare); ok {
		h.AtAllowanceMM, h.AllowanceMarginMM = new(topMM+atMM), new(atMM)
	}
	return h
}

// enterMM returns how far the part must be raised for its first corner to reach
// the line of sight to the near side of the field: below that it hides nothing.
func (l *lifter) enterMM() float64 {
	p := &l.scene.Parts[l.part]
	pose := l.sight.toRoad.After(p.Pose)
	leastMM2 := math.Inf(1)
	reach := func(at geom.Vec) {
		for k := left; k <= right; k++ {
			e := &l.sight.eyes[k]
			if xMM := at[0] - e.image[0]; e.road.keep[0].at(at) >= 0 && xMM > leastMM {
				zMM := -l.field.near * e.image[2] * xMM / (pictureMM - l.field.near*(e.image[0]-l.sight.midXMM))
				leastMM2 = math.Min(leastMM2, e.image[2]+zMM-at[2])
			}
		}
	}
	corners := p.Mesh.Box().Corners()
	for _, c := range corners {
		reach(pose.Point(c))
	}
	if leastMM2 > watchMM {
		return leastMM2 // a box reaches no less high than what is in it
	}
	leastMM2 = math.Inf(1)
	for _, v := range p.Mesh.Verts {
		reach(pose.Point(v))
	}
	return leastMM2
}

// aloneShare returns what the part alone hides when it is raised.
func (l *lifter) aloneShare(raisedMM float64) float64 {
	s := l.throw(l.part, raisedMM)
	if s.empty() {
		return 0
	}
	t := l.measure(l.field, []shadow{s}, nil)
	return t.lost[0].alone / t.field
}

// firstLossMM returns how far the part may be raised before it hides anything:
// a negative number where it hides something already.
func (l *lifter) firstLossMM(loses bool, enterMM float64) (mm float64, found bool) {
	if loses {
		highMM := 0.0
		for downMM := 1.0; ; downMM = min(2*downMM, downMM+64) {
			if -downMM <= enterMM || l.aloneShare(-downMM) <= nothingShare {
				return l.bisect(max(-downMM, enterMM), highMM), true
			}
			highMM = -downMM
		}
	}
	lowMM := max(enterMM, 0)
	for highMM := lowMM + stepMM; highMM < watchMM+stepMM; highMM += stepMM {
		if l.aloneShare(highMM) > nothingShare {
			return l.bisect(lowMM, highMM), true
		}
		lowMM = highMM
	}
	return 0, false
}

// bisect finds where the part begins to hide, between a raise at which it hides
// nothing and one at which it does; the former end.
func (l *lifter) bisect(lowMM, highMM float64) float64 {
	for highMM-lowMM > heightMM {
		midMM := lowMM + (highMM-lowMM)/2
		if l.aloneShare(midMM) > nothingShare {
			highMM = midMM
		} else {
			lowMM = midMM
		}
	}
	return lowMM
}

// restShare returns what either eye sees over what is asked for, with the part
// raised and the rest as it is.
func (l *lifter) restShare(raisedMM float64) float64 {
	shadows := make([]shadow, 0, len(l.shadows)+1)
	for _, s := range l.shadows {
		if s.part != l.part {
			shadows = append(shadows, s)
		}
	}
	shadows = append(shadows, l.throw(l.part, raisedMM))
	t := l.measure(l.field, shadows, nil)
	return t.either/t.field - l.field.leastShare + nothingShare
}

// allowanceMM returns how far the part may be raised until the rule is just
// met; ok is false where no height does it. lowMM is where it hides nothing.
func (l *lifter) allowanceMM(lowMM, nowShare float64) (mm float64, ok bool) {
	lowShare := l.restShare(lowMM)
	if lowShare < 0 {
		return 0, false
	}
	highMM, highShare := 0.0, nowShare-l.field.leastShare+nothingShare
	if lowMM >= 0 || highShare >= 0 {
		for highMM = max(lowMM, 0); highShare >= 0; {
			highMM += stepMM
			if highMM > watchMM+stepMM*2 {
				return 0, false
			}
			if share := l.restShare(highMM); share >= 0 {
				lowMM, lowShare = highMM, share
			} else {
				highShare = share
			}
		}
	}
	// A secant that stays between the ends, halved where it sticks to one.
	for range 100 {
		if highMM-lowMM <= heightMM {
			break
		}
		midMM := lowMM + (highMM-lowMM)*lowShare/(lowShare-highShare)
		edgeMM := (highMM - lowMM) / 8
		midMM = min(max(midMM, lowMM+heightMM/2), highMM-heightMM/2)
		if share := l.restShare(midMM); share >= 0 {
			if midMM-lowMM < edgeMM {
				highShare /= 2
			}
			lowMM, lowShare = midMM, share
		} else {
			if highMM-midMM < edgeMM {
				lowShare /= 2
			}
			highMM, highShare = midMM, share
		}
	}
	return lowMM, true
}
