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
	lost := map[string]bool{}
	for _, l := range a.LostBy {
		lost[l.Part] = l.Share > nothingShare
	}
	var sw sweeper
	clear, whole := st.open(f, -1, nil, twoEyes, &sw), st.open(f, -1, st.shadows, twoEyes, &sw)
	midClear, midWhole := st.open(f, -1, nil, oneEye, &sw), st.open(f, -1, st.shadows, oneEye, &sw)
	own := *st // looks at nothing but the field
	for _, k := range allEyes {
		own.windows[k] = []pane{paneOf(f.poly).common(st.sight.eyes[k].reach)}
	}
	rows := make([]*Height, len(st.scene.Parts))
	err := geom.Each(ctx, o.Workers, len(rows), nil, func(i int) error {
		p := &st.scene.Parts[i]
		if seeThrough[p.Role] || o.hidden[i] || len(p.Mesh.Tris) == 0 {
			return nil
		}
		l := &lifter{study: &own, field: f, part: i, eyes: twoEyes, clear: clear, rest: whole, of: solid{p.Mesh, p.Tree.Box(), p.Pose}}
		rows[i] = l.height(lost[p.Name], a.Seen.EitherShare)
		if rows[i] != nil && f.rule == RuleUS {
			l = &lifter{study: &own, field: f, part: i, eyes: oneEye, clear: midClear, rest: midWhole, of: solid{p.Mesh, p.Tree.Box(), p.Pose}}
			rows[i].allow(l.eyePointMM())
		}
		return nil
	})
	for i, h := range rows {
		if h != nil {
			a.HighestAllowedMM[st.scene.Parts[i].Name] = *h
		}
	}
	return err
}

// opening is what is seen of a field past some blockers: an outline for each of
// some eyes. Bare numbers: areas of the picture.
type opening struct {
	eyes             []int
	seen             [][]edge // by place in eyes
	field, seenByAny float64
}

// open traces what any of some eyes sees of a field past all shadows but that of
// one part.
func (st *study) open(f *field, without int, shadows []shadow, eyes []int, sw *sweeper) *opening {
	within := paneOf(f.poly)
	lines := st.stops(nil, f, within, eyes)
	layers := layerParts + nEyes // all parts make one layer an eye
	for j := range shadows {
		if shadows[j].part == without {
			continue
		}
		for _, k := range eyes {
			lines = appendLines(lines, shadows[j].trim[k], layerParts+k, within)
		}
	}
	noGlass := len(st.sight.glass) == 0
	var regions []func(on []bool) bool
	for _, k := range eyes {
		regions = append(regions, func(on []bool) bool {
			return on[layerField] && on[layerMirror+k] && (noGlass || on[layerGlass+k]) && !on[layerParts+k]
		})
	}
	o := &opening{eyes: eyes, seen: sw.trace(lines, layers, regions...), field: math.Abs(area2(f.poly)) / 2}
	o.seenByAny = o.past(&shadow{}, within, sw)
	return o
}

// past returns the area that any eye sees of the opening past one more shadow.
// Bare numbers: of the picture.
func (o *opening) past(s *shadow, within pane, sw *sweeper) float64 {
	var lines []line
	for i, k := range o.eyes {
		lines = appendLines(lines, o.seen[i], i, within)
		lines = appendLines(lines, s.trim[k], 2+i, within)
	}
	var t unionArea
	sw.sweep(lines, len(t.on), &t)
	return t.sum
}

// unionArea is a watcher that adds up what any of one or two eyes sees: layers 0
// and 1 are what they see, 2 and 3 what is hidden from them. Bare numbers: areas
// of the picture.
type unionArea struct {
	on  [4]bool
	sum float64
}

func (t *unionArea) toggle(layer int32, on bool) { t.on[layer] = on }

func (t *unionArea) cell(c *cell) {
	if t.on[0] && !t.on[2] || t.on[1] && !t.on[3] {
		t.sum += c.area()
	}
}

func (t *unionArea) passed(*line, float64, float64) {} // Bare numbers: places in the picture

func (t *unionArea) ended() {}

// lifter raises one part.
type lifter struct {
	study *study
	field *field
	part  int
	eyes  []int // that are asked
	of    solid // the part, or so much of it as can matter
	clear *opening
	rest  *opening // past all other parts
	sweep sweeper
}

// raised returns the part's shadow when it is raised.
func (l *lifter) raised(byMM float64) *shadow {
	var s shadow
	l.study.throwMesh(&s, l.of, byMM, l.eyes, &l.sweep)
	return &s
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
	topMM := l.study.scene.Parts[l.part].Box.Max[2]
	l.leave()
	h := &Height{NowMM: topMM, NoLossMM: new(topMM + lowMM), NoLossMarginMM: new(lowMM)}
	h.allow(l.allowanceMM(lowMM, nowShare))
	return h
}

// leave takes the part's own shadow out of the rest.
func (l *lifter) leave() {
	for j := range l.study.shadows {
		if l.study.shadows[j].part == l.part {
			l.rest = l.study.open(l.field, l.part, l.study.shadows, l.eyes, &l.sweep)
		}
	}
}

// allow notes how far the part may be raised until the rule is just met; ok is
// false where no height does it.
func (h *Height) allow(byMM float64, ok bool) {
	h.AtAllowanceMM, h.AllowanceMarginMM = nil, nil
	if ok {
		h.AtAllowanceMM, h.AllowanceMarginMM = new(h.NowMM+byMM), new(byMM)
	}
}

// eyePointMM returns how far the part may be raised until it begins to hide
// something from the eye point of the US rule, which names no allowance; ok is
// false where other parts hide something already.
func (l *lifter) eyePointMM() (mm float64, ok bool) {
	l.leave()
	if (l.clear.seenByAny-l.rest.seenByAny)/l.clear.field > nothingShare {
		return 0, false
	}
	return l.firstLossMM(l.aloneShare(0) > nothingShare, l.enterMM())
}

// enterMM returns how far the part must be raised for its first corner to reach
// the line of sight to the near side of the field: below that it hides nothing.
func (l *lifter) enterMM() float64 {
	p := &l.study.scene.Parts[l.part]
	pose := l.study.sight.toRoad.After(p.Pose)
	leastMM2 := math.Inf(1)
	reach := func(at geom.Vec) {
		for _, k := range l.eyes {
			e := &l.study.sight.eyes[k]
			if xMM := at[0] - e.image[0]; e.road.keep[0].at(at) >= 0 && xMM > leastMM {
				zMM := -l.field.near * e.image[2] * xMM / (pictureMM - l.field.near*(e.image[0]-l.study.sight.midXMM))
				leastMM2 = math.Min(leastMM2, e.image[2]+zMM-at[2])
			}
		}
	}
	for _, c := range p.Tree.Box().Corners() {
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
	s := l.raised(raisedMM)
	if s.empty() {
		return 0
	}
	return (l.clear.seenByAny - l.clear.past(s, paneOf(l.field.poly), &l.sweep)) / l.clear.field
}

// firstLossMM returns how far the part may be raised before it hides anything:
// a negative number where it hides something already.
func (l *lifter) firstLossMM(loses bool, enterMM float64) (mm float64, found bool) {
	if loses {
		highMM := 0.0
		for downMM := 1.0; ; downMM = min(2*downMM, downMM+64) {
			lowMM := max(-downMM, enterMM)
			if l.aloneShare(lowMM) <= nothingShare {
				return l.bisect(lowMM, highMM), true
			}
			if lowMM == enterMM {
				return 0, false // it hangs between eyes and mirror: lower is no better
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
	whole := l.of
	defer func() { l.of = whole }()
	l.narrow(lowMM, highMM)
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
	seen := l.rest.past(l.raised(raisedMM), paneOf(l.field.poly), &l.sweep)
	return seen/l.rest.field - l.field.leastShare + nothingShare
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
	l.narrow(lowMM, highMM)
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
