package radiate

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"aftbay/geom"
	"aftbay/geom/bvh"
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
		return nil, fmt.Errorf("rays %d: give a number above 0", o.Rays)
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
	sizeMM     float64
	before     *before
	perPart    []int // perPart[part]: patches with area
	first      []int // first[part]: its first patch
	scratchers sync.Pool
}

func newTracer(set *patch.Set, tree *bvh.RayTree, o Options) *tracer {
	t := &tracer{set: set, tree: tree, options: o, sobol: newDirections(), sizeMM: steady(set.Mesh.Box().DiagonalMM())}
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

// scratch counts the hits of one patch.
type scratch struct {
	count []int32 // count[patch]
	seen  []int32 // patches with a count
	// cover says which triangles of the patch lie inside solids, asked when
	// needed; nil while no ray was seen to start inside one.
	cover     []covered
	coverRoom []covered
}

// clearCover returns room for so many triangles, none of them asked.
func (s *scratch) clearCover(tris int) []covered {
	s.coverRoom = slices.Grow(s.coverRoom[:0], tris)[:tris]
	clear(s.coverRoom)
	return s.coverRoom
}

// raysOf returns how many rays a patch shoots.
func (t *tracer) raysOf(p *patch.Patch) int {
	rays := max(t.options.Rays, leastShare*t.options.Rays/max(t.perPart[p.Part], 1))
	if p.Blind {
		rays = max(1, rays/blindShare)
	}
	return rays
}

// patch shoots the rays of patch i. Where one of them meets a solid from within,
// some of the patch lies inside solids; the rays are then shot again, those that
// start inside counted for the patch itself.
func (t *tracer) patch(i int) tally {
	p := &t.set.Patches[i]
	if p.AreaM2 <= 0 {
		return tally{}
	}
	s := t.scratchers.Get().(*scratch)
	defer t.scratchers.Put(s)
	s.count = slices.Grow(s.count[:0], len(t.set.Patches))[:len(t.set.Patches)]
	e := t.emitter(i)
	old := t.before.hitsOf(t.set, i, t.raysOf(p), e.offMM)
	if slices.Contains(old, metBuried) && !t.options.Quick {
		s.cover = s.clearCover(len(p.Tris))
	} else {
		s.cover = nil
	}
	out := t.shoot(i, s, old)
	if out.buried > 0 && s.cover == nil && !t.options.Quick {
		s.settle(&out, false)
		s.cover = s.clearCover(len(p.Tris))
		out = t.shoot(i, s, old)
	}
	s.settle(&out, true)
	return out
}

func (t *tracer) farMM() float64 { return 2 * t.sizeMM }

func (t *tracer) emitter(i int) *emitter {
	return newEmitter(t.set, &t.set.Patches[i], newStream(t.sobol, t.options.Seed, t.streamOf(i)), t.sizeMM)
}

// shoot counts the rays of patch i; old is what they met before, where known.
// Where s.cover is nil, shoot stops at the first ray that starts inside a solid.
func (t *tracer) shoot(i int, s *scratch, old []int32) tally {
	out := tally{rays: t.raysOf(&t.set.Patches[i])}
	e := t.emitter(i)
	out.hits = make([]int32, 0, out.rays)
	for k := range out.rays {
		origin, dir, at := e.next()
		var to int32
		if old != nil && t.before.stands(old[k], origin, dir) {
			to = old[k]
		} else {
			to = t.follow(e, s, origin, dir, at)
			out.again++
		}
		out.hits = append(out.hits, to)
		switch to {
		case metNothing:
			out.missed++
		case metBuried:
			out.buried++
			if s.cover == nil && !t.options.Quick {
				return out // to be shot again
			}
			s.see(int32(i))
		default:
			s.see(to)
		}
	}
	return out
}

// follow returns what one ray of a patch meets.
func (t *tracer) follow(e *emitter, s *scratch, origin, dir geom.Vec, at int) int32 {
	if s.cover != nil {
		if s.cover[at] == unasked {
			s.cover[at] = e.coverOf(t.set, e.p.Tris[at])
		}
		if s.cover[at] == wholly || s.cover[at] == partly && insideOf(t.set, origin) {
			return metBuried
		}
	}
	hit, ok := t.tree.FirstHit(origin, dir, t.farMM())
	switch {
	case !ok:
		return metNothing
	case !hit.Back:
		return t.set.OuterOf[hit.Tri]
	}
	if to := t.set.InnerOf[hit.Tri]; to >= 0 {
		return to
	}
	return metBuried // from inside a solid
}

// see counts one hit.
func (s *scratch) see(to int32) {
	if s.count[to] == 0 {
		s.seen = append(s.seen, to)
	}
	s.count[to]++
}

// settle moves the counts into out, if they are wanted, and clears them.
func (s *scratch) settle(out *tally, wanted bool) {
	slices.Sort(s.seen)
	if wanted {
		out.to, out.count = slices.Clone(s.seen), make([]int32, len(s.seen))
	}
	for k, to := range s.seen {
		if wanted {
			out.count[k] = s.count[to]
		}
		s.count[to] = 0
	}
	s.seen = s.seen[:0]
}
