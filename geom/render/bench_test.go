package render

import (
	"context"
	"fmt"
	"testing"

	"aftbay/geom"
)

func BenchmarkDraw(b *testing.B) {
	s := bay(b)
	c := NewCamera().FitPoints(s.Corners(), 1280, 800)
	cut := []Cut{{Point: s.Box().Center(), Normal: geom.Vec{1, 0, 0}}}
	for _, x := range []struct {
		name string
		o    Options
	}{
		{"plain", Options{NoEdges: true, NoOutlines: true}},
		{"lines", Options{}},
		{"window", Options{Triad: true, Ground: &Ground{}}},
		{"cut", Options{Cuts: cut}},
		{"fine", Options{Supersample: 2}},
	} {
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("%s/%d", x.name, workers), func(b *testing.B) {
				x.o.Workers, x.o.Reuse = workers, nil
				for b.Loop() {
					f, err := Draw(context.Background(), s, c, x.o, 1280, 800)
					if err != nil {
						b.Fatal(err)
					}
					x.o.Reuse = f
				}
			})
		}
	}
}

func BenchmarkMillion(b *testing.B) {
	m := ball(800, 707)
	s := Scene{Items: []Item{{Mesh: m, Pose: geom.Identity(), Color: Swatch(0), Closed: true}}}
	c := NewCamera().Fit(s.Box(), 1280, 800)
	var o Options
	for b.Loop() {
		f, err := Draw(context.Background(), s, c, o, 1280, 800)
		if err != nil {
			b.Fatal(err)
		}
		o.Reuse = f
	}
	b.ReportMetric(float64(len(m.Tris)), "triangles")
}
