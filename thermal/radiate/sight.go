package radiate

import (
	"math"
	"math/rand/v2"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// Guest is a small component that looks at a solved scene without being part of
// it: it receives, but the scene does not notice.
type Guest struct {
	Set     *patch.Set   // the component alone, vehicle frame
	Tree    *bvh.RayTree // over Set.Mesh
	Without int          // part of the scene that it stands in for, −1 for none
}

// Sight is what a guest's patches receive. Bare numbers: shares.
type Sight struct {
	// Share[p][c]: irradiation of patch p per σT⁴ of emitter c of the scene.
	Share [][]float64
	// SelfShare[p]: share of the patch's view that is the guest itself;
	// BuriedShare[p]: of it, what lies inside solids of the scene.
	SelfShare, BuriedShare []float64
}

// Look shoots the rays of a guest into the scene that r was solved for. The
// tree is over the scene's merged mesh. What a surface throws back to the guest
// is traced one bounce further, so that the guest shades what stands behind it;
// later bounces are those of the scene without it. Cost: two rays into each
// tree per ray.
func (r *Received) Look(tree *bvh.RayTree, g Guest, o Options) *Sight {
	n := len(g.Set.Patches)
	s := &Sight{Share: make([][]float64, n), SelfShare: make([]float64, n), BuriedShare: make([]float64, n)}
	if o.Rays == 0 {
		o.Rays = defaultRays
	}
	here, there := r.box, g.Set.Mesh.Box()
	sizeMM := math.Max(here.DiagonalMM(), there.DiagonalMM())
	w := &watcher{
		r: r, tree: tree, guest: g, options: o, sobol: newDirections(), circle: newCircle(),
		farMM: 2 * here.Union(there).DiagonalMM(), offMM: sizeMM * liftShare,
		weights: make([]float64, len(r.set.Patches)),
	}
	for p := range g.Set.Patches {
		s.Share[p] = make([]float64, r.Columns)
		if g.Set.Patches[p].AreaM2 > 0 {
			w.look(p, s.Share[p], s)
		}
	}
	return s
}

// watcher is what all patches of a guest share.
type watcher struct {
	r            *Received
	tree         *bvh.RayTree
	guest        Guest
	options      Options
	sobol        *directions
	circle       *circle
	farMM, offMM float64
	bounce       *rand.Rand
	emitter      emitter
	cover        cover

	// What the present patch has met.
	rowShares          []float64 // per emitter, as rays
	weights            []float64 // weights[patch of the scene]: rays to what leaves it
	seen               []int32
	away, self, buried float64 // Bare numbers: rays
}

// look fills the row of patch p.
func (w *watcher) look(p int, rowShares []float64, s *Sight) {
	w.rowShares = rowShares
	e := &w.emitter
	e.aim(w.guest.Set, &w.guest.Set.Patches[p], w.circle, w.offMM)
	w.shoot(p, e, nil)
	if w.buried > 0 {
		w.cover.start(e, w.r.set)
		w.shoot(p, e, &w.cover)
	}
	for _, q := range w.seen {
		w.r.AddLeaving(rowShares, int(q), w.weights[q])
	}
	rowShares[w.r.Columns-1] += w.away
	perRay := 1 / float64(w.options.Rays)
	for c := range rowShares {
		rowShares[c] *= perRay
	}
	s.SelfShare[p], s.BuriedShare[p] = (w.self+w.buried)*perRay, w.buried*perRay
}

// restart forgets what the last patch has met.
func (w *watcher) restart(p int) {
	for _, q := range w.seen {
		w.weights[q] = 0
	}
	clear(w.rowShares)
	w.seen = w.seen[:0]
	w.away, w.self, w.buried = 0, 0, 0
	w.bounce = rand.New(rand.NewPCG(w.options.Seed, uint64(p)+bounceStream))
}

// bounceStream keeps the random numbers of second rays apart from those of the
// patches' own.
const bounceStream = 1 << 32

// shoot counts the rays of patch p; see tracer.shoot.
func (w *watcher) shoot(p int, e *emitter, cover *cover) {
	w.restart(p)
	e.pts = newStream(w.sobol, w.options.Seed, uint64(p))
	for range w.options.Rays {
		var at point
		var r bvh.Ray
		var endMM float64
		e.pts.next(&at)
		e.ray(&at, &r)
		q, hit, what := w.meet(r.Origin, r.Dir, &endMM)
		if cover != nil && what != withinSolid && cover.buries(&r, endMM, w.offMM) {
			w.buried++
			continue
		}
		switch what {
		case nothing:
			w.away++
		case guestItself:
			w.self++
		case withinSolid:
			if w.buried++; cover == nil {
				return // to be shot again
			}
		case surface:
			w.r.emission.addOwn(w.rowShares, int(q), 1)
			if lost := 1 - w.r.emission.Emissivity[q]; lost > 0 {
				w.reflect(r.Origin, r.Dir, hit, lost)
			}
		}
	}
}

// reflect follows what the surface at a hit throws back one ray further.
func (w *watcher) reflect(origin, dir geom.Vec, hit bvh.Hit, lostShare float64) {
	a, b, c := w.r.set.Mesh.Corners(hit.Tri)
	normal := b.Sub(a).Cross(c.Sub(a))
	length := normal.Len()
	if hit.Back {
		length = -length
	}
	normal = normal.Mul(1 / length)
	point := origin.Add(dir.Mul(hit.DistMM)).Add(normal.Mul(w.offMM))
	about := newAround(normal)
	var endMM float64
	q, _, what := w.meet(point, about.cosineDir(w.circle, w.bounce.Float64(), w.bounce.Float64()), &endMM)
	switch what {
	case nothing:
		w.away += lostShare
	case surface:
		if w.weights[q] == 0 {
			w.seen = append(w.seen, q)
		}
		w.weights[q] += lostShare
	default:
		w.self += lostShare
	}
}

// met says what a ray meets first.
type met int

const (
	nothing met = iota
	guestItself
	withinSolid
	surface
)

// meet follows a ray through scene and guest and returns the patch of the scene
// where it ends, if it does. Up to endMM it meets no surface.
func (w *watcher) meet(origin, dir geom.Vec, endMM *float64) (int32, bvh.Hit, met) {
	own, blocked := w.guest.Tree.FirstHit(origin, dir, w.farMM)
	reachMM := w.farMM
	if blocked {
		reachMM = own.DistMM
	}
	hit, ok := w.first(origin, dir, reachMM)
	switch *endMM = reachMM; {
	case w.guest.Without >= 0:
		*endMM = 0 // it may have passed by the part that is left out
	case ok:
		*endMM = hit.DistMM
	}
	switch {
	case !ok && blocked:
		return 0, hit, guestItself
	case !ok:
		return 0, hit, nothing
	case !hit.Back:
		return w.r.set.OuterOf[hit.Tri], hit, surface
	case w.r.set.InnerOf[hit.Tri] >= 0:
		return w.r.set.InnerOf[hit.Tri], hit, surface
	}
	return 0, hit, withinSolid
}

// first returns the first hit in the scene, the part that is left out passed by.
func (w *watcher) first(origin, dir geom.Vec, farMM float64) (bvh.Hit, bool) {
	ray := bvh.Ray{Origin: origin, Dir: dir, FarMM: farMM}
	for {
		hit, ok := w.tree.Cast(ray)
		if !ok || int(w.r.set.PartOf[hit.Tri]) != w.guest.Without {
			return hit, ok
		}
		ray.NearMM = hit.DistMM
	}
}
