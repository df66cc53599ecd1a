package rearview

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// BenchmarkLargeBay is a bay of 200,000 facets, half of them under the lid,
// half of them in lumps that reach into the view.
func BenchmarkLargeBay(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	view := &layout.RearView{
		RPointMM: &geom.Vec{1250, -360, 285}, RearEndXMM: new(3200.0),
		Mirror:  &layout.Mirror{CentreMM: geom.Vec{760, 0, 985}, WidthMM: 240, HeightMM: 60, Aim: &geom.Vec{1, 0, -0.008}},
		GlassMM: []geom.Vec{{1400, -420, 1085}, {1400, 420, 1085}, {1560, 460, 962}, {1560, -460, 962}},
	}
	var pieces []piece
	for i := range 20 {
		const n = 50 // 4 n² = 10,000 facets
		mid := geom.Vec{1700 + 70*float64(i), 600 * (rng.Float64() - 0.5), 790}
		if i%2 == 1 {
			mid[2] = 500
		}
		pieces = append(pieces, piece{name: fmt.Sprintf("p%02d", i), mesh: bump(rng, mid, 170, n)})
	}
	sc := build(b, view, pieces...)
	facets := 0
	for i := range sc.Parts {
		facets += len(sc.Parts[i].Mesh.Tris)
	}
	for _, quick := range []bool{false, true} {
		b.Run(map[bool]string{false: "whole", true: "quick"}[quick], func(b *testing.B) {
			edges := 0
			for b.Loop() {
				r, err := Run(b.Context(), sc, Options{Quick: quick}, nil)
				if err != nil {
					b.Fatal(err)
				}
				edges = 0
				for _, s := range r.study.shadows {
					edges += len(s.edges[left])
				}
			}
			b.ReportMetric(float64(facets), "facets")
			b.ReportMetric(float64(edges), "edges/eye")
		})
	}
}
