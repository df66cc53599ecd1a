package radiate

import (
	"context"
	"slices"
	"sync"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/say"
	"aftbay/thermal/patch"
)

// Options say how the rays are dealt.
type Options struct {
	Rays    int    // per patch; 1024 where 0
	Seed    uint64 // same seed, same bits
	Workers int    // 0: one per processor
	// Quick takes a ray that meets a solid from within as the only one that
	// started inside, and does not ask which others did: a first answer.
	Quick bool
	// RaysOnly leaves out the contour form between flat patches.
	RaysOnly bool
	// Prev is an earlier trace of nearly the same scene: only the rays that what
	// moved can change are traced again. The answer is the same without it.
	Prev *Factors
}

const (
	defaultRays = 1024
	// leastShare: a part of few patches shoots as many rays as one of this
	// many, so that a small receiver is as well known as a large one.
	leastShare = 16
	// blindShare: a side that does not radiate only throws back what falls on
	// it, so it is known well enough by this part of the rays.
	blindShare = 4
)

// tally is what one patch saw.
type tally struct {
	rays   int
	to     []int32 // patches hit, ascending; itself where a ray started inside a solid
	count  []int32 // count[k]: rays that met to[k]
	missed int     // met nothing
	buried int     // of the rays to itself, those that started inside a solid
	hits   []int32 // hits[ray]: patch met, or metNothing, metBuried
	again  int     // rays that were traced, not taken over
}

// Trace shoots the rays of every patch and returns the view factors. The tree
// is over set.Mesh. It fails only when ctx ends.
func Trace(ctx context.Context, set *patch.Set, tree *bvh.RayTree, o Options, progress geom.Progress) (*Factors, error) {
	if o.Rays < 0 {
		return nil, say.Errorf("rays %d: give a number above 0", o.Rays)
	}
	if o.Rays == 0 {
		o.Rays = defaultRays
	}
	t := newTracer(set, tree, o)
	tallies := make([]tally, len(set.Patches))
	err := geom.Each(ctx, o.Workers, len(tallies), progress, func(i int) error {
		tallies[i] = t.patch(i)
		return nil
	})
	if err != nil {
		return nil, err
	}
	exactly := tree
	if o.Quick || o.RaysOnly {
		exactly = nil
	}
	f := newFactors(set, exactly, tallies)
	f.hits, f.options, f.sizeMM = remember(tallies), o.kept(), t.sizeMM
	for i := range tallies {
		f.Traced += tallies[i].again
	}
	return f, nil
}

// tracer is what all patches share.
type tracer struct {
	set        *patch.Set
	tree       *bvh.RayTree
	options    Options
	sobol      *directions
	circle     *circle
	sizeMM     float64
	before     *before
	perPart    []int // perPart[part]: patches with area
	first      []int // first[part]: its first patch
	scratchers sync.Pool
}

func newTracer(set *patch.Set, tree *bvh.RayTree, o Options) *tracer {
	t := &tracer{set: set, tree: tree, options: o, sobol: newDirections(), circle: newCircle(), sizeMM: steady(set.Mesh.Box().DiagonalMM())}
	t.before = beforeOf(set, o.Prev, o, t.sizeMM)
	t.first = firstPatches(set)
	t.perPart = make([]int, len(set.EdgesMM))
	for _, p := range set.Patches {
		if p.AreaM2 > 0 && !p.Inner {
			t.perPart[p.Part]++
		}
	}
	t.scratchers.New = func() any { return new(scratch) }
	return t
}

// streamOf numbers the random numbers of a patch by its part and its place in
// it, so that they stay when another part is cut otherwise.
func (t *tracer) streamOf(i int) uint64 {
	part := t.set.Patches[i].Part
	return uint64(part)<<32 | uint64(i-t.first[part])
}

// raysOf returns how many rays a patch shoots.
func (t *tracer) raysOf(p *patch.Patch) int {
	rays := max(t.options.Rays, leastShare*t.options.Rays/max(t.perPart[p.Part], 1))
	if p.Blind {
		rays = max(1, rays/blindShare)
	}
	return rays
}

// patch shoots the rays of patch i and counts what they met.
func (t *tracer) patch(i int) tally {
	p := &t.set.Patches[i]
	if p.AreaM2 <= 0 {
		return tally{}
	}
	s := t.scratchers.Get().(*scratch)
	defer t.scratchers.Put(s)
	out := tally{rays: t.raysOf(p)}
	e := &s.emitter
	e.aim(t.set, p, t.circle, t.sizeMM*liftShare)
	e.pts = newStream(t.sobol, t.options.Seed, t.streamOf(i))
	s.deal(out.rays, t.farMM())
	out.hits = make([]int32, out.rays)
	buried := t.shoot(s, out.hits, t.before.hitsOf(t.set, i, out.rays, e.offMM))
	if buried && !t.options.Quick {
		s.bury(t.set, out.hits)
	}
	s.tally(&out, int32(i), len(t.set.Patches))
	return out
}

func (t *tracer) farMM() float64 { return 2 * t.sizeMM }

// shoot notes what each of the rays dealt meets, and reports whether any started
// inside a solid; old is what they met before, where known.
func (t *tracer) shoot(s *scratch, hits, old []int32) (buried bool) {
	if old != nil {
		buried = s.keep(t.before, old, hits)
	}
	s.found = slices.Grow(s.found[:0], len(s.rays))[:len(s.rays)]
	t.tree.CastAll(s.rays, s.found)
	for i, k := range s.order {
		hits[k] = t.met(&s.found[i])
		buried = buried || hits[k] == metBuried
	}
	return buried
}

// met returns what a hit is: a patch, nothing, or the inside of a solid.
func (t *tracer) met(hit *bvh.Hit) int32 {
	switch {
	case hit.Tri < 0:
		return metNothing
	case !hit.Back:
		return t.set.OuterOf[hit.Tri]
	}
	if to := t.set.InnerOf[hit.Tri]; to >= 0 {
		return to
	}
	return metBuried
}
