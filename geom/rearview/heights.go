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
	clear, whole := st.open(f, -1, nil, &sw), st.open(f, -1, st.shadows, &sw)
	own := *st // looks at nothing but the field
	for _, k := range twoEyes {
		own.windows[k] = []pane{paneOf(f.poly).common(st.sight.eyes[k].reach)}
	}
	rows := make([]*Height, len(st.scene.Parts))
	err := geom.Each(ctx, o.Workers, len(rows), nil, func(i int) error {
		p := &st.scene.Parts[i]
		if seeThrough[p.Role] || o.hidden[i] || len(p.Mesh.Tris) == 0 {
			return nil
		}
		l := &lifter{study: &own, field: f, part: i, clear: clear, rest: whole, of: solid{p.Mesh, p.Tree.Box(), p.Pose}}
		rows[i] = l.height(lost[p.Name], a.Seen.EitherShare)
		return nil
	})
	for i, h := range rows {
		if h != nil {
			a.HighestAllowedMM[st.scene.Parts[i].Name] = *h
		}
	}
	return err
}

// opening is what is seen of a field past some blockers: outlines for the left
// and the right eye. Bare numbers: areas of the picture.
type opening struct {
	seen                [2][]edge
	field, seenByEither float64
}

// open traces what either eye sees of a field past all shadows but that of one
// part.
func (st *study) open(f *field, without int, shadows []shadow, sw *sweeper) *opening {
	within := paneOf(f.poly)
	lines := st.stops(nil, f, within, twoEyes)
	layers := layerParts + nEyes // all parts make one layer an eye
	for j := range shadows {
		if shadows[j].part == without {
			continue
		}
		for _, k := range twoEyes {
			lines = appendLines(lines, shadows[j].trim[k], layerParts+k, within)
		}
	}
	noGlass := len(st.sight.glass) == 0
	sees := func(k int) func(on []bool) bool {
		return func(on []bool) bool {
			return on[layerField] && on[layerMirror+k] && (noGlass || on[layerGlass+k]) && !on[layerParts+k]
		}
	}
	traced := sw.trace(lines, layers, sees(left), sees(right))
	o := &opening{seen: [2][]edge{traced[left], traced[right]}, field: math.Abs(area2(f.poly)) / 2}
	o.seenByEither = o.past(&shadow{}, within, sw)
	return o
}

// past returns the area that either eye sees of the opening past one more
// shadow. Bare numbers: of the picture.
func (o *opening) past(s *shadow, within pane, sw *sweeper) float64 {
	var lines []line
	for _, k := range twoEyes {
		lines = appendLines(lines, o.seen[k], k, within)
		lines = appendLines(lines, s.trim[k], 2+k, within)
	}
	var t unionArea
	sw.sweep(lines, len(t.on), &t)
	return t.sum
}

// unionArea is a watcher that adds up what either eye sees: layers 0 and 1 are
// what they see, 2 and 3 what is hidden from them. Bare numbers: areas of the
// picture.
type unionArea struct {
	on  [4]bool
	sum float64
}

func (t *unionArea) toggle(layer int32, on bool) { t.on[layer] = on }

func (t *unionArea) cell(c *cell) {
	if t.on[left] && !t.on[2+left] || t.on[right] && !t.on[2+right] {
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
	of    solid // the part, or so much of it as can matter
	clear *opening
	rest  *opening // past all other parts
	sweep sweeper
}

// raised returns the part's shadow when it is raised.
func (l *lifter) raised(byMM float64) *shadow {
	var s shadow
	l.study.throwMesh(&s, l.of, byMM, twoEyes, &l.sweep)
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
	for j := range l.study.shadows {
		if l.study.shadows[j].part == l.part {
			l.rest = l.study.open(l.field, l.part, l.study.shadows, &l.sweep)
		}
	}
	h := &Height{NowMM: topMM, NoLossMM: new(topMM + lowMM), NoLossMarginMM: new(lowMM)}
	if atMM, ok := l.allowanceMM(lowMM, nowShare); ok {
		h.AtAllowanceMM, h.AllowanceMarginMM = new(topMM+atMM), new(atMM)
	}
	return h
}

// enterMM returns how far the part must be raised for its first corner to reach
// the line of sight to the near side of the field: below that it hides nothing.
func (l *lifter) enterMM() float64 {
	p := &l.study.scene.Parts[l.part]
	pose := l.study.sight.toRoad.After(p.Pose)
	leastMM2 := math.Inf(1)
	reach := func(at geom.Vec) {
		for k := left; k <= right; k++ {
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
	return (l.clear.seenByEither - l.clear.past(s, paneOf(l.field.poly), &l.sweep)) / l.clear.field
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
