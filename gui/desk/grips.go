package desk

import (
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// GripKind tells how a grip moves what it belongs to.
type GripKind int

// The kinds of grips.
const (
	NoGrip     GripKind = iota
	AlongGrip           // along an axis
	AcrossGrip          // in the plane square to an axis
	AboutGrip           // turns about an axis
)

// Grip is one handle of what is selected.
type Grip struct {
	Kind GripKind
	Axis int // 0 to 2 for X to Z
}

// Grips are the handles of what is selected, around its middle.
type Grips struct {
	Load  Load
	At    geom.Vec
	ArmMM float64 // length of an arrow
}

// GripsOf returns the handles of what is selected; a group turns about its pivot.
// ok is false where nothing can be moved, and while a finding or a place to mount
// something is shown. ArmMM is left to whoever knows the size of the picture.
func GripsOf(s *State, a *Attention, whole bool) (g Grips, ok bool) {
	if s.Scene == nil || s.ReadOnly || len(a.Selected) == 0 || a.Finding != "" || a.Rank > 0 {
		return g, false
	}
	parts := slices.Clone(a.Selected)
	for _, name := range parts {
		if PathOfPart(s.Doc, name) == "" {
			return g, false
		}
	}
	g.Load = LoadOf(s, parts, whole)
	if g.Load.Group != "" {
		parts = nil
		for i := range s.Scene.Parts {
			if p := &s.Scene.Parts[i]; p.Group == g.Load.Group {
				parts = append(parts, p.Name)
			}
		}
	}
	box := BoxOf(s, parts)
	g.At = box.Center()
	if group := s.Scene.Group(g.Load.Group); g.Load.Group != "" && group != nil {
		g.At = group.PivotMM
	}
	return g, !box.IsEmpty()
}

// Where the handles lie, in lengths of an arrow: plates between their two arrows,
// arcs further out.
const (
	plateNear = 0.32
	plateFar  = 0.52
	arcAt     = 0.8
	headBack  = 0.12
	headWide  = 0.05
	arcSteps  = 16
)

// Lines returns the lines of a handle in vehicle axes.
func (g Grips) Lines(h Grip) [][]geom.Vec {
	axis, one, two := axes(h.Axis)
	at := func(a, b, c float64) geom.Vec { // Bare numbers: lengths of an arrow
		return g.At.Add(axis.Mul(a * g.ArmMM)).Add(one.Mul(b * g.ArmMM)).Add(two.Mul(c * g.ArmMM))
	}
	switch h.Kind {
	case AlongGrip:
		tip := at(1, 0, 0)
		return [][]geom.Vec{
			{at(0.12, 0, 0), tip},
			{at(1-headBack, headWide, 0), tip, at(1-headBack, -headWide, 0)},
			{at(1-headBack, 0, headWide), tip, at(1-headBack, 0, -headWide)},
		}
	case AcrossGrip:
		return [][]geom.Vec{{at(0, plateNear, plateNear), at(0, plateFar, plateNear), at(0, plateFar, plateFar), at(0, plateNear, plateFar), at(0, plateNear, plateNear)}}
	case AboutGrip:
		var arc []geom.Vec
		for i := range arcSteps + 1 {
			sin, cos := math.Sincos(float64(i) / arcSteps * math.Pi / 2)
			arc = append(arc, at(0, arcAt*cos, arcAt*sin))
		}
		return [][]geom.Vec{arc}
	}
	return nil
}

// axes returns an axis and the two that follow it.
func axes(k int) (axis, one, two geom.Vec) {
	axis[k], one[(k+1)%3], two[(k+2)%3] = 1, 1, 1
	return axis, one, two
}

// All lists the handles, arrows first: they are taken where handles lie over each
// other.
func (g Grips) All() []Grip {
	var list []Grip
	for _, kind := range []GripKind{AlongGrip, AcrossGrip, AboutGrip} {
		for k := range 3 {
			list = append(list, Grip{kind, k})
		}
	}
	return list
}

// Grasp is a handle that is held.
type Grasp struct {
	Grips
	Grip
	start geom.Vec // under the pointer, on the line or in the plane of the handle
}

// Take takes hold of a handle under a line of sight; ok is false where the sight
// runs along it, so that no way could be told.
func (g Grips) Take(h Grip, from, sight geom.Vec) (held Grasp, ok bool) {
	held = Grasp{Grips: g, Grip: h}
	held.start, ok = held.under(from, sight)
	return held, ok
}

// under returns the place of the handle under a line of sight.
func (h *Grasp) under(from, sight geom.Vec) (p geom.Vec, ok bool) {
	axis, _, _ := axes(h.Axis)
	if h.Kind == AlongGrip {
		mm, ok := alongMM(h.At, axis, from, sight)
		return h.At.Add(axis.Mul(mm)), ok
	}
	const leastSlope = 0.02 // about one degree: a pixel would be metres
	slope := sight.Dot(axis)
	if math.Abs(slope) < leastSlope {
		return p, false
	}
	return from.Add(sight.Mul(h.At.Sub(from).Dot(axis) / slope)), true
}

// Steps that a hand's way is rounded to, finely and coarsely. Common practice, no
// source.
const (
	handFineMM, handCoarseMM   = 0.1, 10
	handFineDeg, handCoarseDeg = 0.1, 5
)

// Pose returns where a line of sight takes the handle, from where it was taken
// hold of, and says it.
func (h *Grasp) Pose(from, sight geom.Vec, coarse bool) (by geom.Pose, says string, ok bool) {
	p, ok := h.under(from, sight)
	if !ok {
		return by, "", false
	}
	if h.Kind == AboutGrip {
		by, says = h.turn(p, coarse)
		return by, says, true
	}
	step := handFineMM
	if coarse {
		step = handCoarseMM
	}
	shift := p.Sub(h.start)
	for k := range shift {
		shift[k] = math.Round(shift[k]/step)*step + 0
	}
	shift = rounded(shift, placesPerMM)
	return geom.Shift(shift), wayText(shift), true
}

func (h *Grasp) turn(p geom.Vec, coarse bool) (by geom.Pose, says string) {
	axis, one, two := axes(h.Axis)
	angle := func(p geom.Vec) (rad float64) { return math.Atan2(p.Sub(h.At).Dot(two), p.Sub(h.At).Dot(one)) }
	step := handFineDeg
	if coarse {
		step = handCoarseDeg
	}
	deg := units.Deg(math.Remainder(angle(p)-angle(h.start), 2*math.Pi))
	deg = math.Round(deg/step)*step + 0
	rad := axis.Mul(units.Rad(deg))
	return geom.About(h.At, geom.Turn(rad), geom.Vec{}), "about " + string("xyz"[h.Axis]) + " " + signed(units.FormatDeg(deg), deg)
}

// wayText writes a shift by the axes along which there is one.
func wayText(by geom.Vec) string {
	text := ""
	for k, mm := range by {
		if mm == 0 {
			continue
		}
		if text != "" {
			text += ", "
		}
		text += string("xyz"[k]) + " " + signed(units.FormatMM(mm), mm)
	}
	if text == "" {
		return phrase.Of("not moved")
	}
	return text
}

// signed puts a plus before what is more than nothing.
func signed(text string, value float64) string { // Bare numbers: only its sign counts
	if value > 0 {
		return "+" + text
	}
	return text
}

// GripHint says what a handle does.
func GripHint(g Grips, h Grip) []string {
	axis := string("xyz"[h.Axis])
	what := g.Load.text()
	switch h.Kind {
	case AlongGrip:
		return []string{phrase.Of("drag: moves ") + what + " along " + axis, phrase.Of("Shift: in steps of 10 mm")}
	case AcrossGrip:
		return []string{phrase.Of("drag: moves ") + what + phrase.Of(" square to ") + axis, phrase.Of("Shift: in steps of 10 mm")}
	case AboutGrip:
		return []string{phrase.Of("drag: turns ") + what + " about " + axis, phrase.Of("Shift: in steps of 5°")}
	}
	return nil
}

// HeldSays tells, while something is carried, what it comes nearest to for its
// rules: the worst finding of what moves.
func HeldSays(s *State, l Load) []string {
	r := s.Answers.Fit.Value
	if r == nil || s.Scene == nil {
		return nil
	}
	moves := func(part string) bool {
		if l.Group == "" {
			return slices.Contains(l.Parts, part)
		}
		i, ok := s.Scene.Index(part)
		return ok && s.Scene.Parts[i].Group == l.Group
	}
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if a, b := moves(p.A), moves(p.B); a == b || p.LeastMM == nil {
			continue
		}
		text := phrase.F("%s to %s: %s, %s (%s)", p.A, p.B, units.FormatMM(p.ClearanceMM), phrase.Word(p.Verdict), phrase.Word(p.State))
		if !s.Answers.Fit.Fresh {
			text += " …"
		}
		return []string{text}
	}
	return nil
}
