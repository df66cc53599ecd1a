package render

import (
	"context"
	"testing"

	"aftbay/geom"
)

// A key shows each of its colours, and stays in sight where a marker stands in
// its place.
func TestKeyShowsItsColours(t *testing.T) {
	colors := []RGB{{213, 94, 0}, {86, 180, 233}, {0, 158, 115}}
	key := &Key{Title: "why"}
	for _, c := range colors {
		key.Entries = append(key.Entries, KeyEntry{Color: c, Text: "reason"})
	}
	cam := NewCamera()
	s := Scene{Overlay: Overlay{Key: key}}
	for y := -2000.0; y <= 2000; y += 50 { // markers all over the picture
		for z := -2000.0; z <= 2000; z += 50 {
			s.Overlay.Markers = append(s.Overlay.Markers, Marker{At: geom.Vec{0, y, z}, Text: "9", Color: RGB{1, 2, 3}})
		}
	}
	f, err := Draw(context.Background(), s, cam, Options{}, 500, 400)
	if err != nil {
		t.Fatal(err)
	}
	counts := map[RGB]int{}
	for y := range 400 {
		for x := range 500 {
			c := f.Image.RGBAAt(x, y)
			counts[RGB{c.R, c.G, c.B}]++
		}
	}
	for _, c := range colors {
		if counts[c] < 50 {
			t.Errorf("%v covers %d pixels", c, counts[c])
		}
	}
}
