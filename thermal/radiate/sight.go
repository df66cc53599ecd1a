package radiate

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/thermal/patch"
)

// Guest is a small component that looks at a solved scene without being part of
// it: it receives, but the scene does not notice.
type Guest struct {
	Set     *patch.Set // the component alone, vehicle frame
	Tree    *bvh.Tree  // over Set.Mesh
	Without int        // part of the scene that it stands in for, −1 for none
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
// tree is over the scene's merged mesh. Cost: one ray into each tree per ray.
func (r *Received) Look(tree *bvh.Tree, g Guest, o Options) *Sight {
	n := len(g.Set.Patches)
	s := &Sight{Share: make([][]float64, n), SelfShare: make([]float64, n), BuriedShare: make([]float64, n)}
	if o.Rays == 0 {
		o.Rays = defaultRays
	}
	sizeMM := math.Max(r.set.Mesh.Box().DiagonalMM(), g.Set.Mesh.Box().DiagonalMM())
	w := &watcher{r: r, tree: tree, guest: g, options: o, sobol: newDirections(), farMM: 2 * (sizeMM + apartMM(r.set, g.Set)), offMM: sizeMM * liftShare, count: make([]int32, len(r.set.Patches))}
	for p := range g.Set.Patches {
		s.Share[p] = make([]float64, r.Columns)
		if g.Set.Patches[p].AreaM2 > 0 {
			w.look(p, s)
		}
	}
	return s
}

// apartMM returns how far two sets are apart, so that rays reach across.
func apartMM(a, b *patch.Set) float64 { return a.Mesh.Box().GapMM(b.Mesh.Box()) }

// watcher is what all patches of a guest share.
type watcher struct {
	r            *Received
	tree         *bvh.Tree
	guest        Guest
	options      Options
	sobol        *directions
	farMM, offMM float64
	count        []int32 // count[patch of the scene]
	seen         []int32
}

// look fills row p of the sight.
func (w *watcher) look(p int, s *Sight) {
	away, self, buried := w.shoot(p, nil)
	if buried > 0 {
		w.clear()
		e := w.emitter(p)
		cover := make([]covered, len(e.p.Tris))
		for k, tri := range e.p.Tris {
			cover[k] = e.coverOf(w.r.set, w.tree, tri, w.farMM)
		}
		away, self, buried = w.shoot(p, cover)
	}
	perRay := 1 / float64(w.options.Rays)
	for _, q := range w.seen {
		w.r.AddLeaving(s.Share[p], int(q), float64(w.count[q])*perRay)
	}
	s.Share[p][w.r.Columns-1] += float64(away) * perRay
	s.SelfShare[p], s.BuriedShare[p] = float64(self+buried)*perRay, float64(buried)*perRay
	w.clear()
}

func (w *watcher) clear() {
	for _, q := range w.seen {
		w.count[q] = 0
	}
	w.seen = w.seen[:0]
}

func (w *watcher) emitter(p int) *emitter {
	e := newEmitter(w.guest.Set, &w.guest.Set.Patches[p], newStream(w.sobol, w.options.Seed, uint64(p)), 0)
	e.offMM = w.offMM
	return e
}

// shoot counts the rays of patch p.
func (w *watcher) shoot(p int, cover []covered) (away, self, buried int) {
	e := w.emitter(p)
	for range w.options.Rays {
		origin, dir, at := e.next()
		if cover != nil && (cover[at] == wholly || cover[at] == partly && insideOf(w.r.set, w.tree, origin, w.farMM)) {
			buried++
			continue
		}
		own, blocked := w.guest.Tree.FirstHit(origin, dir, w.farMM)
		reachMM := w.farMM
		if blocked {
			reachMM = own.DistMM
		}
		hit, ok := w.first(origin, dir, reachMM)
		if !ok {
			if blocked {
				self++
			} else {
				away++
			}
			continue
		}
		to := w.r.set.OuterOf[hit.Tri]
		if hit.Back {
			if to = w.r.set.InnerOf[hit.Tri]; to < 0 {
				buried++
				continue
			}
		}
		if w.count[to] == 0 {
			w.seen = append(w.seen, to)
		}
		w.count[to]++
	}
	return away, self, buried
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
