package demo

import (
	"context"
	"testing"

	"aftbay/geom"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// BenchmarkHeat answers the demo's heat study: fine, coarse, and fine again
// after a coil has moved.
func BenchmarkHeat(b *testing.B) {
	s := stage(b, BrambleB)
	coil, _ := s.Index("coil 5")
	moved := s.Placed(coil, geom.Shift(geom.Vec{0, 0, 5}).After(s.Parts[coil].Pose))
	run := func(b *testing.B, s *scene.Scene, o balance.Options) *balance.Result {
		r, err := balance.Run(context.Background(), s, o, nil)
		if err != nil {
			b.Fatal(err)
		}
		return r
	}
	for name, o := range map[string]balance.Options{"fine": {}, "coarse": {Coarse: true}, "moved": {}} {
		b.Run(name, func(b *testing.B) {
			traced := 0
			if name == "moved" {
				o.Prev = run(b, s, o)
			}
			for b.Loop() {
				traced = run(b, moved, o).Traced
			}
			b.ReportMetric(float64(traced), "rays/op")
		})
	}
}
