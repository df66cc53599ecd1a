package rearview

import (
	"errors"
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// mirrored returns a mesh with left and right exchanged.
func mirrored(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, v := range m.Verts {
		out.Verts = append(out.Verts, geom.Vec{v[0], -v[1], v[2]})
	}
	for _, t := range m.Tris {
		out.Tris = append(out.Tris, [3]int32{t[0], t[2], t[1]})
	}
	return out
}

// TestLeftAndRight: a car with left and right exchanged shows the same, with
// the eyes exchanged.
func TestLeftAndRight(t *testing.T) {
	view := func(side float64) *layout.RearView {
		return &layout.RearView{
			RPointMM: &geom.Vec{1250, side * 360, 285}, RearEndXMM: new(3200.0),
			Mirror:  &layout.Mirror{CentreMM: geom.Vec{760, side * 11, 985}, WidthMM: 180, HeightMM: 60, Aim: &geom.Vec{1, side * 0.01, -0.008}},
			GlassMM: []geom.Vec{{1400, side * -420, 1085}, {1400, side * 380, 1085}, {1560, side * 460, 962}, {1560, side * -460, 962}},
		}
	}
	lump := block(geom.Vec{2000, 40, 500}, geom.Vec{2300, 330, 968})
	other := block(geom.Vec{2600, -240, 500}, geom.Vec{2700, -20, 955})
	a := answer(t, build(t, view(1), piece{name: "x", mesh: lump}, piece{name: "y", mesh: other}))
	b := answer(t, build(t, view(-1), piece{name: "x", mesh: mirrored(lump)}, piece{name: "y", mesh: mirrored(other)}))
	for i := range a.Rules {
		p, q := a.Rules[i].Seen, b.Rules[i].Seen
		near(t, "left", p.LeftShare, q.RightShare)
		near(t, "right", p.RightShare, q.LeftShare)
		near(t, "either", p.EitherShare, q.EitherShare)
		near(t, "both", p.BothShare, q.BothShare)
		if p.EitherShare > 0.999 || p.LeftShare < 0.1 {
			t.Errorf("the case shows nothing: %+v", p)
		}
	}
	near(t, "nearest", *a.NearestRoadMM, *b.NearestRoadMM)
}

// TestReflection: an image is as far behind the mirror as the eye is before it,
// and its image is the eye; the path by way of the mirror is as long as the
// straight one from the image.
func TestReflection(t *testing.T) {
	s := answer(t, randomScene(t, 11)).study.sight
	for _, e := range s.eyes {
		n, c := s.mirror.Normal, s.mirror.Centre
		near(t, "distance", e.eye.Sub(c).Dot(n), -e.image.Sub(c).Dot(n))
		if back := s.reflect.Point(e.image); back.Sub(e.eye).Len() > 1e-9 {
			t.Errorf("image of the image is off by %v", back.Sub(e.eye))
		}
		at := geom.Vec{40000, 300, 0}
		d := at.Sub(e.image)
		on := e.image.Add(d.Mul(c.Sub(e.image).Dot(n) / d.Dot(n)))
		near(t, "path", e.eye.Sub(on).Len()+at.Sub(on).Len(), d.Len())
	}
}

// TestHigherHidesMore: the share lost grows with the height of a part that
// stands on the road, a tenth of a millimetre is felt, and at the heights told
// the answer is what they promise.
func TestHigherHidesMore(t *testing.T) {
	at := func(topMM float64) *Result {
		return answer(t, build(t, flatMirror(), piece{name: "wall", mesh: block(geom.Vec{2900, -90, -10}, geom.Vec{2950, 260, topMM})}))
	}
	last := 2.0
	for topMM := 1158.0; topMM < 1215; topMM += 3 {
		if r := at(topMM); r.Seen.EitherShare > last {
			t.Errorf("at %g mm more is seen than lower down", topMM)
		} else {
			last = r.Seen.EitherShare
		}
	}
	a, b := at(1180), at(1180.1)
	if d := a.Seen.EitherShare - b.Seen.EitherShare; d < 1e-4 || d > 1e-2 {
		t.Errorf("a tenth of a millimetre at a crest changes the share by %g", d)
	}
	h := a.HighestAllowedMM["wall"]
	if h.NoLossMM == nil || h.AtAllowanceMM == nil {
		t.Fatalf("no heights: %+v", h)
	}
	// Part files keep 24 bits: some 1e-4 mm at a metre.
	const fileMM = 1e-4
	if r := at(*h.NoLossMM - fileMM); len(r.LostBy) != 0 {
		t.Errorf("just under no loss: %+v", r.LostBy)
	}
	if r := at(*h.NoLossMM + 0.01); len(r.LostBy) != 1 {
		t.Errorf("just over no loss nothing is lost")
	}
	if r := at(*h.AtAllowanceMM - fileMM); !r.Required.Met {
		t.Errorf("just under the allowance: %+v", r.Required)
	}
	if r := at(*h.AtAllowanceMM + 2*fileMM); r.Required.Met {
		t.Errorf("just over the allowance: %+v", r.Required)
	}
	near(t, "margin", *h.AllowanceMarginMM, *h.AtAllowanceMM-h.NowMM)
}

// TestVariants: a part moved and a part left out are what a layout drawn so
// would say.
func TestVariants(t *testing.T) {
	view := flatMirror()
	view.Variants = []layout.ViewVariant{
		{Name: "down", Parts: []layout.ViewShift{{Part: "wall", MoveMM: geom.Vec{0, 0, -12}}}},
		{Name: "gone", Without: []string{"wall"}},
	}
	wall := func(topMM float64) piece {
		return piece{name: "wall", mesh: block(geom.Vec{2900, -90, -20}, geom.Vec{2950, 260, topMM})}
	}
	r := answer(t, build(t, view, wall(1184)))
	low := answer(t, build(t, flatMirror(), wall(1172)))
	if len(r.Variants) != 2 {
		t.Fatalf("%d variants", len(r.Variants))
	}
	near(t, "down", r.Variants[0].Seen.EitherShare, low.Seen.EitherShare)
	near(t, "gone", r.Variants[1].Seen.EitherShare, 1)
	if r.Variants[0].Seen.EitherShare <= r.Seen.EitherShare || !r.Variants[1].Met {
		t.Errorf("%+v", r.Variants)
	}
}

// TestAttitude: a body that sinks by the same at both axles sees what one drawn
// lower sees.
func TestAttitude(t *testing.T) {
	wall := piece{name: "wall", mesh: block(geom.Vec{2900, -90, 500}, geom.Vec{2950, 260, 1184})}
	sunk := build(t, flatMirror(), wall)
	sunk.Doc.Vehicle = &layout.Vehicle{
		FrontAxleMM: geom.Vec{0, 0, 300}, RearAxleMM: geom.Vec{2500, 0, 300},
		Attitudes: []layout.Attitude{{Name: "laden", FrontDownMM: 40, RearDownMM: 40}, {Name: "tail", RearDownMM: 50}},
	}
	sunk.Doc.RearView.Attitude = "laden"
	a := answer(t, sunk)
	view := flatMirror()
	for i := range view.EyesMM {
		view.EyesMM[i][2] -= 40
	}
	view.Mirror.CentreMM[2] -= 40
	b := answer(t, build(t, view, piece{name: "wall", mesh: block(geom.Vec{2900, -90, 460}, geom.Vec{2950, 260, 1144})}))
	near(t, "sunk", a.Seen.EitherShare, b.Seen.EitherShare)
	near(t, "nearest", *a.NearestRoadMM, *b.NearestRoadMM)
	near(t, "no loss", *a.HighestAllowedMM["wall"].NoLossMM, *b.HighestAllowedMM["wall"].NoLossMM+40)
	// Tail down the mirror looks up and the crest is lower against it: the
	// horizon rises in the car by atan(50/2500).
	sunk.Doc.RearView.Attitude = "tail"
	c := answer(t, sunk)
	tilt := 50.0 / 2500
	graze := (1210.0 - 1184) / (2950 - 462) // fall of the line over the crest in the body
	if want := c.study.sight.eyes[middle].image[2] / math.Tan(math.Atan(graze)+math.Atan(tilt)); math.Abs(*c.UnbrokenRoadMM+c.study.sight.eyes[middle].eye[0]-c.study.sight.midXMM-want) > 1 {
		t.Errorf("tail down: %g, want %g", *c.UnbrokenRoadMM, want)
	}
}

// TestNothingInTheWay: no part at all, or none that blocks, is a clear answer.
func TestNothingInTheWay(t *testing.T) {
	r := answer(t, build(t, flatMirror()))
	if r.Seen.EitherShare != 1 || !r.Required.Met || len(r.LostBy) != 0 || !strings.Contains(r.Required.Sentence.String(), "no part stands in the view") {
		t.Errorf("%+v", r.Answer)
	}
	wall := block(geom.Vec{2000, -3000, 0}, geom.Vec{2001, 3000, 2000})
	r = answer(t, build(t, flatMirror(), piece{"pane", "glass", wall}, piece{"zone", "sightline", wall}))
	if r.Seen.EitherShare != 1 || len(r.Through) != 2 {
		t.Errorf("glass blocks: %+v", r.Answer)
	}
	r = answer(t, build(t, flatMirror(), piece{"wall", "body", wall}))
	if r.Seen.EitherShare != 0 || r.NearestRoadMM != nil || r.Required.Met || r.Required.Verdict != Short {
		t.Errorf("behind a wall: %+v", r.Answer)
	}
}

// TestNothingShown: a mirror that shows the sky, or that looks beside the glass,
// is an answer with a reason, not a share without words.
func TestNothingShown(t *testing.T) {
	for _, c := range []struct {
		spoil func(v *layout.RearView)
		want  string
	}{
		{func(v *layout.RearView) { v.Mirror.Aim = &geom.Vec{1, 0, 0.3} }, "the mirror shows none"},
		{func(v *layout.RearView) { v.Mirror.Aim = &geom.Vec{1, 0.8, 0} }, "the mirror shows none"},
		{func(v *layout.RearView) {
			v.GlassMM = []geom.Vec{{1700, 500, 900}, {1700, 900, 900}, {1700, 900, 1300}, {1700, 500, 1300}}
		}, "misses the glass"},
	} {
		view := flatMirror()
		view.RearEndXMM = new(3200.0)
		view.Mirror = &layout.Mirror{CentreMM: geom.Vec{981, 0, 1210}, WidthMM: 240, HeightMM: 60, Aim: &geom.Vec{1, 0, 0}}
		c.spoil(view)
		r := answer(t, build(t, view, piece{name: "wall", mesh: block(geom.Vec{2900, -90, 0}, geom.Vec{2950, 260, 1184})}))
		for _, a := range r.Rules {
			if a.Seen.EitherShare != 0 || a.Required.Met || !strings.Contains(a.Required.Sentence.String(), c.want) {
				t.Errorf("%s: %+v", c.want, a.Required)
			}
		}
	}
}

// TestMirrorBehindTheEyes can be looked into by turning round: it is told.
func TestMirrorBehindTheEyes(t *testing.T) {
	view := flatMirror()
	told := func() bool {
		return strings.Contains(strings.Join(say.English(answer(t, build(t, view)).Notes), "\n"), "behind the eyes")
	}
	if told() {
		t.Error("a mirror ahead of the eyes is told of")
	}
	view.Mirror = &layout.Mirror{CentreMM: geom.Vec{1700, 600, 1210}, WidthMM: 240, HeightMM: 60, Aim: &geom.Vec{1, 0, 0}}
	if !told() {
		t.Error("a mirror behind the eyes is not told of")
	}
}

// TestBadInput: every refusal says where, what and how to mend it.
func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(v *layout.RearView)
		want  []string
	}{
		{"no eyes", func(v *layout.RearView) { v.EyesMM = nil }, []string{"rear_view", "no eyes", "r_point_mm"}},
		{"eyes exchanged", func(v *layout.RearView) { v.EyesMM[0], v.EyesMM[1] = v.EyesMM[1], v.EyesMM[0] }, []string{"rear_view.eyes_mm", "swap"}},
		{"no mirror", func(v *layout.RearView) { v.Mirror = nil }, []string{"no mirror", "centre_mm"}},
		{"eye behind the mirror", func(v *layout.RearView) { v.Mirror.Normal = &geom.Vec{-1, 0, 0} }, []string{"rear_view.mirror.normal", "behind the mirror", "turn"}},
		{"one eye behind", func(v *layout.RearView) {
			v.Mirror.CentreMM, v.Mirror.Normal = geom.Vec{1500, 5, 1210}, &geom.Vec{0, -1, 0}
		}, []string{"eye", "behind"}},
		{"mirror facing away", func(v *layout.RearView) { v.Mirror.Normal, v.Mirror.Aim = nil, &geom.Vec{-1, 0, 0} }, []string{"rear_view.mirror.aim", "faces away", "rearward"}},
		{"mirror looking at the sky", func(v *layout.RearView) {
			*v.Mirror = layout.Mirror{CentreMM: geom.Vec{981, 0, 900}, WidthMM: 240, HeightMM: 60, Normal: &geom.Vec{0.01, 0, 1}}
		}, []string{"rear_view.mirror", "faces away", "rearward"}},
		{"mirror in the eyes", func(v *layout.RearView) { v.Mirror.CentreMM = geom.Vec{1500, 0, 1210} }, []string{"stands in the eyes"}},
		{"up along the normal", func(v *layout.RearView) { v.Mirror.Up = &geom.Vec{1, 0, 0} }, []string{"rear_view.mirror.up", "another"}},
		{"two corners", func(v *layout.RearView) { v.GlassMM = []geom.Vec{{1600, 0, 900}, {1600, 0, 1000}} }, []string{"rear_view.glass_mm", "three"}},
		{"glass on a line", func(v *layout.RearView) { v.GlassMM = []geom.Vec{{1600, 0, 900}, {1600, 0, 1000}, {1600, 0, 1100}} }, []string{"one line"}},
		{"glass bent", func(v *layout.RearView) {
			v.GlassMM = []geom.Vec{{1600, -400, 900}, {1600, 400, 900}, {1500, 400, 1200}, {1560, -400, 1200}}
		}, []string{"rear_view.glass_mm[", "not flat", "flat pane"}},
		{"glass crossed", func(v *layout.RearView) {
			v.GlassMM = []geom.Vec{{1600, -400, 900}, {1600, 400, 900}, {1600, -400, 1200}, {1600, 400, 1200}}
		}, []string{"crosses itself", "in order"}},
		{"no rear end", func(v *layout.RearView) { v.Requirement = RuleUS }, []string{"rear_view.rear_end_x_mm", "give"}},
		{"no free field", func(v *layout.RearView) { v.Requirement = RuleFree }, []string{"rear_view.field", "near_mm"}},
		{"field turned round", func(v *layout.RearView) { v.Field = &layout.RearField{NearMM: 900, FarMM: new(800.0), WidthMM: 10} }, []string{"rear_view.field", "far_mm"}},
		{"unknown attitude", func(v *layout.RearView) { v.Attitude = "flying" }, []string{"rear_view.attitude", "flying"}},
		{"eyes under the road", func(v *layout.RearView) {
			for i := range v.EyesMM {
				v.EyesMM[i][2] = -300
			}
			v.Mirror.CentreMM[2] = -300
		}, []string{"below the road", "ground_z_mm"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			sc := build(t, flatMirror())
			c.spoil(sc.Doc.RearView)
			_, err := Run(t.Context(), sc, Options{}, nil)
			var f layout.Fault
			if !errors.As(err, &f) || f.Mend.IsZero() {
				t.Fatalf("error %v", err)
			}
			for _, w := range c.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
	sc := build(t, flatMirror())
	sc.Doc.RearView = nil
	if _, err := Run(t.Context(), sc, Options{}, nil); err == nil || !strings.Contains(err.Error(), "add it") {
		t.Errorf("no rear view: %v", err)
	}
}

// TestEyePointOfTheUSRule: that rule judges from the point between the eyes. A
// mirror turned to a driver at the side puts the images of his eyes at different
// heights, so that one of them still sees over a crest that hides the road from
// the point between: verdict, margin and sentence must speak of the same eye.
func TestEyePointOfTheUSRule(t *testing.T) {
	at := func(topMM float64) *Result {
		view := &layout.RearView{
			RPointMM: &geom.Vec{1250, -360, 285}, RearEndXMM: new(3200.0), Requirement: RuleUS,
			Mirror: &layout.Mirror{CentreMM: geom.Vec{760, 0, 985}, WidthMM: 240, HeightMM: 60, Aim: &geom.Vec{1, 0, -0.008}},
		}
		return answer(t, build(t, view, edgeSheet(2600, topMM, 3000)))
	}
	h := at(940).HighestAllowedMM["crest"]
	if h.AtAllowanceMM == nil || h.NoLossMM == nil {
		t.Fatalf("%+v", h)
	}
	if math.Abs(*h.AtAllowanceMM-*h.NoLossMM) < 0.1 {
		t.Fatalf("the eyes' images stand at one height: %+v", h)
	}
	for _, offMM := range []float64{-1, -0.1, -0.001, 0.001, 0.1, 1} {
		r := at(*h.AtAllowanceMM + offMM)
		marginMM := *r.HighestAllowedMM["crest"].AllowanceMarginMM
		if r.Required.Met != (offMM < 0) || math.Abs(marginMM+offMM) > 1e-3 { // part files keep 24 bits
			t.Errorf("%g mm over the limit: met %v, margin %g", offMM, r.Required.Met, marginMM)
		}
		if down := strings.Contains(r.Required.Sentence.String(), "must go down"); down == r.Required.Met {
			t.Errorf("%g mm over the limit: %s", offMM, r.Required.Sentence)
		}
	}
	// A spar narrower than the eyes stand apart hides nothing from both.
	view := flatMirror()
	view.RearEndXMM, view.Requirement = new(3200.0), RuleUS
	spar := block(geom.Vec{3000, -2, 500}, geom.Vec{3001, 2, 1300})
	r := answer(t, build(t, view, piece{name: "spar", mesh: spar}))
	if q := r.Required; q.Met || len(r.LostBy) != 0 || strings.Contains(q.Sentence.String(), "no part hides") || !strings.Contains(q.Sentence.String(), "from the eye point") {
		t.Errorf("spar: %+v", q)
	}
}
