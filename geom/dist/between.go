package dist

import (
	"context"
	"fmt"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
)

// Between returns the clearance of two bodies: the least distance of their
// surfaces with both nearest points, or that they overlap.
//
// Overlap means that surfaces cross, or that some body of one lies inside the
// other closed one (an open sheet too). Touching without crossing or shared
// space is GapMM 0 and no overlap. When they overlap GapMM is 0 and the points
// are a common point of the surfaces or, where these do not meet, their nearest
// points.
//
// ctx is looked at once per some thousand triangle pairs. Errors: ErrEmpty,
// ErrPose, the error of ctx. Cost: tens of microseconds to some milliseconds.
func Between(ctx context.Context, a, b Body, o Options) (Result, error) {
	if err := ctx.Err(); err != nil {
		return Result{}, err
	}
	if err := a.validate(); err != nil {
		return Result{}, fmt.Errorf("first body: %w", err)
	}
	if err := b.validate(); err != nil {
		return Result{}, fmt.Errorf("second body: %w", err)
	}
	r := Result{ErrorMM: errorMM(a, b)}
	if o.EnoughMM > 0 {
		if gapMM := a.box().GapMM(b.box()); gapMM-r.ErrorMM >= o.EnoughMM {
			r.GapMM, r.AtLeast = o.EnoughMM, true
			return r, nil
		}
	}
	s, err := r.approach(ctx, a, b, o)
	if err != nil {
		return Result{}, err
	}
	var c *contact
	if r.GapMM > r.ErrorMM || r.AtLeast {
		r.Overlap = a.holdsBodyOf(b) || b.holdsBodyOf(a)
	} else if r.Overlap, c = s.meets(a, b, every(ctx)); c != nil && c.quit {
		return Result{}, ctx.Err()
	}
	if !r.Overlap {
		return r, nil
	}
	r.GapMM, r.AtLeast = 0, false
	if o.Overlap {
		if err := r.detail(ctx, s, c, a, b); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

// detail fills in how much two overlapping bodies share.
func (r *Result) detail(ctx context.Context, s *search, c *contact, a, b Body) error {
	if c == nil {
		c = s.meet(every(ctx))
	}
	ka, kb := s.skins(c, a, b)
	var exits []geom.Vec // shifts of b that free the deepest points, along a's axes
	var highMM float64
	for _, way := range [2]struct{ k, in *skin }{{&ka, &kb}, {&kb, &ka}} {
		if !way.in.closed {
			continue
		}
		d := deepest(way.k, way.in, every(ctx))
		r.DepthMM, highMM = max(r.DepthMM, d.lowMM), max(highMM, d.highMM)
		exits = append(exits, d.at.Sub(d.exit).Mul(float64(way.k.own)))
	}
	r.DepthErrorMM = highMM - r.DepthMM + r.ErrorMM
	if ka.closed && kb.closed {
		if v := c.share(&ka, &kb); v.ok {
			r.VolumeMM3 = &v.volumeMM3
		}
	}
	for i := range exits {
		exits[i] = a.Pose.Dir(exits[i])
	}
	out, found, err := wayOut(ctx, a, b, exits)
	if found {
		r.MoveOutMM = &out
	}
	return err
}

// approach fills the distance part of r.
func (r *Result) approach(ctx context.Context, a, b Body, o Options) (*search, error) {
	reachMM := math.Inf(1)
	if o.EnoughMM > 0 {
		reachMM = max(o.EnoughMM, 2*r.ErrorMM) // contacts must be found in any case
	}
	toA := bvh.Between(a.Tree, b.Tree, a.Pose, b.Pose)
	s, _ := nearest(a.Tree, b.Tree, toA, reachMM, every(ctx))
	s.slackMM = r.ErrorMM
	if s.quit {
		return nil, ctx.Err()
	}
	if !s.found {
		r.GapMM, r.AtLeast = reachMM, true
		return s, nil
	}
	r.GapMM = math.Sqrt(s.best.distMM2)
	r.PointA, r.PointB = a.vehicle(s.best.p), a.vehicle(s.best.q)
	r.TriA, r.TriB = a.Tree.Tri(s.slotA), b.Tree.Tri(s.slotB)
	return s, nil
}

// every returns a check of ctx that looks only once in a while.
func every(ctx context.Context) func() bool {
	n := 0
	return func() bool {
		n++
		return n%256 == 0 && ctx.Err() != nil
	}
}
