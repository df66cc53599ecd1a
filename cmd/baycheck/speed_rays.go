package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// raySpeed is what rays cost, incoherent ones, all parts in one tree: by the way
// that the program takes on this machine, and by the plain one that all can take.
type raySpeed struct {
	BuildMS       float64 `json:"ray_build_ms"`
	PerS          float64 `json:"rays_per_s"` // closest hit
	AnyPerS       float64 `json:"any_hit_rays_per_s"`
	PlainBuildMS  float64 `json:"plain_ray_build_ms"`
	PlainPerS     float64 `json:"plain_rays_per_s"`
	PlainAnyPerS  float64 `json:"plain_any_hit_rays_per_s"`
	WideInUse     bool    `json:"wide_rays"` // whether the program's way is the eight-wide one
	DifferentHits int     `json:"different_hits"`
}

// sentence says it in words.
func (s *raySpeed) sentence() string {
	way := "eight boxes at a time (AVX2)"
	if !s.WideInUse {
		way = "the plain way, for want of AVX2"
	}
	return fmt.Sprintf("rays, %s: tree %.1f ms, closest hit %.2f million/s, any hit %.2f million/s; plain: tree %.1f ms, %.2f and %.2f million/s; hits that differ: %d",
		way, s.BuildMS, s.PerS/1e6, s.AnyPerS/1e6, s.PlainBuildMS, s.PlainPerS/1e6, s.PlainAnyPerS/1e6, s.DifferentHits)
}

// raysOf shoots the same rays through both ray trees of a mesh.
func raysOf(ctx context.Context, m *mesh.Mesh, workers int) (s raySpeed, err error) {
	const jobs, perJob = 64, 4096
	rays := make([][]bvh.Ray, jobs)
	box := m.Box()
	for i := range rays {
		rays[i] = randomRays(box, perJob, uint64(i))
	}
	var hits [2][][]bvh.Hit
	var fast, plain *bvh.RayTree
	s.BuildMS = inMS(func() { fast = bvh.BuildRays(m) })
	s.PlainBuildMS = inMS(func() { plain = bvh.Plain(m) })
	s.WideInUse = fast.IsWide()
	for k, way := range []struct {
		tree          *bvh.RayTree
		perS, anyPerS *float64
	}{{fast, &s.PerS, &s.AnyPerS}, {plain, &s.PlainPerS, &s.PlainAnyPerS}} {
		hits[k] = make([][]bvh.Hit, jobs)
		*way.perS, err = perSecond(ctx, workers, jobs, perJob, func(job int) {
			hits[k][job] = make([]bvh.Hit, perJob)
			way.tree.CastAll(rays[job], hits[k][job])
		})
		if err != nil {
			return s, err
		}
		*way.anyPerS, err = perSecond(ctx, workers, jobs, perJob, func(job int) {
			for _, r := range rays[job] {
				way.tree.Blocked(r)
			}
		})
		if err != nil {
			return s, err
		}
	}
	for job := range jobs {
		for i, h := range hits[0][job] {
			if h != hits[1][job][i] {
				s.DifferentHits++
			}
		}
	}
	return s, nil
}

// perSecond returns how many of jobs times perJob things are done in a second.
func perSecond(ctx context.Context, workers, jobs, perJob int, do func(job int)) (countPerS float64, err error) {
	start := time.Now()
	err = geom.Each(ctx, workers, jobs, nil, func(job int) error {
		do(job)
		return nil
	})
	return float64(jobs*perJob) / time.Since(start).Seconds(), err
}

// randomRays returns rays from anywhere in a box in any direction.
func randomRays(box geom.Box, n int, job uint64) []bvh.Ray {
	rng := rand.New(rand.NewPCG(1, job))
	rays := make([]bvh.Ray, n)
	for i := range rays {
		r := bvh.Ray{FarMM: math.Inf(1)}
		for k := range 3 {
			r.Origin[k] = box.Min[k] + rng.Float64()*(box.Max[k]-box.Min[k])
			r.Dir[k] = rng.NormFloat64()
		}
		rays[i] = r
	}
	return rays
}
