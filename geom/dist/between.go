package dist

import (
	"cmp"
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/say"
)

// Between returns the clearance of two bodies: the least distance of their
// surfaces with both nearest points, or that they overlap.
//
// Overlap means that surfaces cross, or that some body of one lies inside the
// other closed one (an open sheet too). Touching without crossing or shared
// space is GapMM 0 and no overlap. When they overlap GapMM is 0 and the points
// are a common point of the surfaces or, where these do not meet, their nearest
// points; with Options.Overlap the deepest point of one surface inside the other
// solid and the way out from there.
//
// DepthMM is the largest distance from a point of one surface that lies inside
// the other solid to that solid's surface, the larger of the two ways; 0 for
// bodies that coincide. VolumeMM3 is exact up to rounding. MoveOutMM is checked to
// leave no overlap, but not proven to be the shortest way.
//
// ctx is looked at once per some thousand triangle pairs. Errors: ErrEmpty,
// ErrCoordinates, ErrPose, the error of ctx. Cost: tens of microseconds to some milliseconds;
// with Options.Overlap, where they overlap, some tens of milliseconds.
func Between(ctx context.Context, a, b Body, o Options) (Result, error) {
	if err := ctx.Err(); err != nil {
		return Result{}, err
	}
	if err := a.validate(); err != nil {
		return Result{}, say.Errorf("first body: %w", err)
	}
	if err := b.validate(); err != nil {
		return Result{}, say.Errorf("second body: %w", err)
	}
	r := Result{ErrorMM: errorMM(a, b), InputErrorMM: a.inputErrorMM() + b.inputErrorMM()}
	if o.EnoughMM > 0 {
		if gapMM := a.box().GapMM(b.box()); gapMM-r.ErrorMM >= o.EnoughMM {
			r.GapMM, r.AtLeast = o.EnoughMM, true
			return r, nil
		}
	}
	var s search
	if err := r.approach(ctx, &s, a, b, o); err != nil {
		return Result{}, err
	}
	if r.GapMM > r.ErrorMM || r.AtLeast {
		if !a.holdsBodyOf(b) && !b.holdsBodyOf(a) {
			return r, nil
		}
		r.Overlap = true
		if !s.found { // further from its surface than asked for
			if err := r.approach(ctx, &s, a, b, Options{}); err != nil {
				return Result{}, err
			}
		}
		if r.GapMM, r.AtLeast = 0, false; !o.Overlap {
			return r, nil
		}
	}
	kept := s // what follows holds on to it, and so would move every search to the heap
	if err := r.share(ctx, &kept, a, b, o); err != nil {
		return Result{}, err
	}
	return r, nil
}

// share settles whether surfaces that meet are an overlap, and fills in what is
// asked for about it.
func (r *Result) share(ctx context.Context, s *search, a, b Body, o Options) error {
	var c *contact
	if !r.Overlap {
		if r.Overlap, c = s.meets(a, b, !o.Overlap, watch{ctx: ctx}); c != nil && c.quit {
			return ctx.Err()
		}
	}
	if !r.Overlap {
		return nil
	}
	r.GapMM, r.AtLeast = 0, false
	if o.Overlap {
		return r.detail(ctx, s, c, a, b, o)
	}
	return nil
}

// detail fills in how much two overlapping bodies share.
func (r *Result) detail(ctx context.Context, s *search, c *contact, a, b Body, o Options) error {
	if c == nil {
		c = s.meet(watch{ctx: ctx})
	}
	ka, kb := s.skins(c, a, b)
	exits := r.depth(&ka, &kb, a, b, &watch{ctx: ctx})
	if o.DepthOnly {
		return ctx.Err()
	}
	if ka.closed && kb.closed {
		v := c.share(&ka, &kb)
		twiceA, errA := a.mayCountTwice(ctx, b)
		twiceB, errB := b.mayCountTwice(ctx, a)
		if err := cmp.Or(errA, errB); err != nil {
			return err
		}
		if v.ok && !twiceA && !twiceB {
			r.VolumeMM3 = &v.volumeMM3
		}
	}
	out, found, err := wayOut(ctx, a, b, exits)
	if found {
		r.MoveOutMM = &out
	}
	return err
}

// depth fills in how deep the bodies are in each other and returns the shifts of
// b that free the deepest points.
func (r *Result) depth(ka, kb *skin, a, b Body, w *watch) (exits []geom.Vec) {
	var highMM float64
	if kb.closed {
		d := deepest(ka, kb, w)
		exits, highMM = append(exits, a.Pose.Dir(d.at.Sub(d.exit))), d.highMM
		if d.lowMM > r.DepthMM {
			r.DepthMM, r.TriA, r.TriB = d.lowMM, d.tri, d.exitTri
			r.PointA, r.PointB = a.vehicle(d.at), a.vehicle(d.exit)
		}
	}
	if ka.closed {
		d := deepest(kb, ka, w)
		exits, highMM = append(exits, a.Pose.Dir(d.exit.Sub(d.at))), max(highMM, d.highMM)
		if d.lowMM > r.DepthMM {
			r.DepthMM, r.TriA, r.TriB = d.lowMM, d.exitTri, d.tri
			r.PointA, r.PointB = a.vehicle(d.exit), a.vehicle(d.at)
		}
	}
	r.DepthErrorMM = highMM - r.DepthMM + r.ErrorMM
	return exits
}

// approach fills the distance part of r and leaves the search in s.
func (r *Result) approach(ctx context.Context, s *search, a, b Body, o Options) error {
	reachMM := math.Inf(1)
	if o.EnoughMM > 0 {
		reachMM = max(o.EnoughMM, 2*r.ErrorMM) // contacts must be found in any case
	}
	*s = search{
		a: a.Tree, b: b.Tree, toA: bvh.Between(a.Tree, b.Tree, a.Pose, b.Pose),
		reachMM: reachMM, slackMM: r.ErrorMM, watch: watch{ctx: ctx},
	}
	s.run()
	if s.quit {
		return ctx.Err()
	}
	if !s.found {
		r.GapMM, r.AtLeast = reachMM, true
		return nil
	}
	r.GapMM = math.Sqrt(s.best.distMM2)
	r.PointA, r.PointB = a.vehicle(s.best.p), a.vehicle(s.best.q)
	r.TriA, r.TriB = a.Tree.Tri(s.slotA), b.Tree.Tri(s.slotB)
	return nil
}

// watch is a look at ctx that is taken only once in a while.
type watch struct {
	ctx   context.Context // nil: never over
	asked int
}

// over reports whether the work is no longer wanted.
func (w *watch) over() bool {
	w.asked++
	return w.asked%256 == 0 && w.ctx != nil && w.ctx.Err() != nil
}
