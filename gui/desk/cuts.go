package desk

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Section is a cut that the reader has put through the scene. It takes away the
// side that Normal, of unit length, points to.
type Section struct {
	Name          string // a letter
	Point, Normal geom.Vec
	ZeroMM        float64 // Point·Normal where it was placed: what an oblique cut counts from
	Grid          bool
	Idle          bool   // it is kept, but cuts nothing
	Through       string // what it was put through, "" for a place
}

// mostCuts leaves room for the cut of a finding.
const mostCuts = render.MaxCuts - 1

// AddCut puts a cut through a place and returns its letter. It says why if it
// cannot.
func (a *Attention) AddCut(point, normal geom.Vec, through string) (name string, err error) {
	if !geom.IsFinite(point) || !(normal.Len() > 0) || !geom.IsFinite(normal) {
		return "", say.Errorf("a cut needs a place and a direction")
	}
	if len(a.Sections) >= mostCuts {
		return "", say.Errorf("%d cuts are the most: remove one first", mostCuts)
	}
	name = "A"
	for taken := true; taken; {
		taken = slices.ContainsFunc(a.Sections, func(c Section) bool { return c.Name == name })
		if taken {
			name = string(rune(name[0]) + 1)
		}
	}
	n := normal.Normalize()
	a.Sections = append(slices.Clone(a.Sections), Section{Name: name, Point: point, Normal: n, ZeroMM: point.Dot(n), Grid: len(a.Sections) == 0, Through: through})
	slices.SortFunc(a.Sections, func(x, y Section) int { return strings.Compare(x.Name, y.Name) })
	return name, nil
}

// CutAcross puts a cut across an axis (0 X, 1 Y, 2 Z) through the middle of what
// is selected, else of the drop group, else of all that is shown; across Y then
// through the middle plane of a car that is given. It takes away the rear, the
// right or the top.
func (a *Attention) CutAcross(s *State, axis int) error {
	if s.Scene == nil {
		return ErrNothingOpen
	}
	box, through := BoxOf(s, a.Selected), strings.Join(a.Selected, ", ")
	if box.IsEmpty() {
		through = ""
		if s.Doc != nil && s.Doc.Drop != nil {
			box = a.shownBox(s, s.Doc.Drop.Group)
		}
	}
	if box.IsEmpty() {
		box = a.shownBox(s, "")
	}
	if box.IsEmpty() {
		return say.Errorf("nothing is shown that could be cut: show a part first")
	}
	var normal geom.Vec
	normal[axis] = 1
	at := box.Center()
	if axis == 1 && through == "" && s.Doc != nil && s.Doc.Vehicle != nil {
		at[1] = middlePlaneMM(s.Doc)
	}
	_, err := a.AddCut(at, normal, through)
	return err
}

// shownBox returns the box around what is shown of a group, or of all, bodywork
// left out.
func (a *Attention) shownBox(s *State, group string) geom.Box {
	box := geom.EmptyBox()
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		if (group == "" || p.Group == group) && !a.Hidden[p.Name] && !slices.Contains(shells, p.Role) && p.Role != keepOut {
			box = box.Union(p.Box)
		}
	}
	return box
}

// CutFinding puts a cut through both points of the finding that is shown, square
// to the eye of its close-up; a second time it takes that cut away again.
func (a *Attention) CutFinding(s *State) error {
	f := findingOf(s, a.Finding)
	if f == nil {
		return say.Errorf("no finding is selected: choose one in the list, then cut through its narrowest place")
	}
	through := f.A + " ~ " + f.B
	if i := slices.IndexFunc(a.Sections, func(c Section) bool { return c.Through == through }); i >= 0 {
		a.Sections = slices.Delete(slices.Clone(a.Sections), i, i+1)
		return nil
	}
	_, cut := render.Closeup(f.PointA, f.PointB, 0)
	_, err := a.AddCut(cut.Point, cut.Normal, through)
	return err
}

// changeCut changes one cut.
func (a *Attention) changeCut(name string, change func(c *Section)) {
	a.Sections = slices.Clone(a.Sections)
	for i := range a.Sections {
		if a.Sections[i].Name == name {
			change(&a.Sections[i])
		}
	}
}

// FlipCut takes away the other side.
func (a *Attention) FlipCut(name string) {
	a.changeCut(name, func(c *Section) { c.Normal, c.ZeroMM = c.Normal.Mul(-1), -c.ZeroMM })
}

// GridCut draws the millimetres on a cut, or not.
func (a *Attention) GridCut(name string) { a.changeCut(name, func(c *Section) { c.Grid = !c.Grid }) }

// RestCut lets a cut cut nothing, or cut again.
func (a *Attention) RestCut(name string) { a.changeCut(name, func(c *Section) { c.Idle = !c.Idle }) }

// RemoveCut takes a cut out; "" takes out all.
func (a *Attention) RemoveCut(name string) {
	a.Sections = slices.DeleteFunc(slices.Clone(a.Sections), func(c Section) bool { return name == "" || c.Name == name })
}

// cutStepMM is what the place of a dragged cut is rounded to: less cannot be
// aimed with a pointer. Common practice, no source.
const cutStepMM = 0.5

// CutGrip is a cut taken hold of: the point gripped, and where the cut was then.
type CutGrip struct {
	Name   string // "" for none
	At     geom.Vec
	FromMM float64
}

// GripCut takes hold of a cut at the depth of its handle, under a line of sight.
func (a *Attention) GripCut(h Handle, from, sight geom.Vec) CutGrip {
	g := CutGrip{Name: h.Name, At: from.Add(sight.Mul(h.At.Sub(from).Dot(sight)))}
	a.changeCut(h.Name, func(c *Section) { g.FromMM = c.atMM() })
	return g
}

// DragCut moves a cut along its normal so that what was gripped stays under a
// line of sight, its place rounded. A sight along the normal moves nothing.
func (a *Attention) DragCut(g CutGrip, from, sight geom.Vec) {
	a.changeCut(g.Name, func(c *Section) {
		if alongMM, ok := alongMM(g.At, c.Normal, from, sight); ok {
			c.put(math.Round((g.FromMM+alongMM*c.sign())/cutStepMM) * cutStepMM)
		}
	})
}

// PutCut moves a cut to where a typed length says.
func (a *Attention) PutCut(name, text string) error {
	mm, err := units.ParseMM(text)
	if err != nil {
		return err
	}
	a.changeCut(name, func(c *Section) { c.put(mm) })
	return nil
}

// alongMM returns how far along a line, from a point in a unit direction, the
// place lies that a line of sight passes nearest; ok is false where both run
// along each other.
func alongMM(point, dir, from, sight geom.Vec) (mm float64, ok bool) {
	between := point.Sub(from)
	b := dir.Dot(sight)
	square := 1 - b*b
	const leastSquare = 1e-4 // under half a degree: a pixel would be metres
	if !(square > leastSquare) {
		return 0, false
	}
	return (b*sight.Dot(between) - dir.Dot(between)) / square, true
}

// axis returns which axis a cut lies square to, -1 for none.
func (c *Section) axis() int {
	for k := range c.Normal {
		if math.Abs(c.Normal[k]) > 1-1e-9 {
			return k
		}
	}
	return -1
}

// sign is -1 where the coordinate falls along the normal.
func (c *Section) sign() float64 {
	if k := c.axis(); k >= 0 && c.Normal[k] < 0 {
		return -1
	}
	return 1
}

// atMM returns where a cut is: the coordinate across its axis, or how far an
// oblique one stands from where it was placed.
func (c *Section) atMM() (mm float64) {
	if k := c.axis(); k >= 0 {
		return c.Point[k]
	}
	return c.Point.Dot(c.Normal) - c.ZeroMM
}

// put moves a cut along its normal.
func (c *Section) put(mm float64) { c.Point = c.Point.Add(c.Normal.Mul((mm - c.atMM()) * c.sign())) }

// sidesTaken say what a cut across an axis takes away, along and against the
// axis. Read-only.
var sidesTaken = [3][2]string{{"rear", "front"}, {"right", "left"}, {"top", "bottom"}}

// CutRow is one cut as a list shows it.
type CutRow struct {
	Name string // its letter
	Text string
	At   string // mm, to be typed over
	Grid bool
	Idle bool
}

// CutRows lists the cuts.
func CutRows(a *Attention) []CutRow {
	var rows []CutRow
	for i := range a.Sections {
		c := &a.Sections[i]
		rows = append(rows, CutRow{Name: c.Name, Text: c.words(), At: units.NumberMM(c.atMM()), Grid: c.Grid, Idle: c.Idle})
	}
	return rows
}

// words say how a cut lies and what it takes away.
func (c *Section) words() string {
	text := "oblique"
	if k := c.axis(); k >= 0 {
		side := sidesTaken[k][0]
		if c.Normal[k] < 0 {
			side = sidesTaken[k][1]
		}
		text = phrase.F("across %c, %s taken away", 'X'+k, side)
	}
	if c.Through != "" {
		text += ", through " + c.Through
	}
	if c.Idle {
		text += " (idle)"
	}
	return text
}

// CheckCut says what is wrong with a typed place of a cut.
func CheckCut(text string) error {
	_, err := units.ParseMM(text)
	return err
}

// AidsText counts the cuts and measurements in the scene.
func AidsText(cuts, measures int) string {
	var text []string
	if cuts > 0 {
		text = append(text, counted(cuts, "cut", "cuts"))
	}
	if measures > 0 {
		text = append(text, counted(measures, "measurement", "measurements"))
	}
	return strings.Join(text, ", ")
}

func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// CutHint says of a cut where it is and what its handle does.
func CutHint(a *Attention, name string) []string {
	for i := range a.Sections {
		if c := &a.Sections[i]; c.Name == name {
			return []string{"cut " + name + "  " + units.FormatMM(c.atMM()), c.words(), phrase.Of("drag to move it, click to flip it")}
		}
	}
	return nil
}
