package desk

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/gauge"
	"aftbay/geom/layout"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
)

// Measure keeps a measurement in the layout, as an edit.
func (d *Desk) Measure(m layout.Measurement) error {
	return d.Edit(phrase.F("measure %s to %s", m.From.Part, m.To.Part), func(doc *layout.Document) error {
		if slices.Contains(doc.Measurements, m) {
			return say.New("this is measured already")
		}
		doc.Measurements = append(doc.Measurements, m)
		return nil
	})
}

// Unmeasure takes measurements out of the layout, as one edit.
func (d *Desk) Unmeasure(gone ...layout.Measurement) error {
	return d.Edit(phrase.Of("remove measurement"), func(doc *layout.Document) error {
		doc.Measurements = slices.DeleteFunc(doc.Measurements, func(m layout.Measurement) bool { return slices.Contains(gone, m) })
		return nil
	})
}

// MeasureRow is one measurement as the list shows it.
type MeasureRow struct {
	Of     layout.Measurement
	Number string // as in the scene
	Figure string // the distance, the angle, or why there is none
	Words  string // what lies between
	Shift  string // how far apart along the axes, "" for an angle alone
}

// measured is what a measurement came to, for ends in their places.
type measured struct {
	of   layout.Measurement
	a, b geom.Pose
	// trees of both, since a mesh may be read anew
	bodies [2]dist.Body
	r      gauge.Reading
	err    error
}

// addMeasures puts the layout's measurements into a picture, as dimension lines
// and rows, for the parts as they stand there.
func (p *Painter) addMeasures(out *Picture, s *State, a *Attention) {
	if !a.Measures {
		return
	}
	var kept []measured
	for i, m := range s.Doc.Measurements {
		row := MeasureRow{Of: m, Number: fmt.Sprint(i + 1), Words: endWords(m.From) + " to " + endWords(m.To)}
		got, moved, err := p.gauged(out, s, m)
		if err == nil {
			kept = append(kept, got)
			err = got.err
		}
		if err != nil {
			row.Figure = phrase.Err(err)
			out.Measures = append(out.Measures, row)
			continue
		}
		r := got.r
		row.Figure, row.Shift = figureOf(r), shiftOf(r)
		if moved {
			row.Words += phrase.Of(", in the position shown")
		}
		out.Measures = append(out.Measures, row)
		out.Overlay.Witnesses = append(out.Overlay.Witnesses, render.Witness{From: r.From, To: r.To, Text: row.Figure, Color: render.AccentColor})
	}
	p.measured = kept
	if a.Measuring {
		out.Note = MeasureHint(a)
		if i := slices.Index(out.Parts, a.FirstEnd.Part); i >= 0 && a.FirstEnd.Part != "" {
			at := out.Items[i].Pose.Point(a.FirstEnd.AtMM)
			out.Overlay.Markers = append(out.Overlay.Markers, render.Marker{At: at, Text: "1", Color: render.AccentColor})
		}
	}
}

// gauged measures a measurement between the parts of a picture; moved tells that
// one stands elsewhere than in the layout.
func (p *Painter) gauged(out *Picture, s *State, m layout.Measurement) (got measured, moved bool, err error) {
	got = measured{of: m}
	poses := [2]*geom.Pose{&got.a, &got.b}
	for k, e := range [2]*layout.MeasuredEnd{&m.From, &m.To} {
		i, ok := s.Scene.Index(e.Part)
		if !ok {
			return got, false, say.Errorf("the part %q is gone", e.Part)
		}
		part := &s.Scene.Parts[i]
		*poses[k] = out.Items[i].Pose
		moved = moved || out.Items[i].Pose != part.Pose
		got.bodies[k] = dist.Body{Tree: part.Tree, Pose: *poses[k], Closed: part.Closed}
	}
	for _, known := range p.measured {
		if known.of == m && known.bodies == got.bodies {
			return known, moved, nil
		}
	}
	got.r, got.err = gauge.Between(context.Background(), gaugeEnd(m.From, got.bodies[0]), gaugeEnd(m.To, got.bodies[1]))
	return got, moved, nil
}

// gaugeEnd returns an end in its place.
func gaugeEnd(e layout.MeasuredEnd, body dist.Body) gauge.End {
	end := gauge.End{Kind: gauge.Kind(e.What), At: body.Pose.Point(e.AtMM), To: body.Pose.Point(e.ToMM), Body: body}
	end.PickedAt = end.At
	if end.Kind == gauge.Axis || end.Kind == gauge.Edge {
		end.PickedAt = end.At.Add(end.To).Mul(0.5)
	}
	return end
}

// figureOf writes a distance with its angle.
func figureOf(r gauge.Reading) string {
	if r.Overlap {
		return "overlap"
	}
	text := units.FormatMM(r.DistanceMM)
	if r.Angled {
		angle := units.FormatDeg(units.Deg(r.AngleRad))
		if r.DistanceMM < 1e-6 {
			return angle
		}
		if r.AngleRad > 1e-4 {
			text += ", " + angle
		}
	}
	return text
}

// shiftOf writes how far apart the two points are along the axes.
func shiftOf(r gauge.Reading) string {
	d := r.To.Sub(r.From)
	if d.Len() < 1e-6 {
		return ""
	}
	return phrase.F("X %s, Y %s, Z %s mm", signedMM(d[0]), signedMM(d[1]), signedMM(d[2]))
}

func signedMM(mm float64) string {
	if mm > 0.005 {
		return "+" + units.NumberMM(mm)
	}
	return units.NumberMM(mm)
}

// endWords names an end: the part, and what of it.
func endWords(e layout.MeasuredEnd) string {
	if e.What == string(gauge.Part) {
		return e.Part
	}
	return fmt.Sprintf("%s (%s)", e.Part, e.What)
}

// MeasuresText returns measurements as text to be pasted: one a line, columns
// parted by tabs.
func MeasuresText(rows ...MeasureRow) string {
	var out strings.Builder
	for i := range rows {
		r := &rows[i]
		fmt.Fprintf(&out, "%s\t%s\t%s\t%s\n", r.Number, r.Figure, r.Words, r.Shift)
	}
	return out.String()
}

// MeasureHint says what a click does while something is measured.
func MeasureHint(a *Attention) string {
	first := phrase.Of("Measure: click the first thing")
	if a.FirstEnd.Part != "" {
		first = phrase.Of("Measure from ") + endWords(a.FirstEnd) + phrase.Of(": click the other")
	}
	return first + phrase.Of(". A corner, an edge or a point; with Shift a face or the axis of a round one; with Control the whole part. Escape ends.")
}

// ToggleMeasuring begins to measure, or ends it.
func (a *Attention) ToggleMeasuring() {
	a.Measuring, a.FirstEnd = !a.Measuring, layout.MeasuredEnd{}
	a.Measures = a.Measures || a.Measuring
}

// TakeEnd takes an end of a measurement. With the second one it returns the whole
// and is ready for the next.
func (a *Attention) TakeEnd(e layout.MeasuredEnd) (m layout.Measurement, whole bool, err error) {
	if a.FirstEnd.Part == "" {
		a.FirstEnd = e
		return m, false, nil
	}
	if e == a.FirstEnd {
		return m, false, say.New("that is the first end once more: click another thing")
	}
	if e.Part == a.FirstEnd.Part && e.What == string(gauge.Part) && a.FirstEnd.What == e.What {
		return m, false, say.New("a part has no distance to itself: click another part")
	}
	m = layout.Measurement{From: a.FirstEnd, To: e}
	a.FirstEnd = layout.MeasuredEnd{}
	return m, true, nil
}

// roundedPerMM is the steps of a millimetre that ends are rounded to in the layout
// file: below what a pointer or a float32 mesh can tell, and short to read.
const roundedPerMM = 1e4

func shortened(v geom.Vec) geom.Vec {
	for k := range v {
		v[k] = math.Round(v[k]*roundedPerMM) / roundedPerMM
	}
	return v
}

// CopiedText says what was copied.
func CopiedText(n int) string {
	return counted(n, "measurement", "measurements") + phrase.Of(" copied as text")
}
