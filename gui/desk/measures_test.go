package desk

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/render"
)

// pickAt returns a pick of a part of a picture at a vehicle point.
func pickAt(t *testing.T, p *Picture, part string, at geom.Vec) render.Pick {
	t.Helper()
	for i, name := range p.Parts {
		if name != part {
			continue
		}
		local := p.Items[i].Pose.Inverse().Point(at)
		best, nearest := -1, math.Inf(1)
		m := p.Items[i].Mesh
		for tri := range m.Tris {
			a, b, c := m.Corners(tri)
			n := b.Sub(a).Cross(c.Sub(a)).Normalize()
			middle := a.Add(b).Add(c).Mul(1.0 / 3)
			if off := math.Abs(local.Sub(a).Dot(n))*1e6 + local.Sub(middle).Len(); off < nearest {
				best, nearest = tri, off
			}
		}
		return render.Pick{Item: i, Triangle: best, Point: at}
	}
	t.Fatalf("no part %q", part)
	return render.Pick{}
}

func TestWhatAClickMeasures(t *testing.T) {
	d := opened(t)
	s := d.State()
	p := NewPainter().Picture(&s, &Attention{})
	ends := NewEnds()
	for _, c := range []struct {
		name       string
		part       string
		at         geom.Vec
		want       Wanted
		what, says string
		wantAt     geom.Vec
	}{
		{"face, far from edges", "block", geom.Vec{1700, 10, 600}, WantNearest, "point", "point on block", geom.Vec{1700, 10, 600}},
		{"near an edge", "block", geom.Vec{1700, 196, 600}, WantNearest, "edge", "edge of block, 400.00 mm long", geom.Vec{1500, 200, 600}},
		{"near a corner", "block", geom.Vec{1897, 197, 600}, WantNearest, "point", "corner of block", geom.Vec{1900, 200, 600}},
		{"the face", "block", geom.Vec{1700, 10, 600}, WantFace, "face", "flat face of block", geom.Vec{1700, 10, 600}},
		{"the part", "lid", geom.Vec{1700, 10, 612}, WantPart, "part", "the whole of lid", geom.Vec{1700, 10, 612}},
	} {
		end, says, err := ends.End(&p, pickAt(t, &p, c.part, c.at), c.want, 1)
		if err != nil || end.What != c.what || says != c.says || end.Part != c.part {
			t.Errorf("%s: %+v, %q, %v", c.name, end, says, err)
		}
		if other := end.ToMM; end.AtMM.Sub(c.wantAt).Len() > 1e-3 && other.Sub(c.wantAt).Len() > 1e-3 {
			t.Errorf("%s: at %v, want %v", c.name, end.AtMM, c.wantAt)
		}
	}
	if _, _, err := ends.End(&p, render.Pick{Item: 99}, WantNearest, 1); err == nil {
		t.Error("no part, no error")
	}
	if _, _, err := ends.End(&p, render.Pick{Item: 0, Triangle: -1}, WantFace, 1); err == nil || !strings.Contains(err.Error(), "cut") {
		t.Errorf("the face of a cut: %v", err)
	}
}

// A measurement follows its parts, is undone like any edit, computes no answer
// anew, and says so when its part is gone.
func TestMeasurementsStayAndFollow(t *testing.T) {
	d := opened(t)
	s := d.State()
	painter, ends := NewPainter(), NewEnds()
	a := Attention{Measures: true}
	a.ToggleMeasuring()
	p := painter.Picture(&s, &a)
	if !strings.HasPrefix(p.Note, "Measure: click the first thing") {
		t.Errorf("note %q", p.Note)
	}
	take := func(part string, at geom.Vec, want Wanted) (layout.Measurement, bool, error) {
		t.Helper()
		end, _, err := ends.End(&p, pickAt(t, &p, part, at), want, 1)
		if err != nil {
			t.Fatal(err)
		}
		return a.TakeEnd(end)
	}
	if _, whole, err := take("block", geom.Vec{1700, 10, 600}, WantPart); whole || err != nil {
		t.Fatal(whole, err)
	}
	if p := painter.Picture(&s, &a); len(p.Overlay.Markers) != 1 || !strings.Contains(p.Note, "from block: click the other") {
		t.Errorf("after the first end: %q, markers %v", p.Note, p.Overlay.Markers)
	}
	if _, _, err := take("block", geom.Vec{1500, 10, 400}, WantPart); err == nil {
		t.Error("a part against itself")
	}
	m, whole, err := take("lid", geom.Vec{1700, 10, 612}, WantPart)
	if !whole || err != nil || a.FirstEnd.Part != "" {
		t.Fatal(m, whole, err)
	}
	heat := s.Answers.Heat.Value
	if err := d.Measure(m); err != nil {
		t.Fatal(err)
	}
	if err := d.Measure(m); err == nil {
		t.Error("the same twice")
	}
	face, _, _ := take("block", geom.Vec{1700, 10, 600}, WantFace)
	_ = face
	second, _, err := take("lid", geom.Vec{1600, -50, 612}, WantFace)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Measure(second); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if !s.Answers.Heat.Fresh || s.Answers.Heat.Value != heat || !s.Unsaved || s.Undo != "measure block to lid" {
		t.Errorf("fresh %v, unsaved %v, undo %q", s.Answers.Heat.Fresh, s.Unsaved, s.Undo)
	}
	key := KeyOf(&s, &a)
	p = painter.Picture(&s, &a)
	// The lid is 12 mm over the block.
	if len(p.Measures) != 2 || p.Measures[0].Figure != "12.00 mm" || p.Measures[0].Shift != "X 0.00, Y 0.00, Z +12.00 mm" || p.Measures[1].Figure != "12.00 mm" {
		t.Fatalf("rows %+v", p.Measures)
	}
	if w := p.Overlay.Witnesses; len(w) != 2 || w[1].From[2] != 600 || math.Abs(w[1].To[2]-612) > 1e-9 || w[1].Text != "12.00 mm" {
		t.Errorf("dimension lines %+v", w)
	}
	if text := MeasuresText(p.Measures...); text != "1\t12.00 mm\tblock to lid\tX 0.00, Y 0.00, Z +12.00 mm\n2\t12.00 mm\tblock (face) to lid (face)\tX 0.00, Y 0.00, Z +12.00 mm\n" {
		t.Errorf("%q", text)
	}
	if err := d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{}); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	p = painter.Picture(&s, &a)
	if p.Measures[0].Figure != "20.00 mm" || p.Measures[1].Figure != "20.00 mm" {
		t.Errorf("the lid is raised: %+v", p.Measures)
	}
	if err := d.Place("lid", geom.Vec{0, 0, 8}, geom.Vec{10, 0, 0}); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if p = painter.Picture(&s, &a); !strings.HasSuffix(p.Measures[1].Figure, ", 10.0°") {
		t.Errorf("the lid is turned by 10°: %+v", p.Measures[1])
	}
	if KeyOf(&s, &a) == key {
		t.Error("the key does not tell the pictures apart")
	}
	if p := painter.Picture(&s, &Attention{}); len(p.Overlay.Witnesses) != 0 {
		t.Error("shown unasked")
	}
	if err := d.Unmeasure(m); err != nil {
		t.Fatal(err)
	}
	if err := d.Undo(); err != nil {
		t.Fatal(err)
	}
	if err := d.Edit("remove lid", func(doc *layout.Document) error {
		doc.Parts = append(doc.Parts[:2:2], doc.Parts[3:]...)
		doc.Rules = doc.Rules[:1]
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	s = d.State()
	if p = painter.Picture(&s, &a); len(p.Measures) != 2 || p.Measures[0].Figure != `the part "lid" is gone` || len(p.Overlay.Witnesses) != 0 {
		t.Errorf("the lid is gone: %+v", p.Measures)
	}
}
