package main

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/dist"
	"aftbay/geom/scene"
)

// pairSpeed is what of the JSON of speed is about distances.
type pairSpeed struct {
	Pairs           int     `json:"pairs"`
	Vectors         bool    `json:"vectors"` // whether boxes are bounded by AVX2
	AllPairsMS      float64 `json:"all_pairs_ms"`
	NearPairsMS     float64 `json:"near_pairs_ms"` // only whether they come nearer than nearPairMM
	PlainAllPairsMS float64 `json:"plain_all_pairs_ms"`
	DifferentGaps   int     `json:"different_gaps"` // of the two ways, 0
}

// nearPairMM is a least clearance such as rules ask for.
const nearPairMM = 50

// pairsOf measures the distances of all pairs, by vectors and without them.
func pairsOf(ctx context.Context, s *scene.Scene, workers int) (p pairSpeed, err error) {
	n := len(s.Parts)
	p.Pairs, p.Vectors = n*(n-1)/2, bvh.HasAVX2()
	quick, slow := make([]dist.Body, n), make([]dist.Body, n)
	for i := range quick {
		quick[i] = s.Body(i)
		slow[i] = quick[i]
		slow[i].Tree = quick[i].Tree.Plainly()
	}
	var gaps, plainGaps []float64
	p.AllPairsMS = inMS(func() { gaps, err = allPairs(ctx, quick, 0, workers) })
	if err != nil {
		return p, err
	}
	p.NearPairsMS = inMS(func() { _, err = allPairs(ctx, quick, nearPairMM, workers) })
	if err != nil {
		return p, err
	}
	p.PlainAllPairsMS = inMS(func() { plainGaps, err = allPairs(ctx, slow, 0, workers) })
	for i := range plainGaps {
		if plainGaps[i] != gaps[i] {
			p.DifferentGaps++
		}
	}
	return p, err
}

// allPairs finds the distance of every pair, up to enoughMM where that is not 0,
// and whether they overlap.
func allPairs(ctx context.Context, parts []dist.Body, enoughMM float64, workers int) (gapsMM []float64, err error) {
	n := len(parts)
	gapsMM = make([]float64, n*n)
	err = geom.Each(ctx, workers, n, nil, func(a int) error {
		for b := a + 1; b < n; b++ {
			r, err := dist.Between(ctx, parts[a], parts[b], dist.Options{EnoughMM: enoughMM})
			if err != nil {
				return err
			}
			gapsMM[a*n+b] = r.GapMM
		}
		return nil
	})
	return gapsMM, err
}

// sentence tells the figures to a reader.
func (p *pairSpeed) sentence() string {
	by := "by vectors"
	if !p.Vectors {
		by = "without vectors"
	}
	return fmt.Sprintf("%d pairs exact %.1f ms %s, %.1f ms by plain code, %d different; whether nearer than %d mm %.1f ms",
		p.Pairs, p.AllPairsMS, by, p.PlainAllPairsMS, p.DifferentGaps, nearPairMM, p.NearPairsMS)
}
