package render

import (
	"context"
	"slices"
	"testing"

	"aftbay/geom"
)

// What speaks of a place that a cut takes away goes with it; a line with one end
// left stays, and so does a handle.
func TestCutsTakeTheirTextsAlong(t *testing.T) {
	s := Scene{Items: []Item{{Mesh: ball(50, 12), Pose: geom.Identity(), Closed: true}}}
	cam := NewCamera().Fit(s.Box(), 320, 240)
	front, rear := geom.Vec{-40, 0, 0}, geom.Vec{40, 0, 0}
	o := Options{Cuts: []Cut{{Point: geom.Vec{0, 0, 0}, Normal: geom.Vec{2, 0, 0}}}}
	picture := func(over Overlay) []byte {
		s.Overlay = over
		return slices.Clone(draw(t, s, cam, o, 320, 240).Image.Pix)
	}
	bare := picture(Overlay{})
	for _, c := range []struct {
		name string
		over Overlay
		gone bool
	}{
		{"label on what is gone", Overlay{Labels: []Label{{At: rear, Text: "tail"}}}, true},
		{"label on what is left", Overlay{Labels: []Label{{At: front, Text: "nose"}}}, false},
		{"label on the cut, to rounding", Overlay{Labels: []Label{{At: geom.Vec{1e-9, 0, 0}, Text: "middle"}}}, false},
		{"marker", Overlay{Markers: []Marker{{At: rear, Text: "1", Color: AccentColor}}}, true},
		{"handle", Overlay{Markers: []Marker{{At: rear, Text: "A", Color: AccentColor, Stays: true}}}, false},
		{"line beyond", Overlay{Witnesses: []Witness{{From: rear, To: geom.Vec{30, 20, 0}, Text: "22 mm"}}}, true},
		{"line across", Overlay{Witnesses: []Witness{{From: rear, To: front, Text: "80 mm"}}}, false},
		{"arrow to what is gone", Overlay{Flows: []Flow{{From: front, To: rear, Text: "heat", Share: 1}}}, true},
		{"arrow from what is gone", Overlay{Flows: []Flow{{From: rear, To: front, Text: "heat", Share: 1}}}, false},
	} {
		if gone := slices.Equal(picture(c.over), bare); gone != c.gone {
			t.Errorf("%s: gone %v, want %v", c.name, gone, c.gone)
		}
	}
}

// The shadow on the ground is that of what is left.
func TestCutsTakeTheirShadowAlong(t *testing.T) {
	s := Scene{Items: []Item{
		{Mesh: ball(50, 12), Pose: geom.Shift(geom.Vec{-600, 0, 60}), Closed: true},
		{Mesh: ball(50, 12), Pose: geom.Shift(geom.Vec{600, 0, 60}), Closed: true},
	}}
	darkAt := func(xMM float64, cuts ...Cut) (share float64) {
		p := newPainter(context.Background(), s, NewCamera(), Options{Cuts: cuts}, 40, 40, 1)
		return p.shadowOf(0).at(xMM, 0)
	}
	rear := Cut{Point: geom.Vec{}, Normal: geom.Vec{1, 0, 0}}
	half := Cut{Point: geom.Vec{600, 0, 0}, Normal: geom.Vec{1, 0, 0}}
	whole := darkAt(600)
	if whole < 0.1 || darkAt(-600, rear) != darkAt(-600) {
		t.Errorf("nothing to see: %v, %v", whole, darkAt(-600, rear))
	}
	if got := darkAt(600, rear); got > 1e-6 {
		t.Errorf("a ball that is gone darkens by %v, more than the rounding of the blur", got)
	}
	if got := darkAt(600, half); got < 0.2*whole || got > 0.8*whole {
		t.Errorf("half a ball darkens its middle by %v, all of it by %v", got, whole)
	}
}
