package dist

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
)

// solids are closed shapes of some 20 mm around the origin.
func solids() map[string]*mesh.Mesh {
	turn := geom.Pose{R: geom.Turn(geom.Vec{0.4, 0.5, 0.6})}
	return map[string]*mesh.Mesh{
		"block":  block(geom.Vec{-9, -7, -5}, geom.Vec{9, 7, 5}, 2),
		"rod":    rod(4, -14, 14, 9),
		"hollow": joined(block(geom.Vec{-10, -10, -10}, geom.Vec{10, 10, 10}, 1), insideOut(leaned(block(geom.Vec{-5, -5, -5}, geom.Vec{5, 5, 5}, 2), turn))),
		"pair":   joined(leaned(rod(3, -6, 6, 5), geom.Shift(geom.Vec{8, 0, 0})), leaned(block(geom.Vec{-4, -4, -4}, geom.Vec{4, 4, 4}, 1), geom.Shift(geom.Vec{-8, 0, 0}))),
	}
}

// insideBySolidAngle is the plain inside test, no tree and no rays.
func insideBySolidAngle(b Body, p geom.Vec) bool {
	return math.Abs(solidAngles(b.Tree, b.Pose.Inverse().Point(p).Sub(b.Tree.Origin()), nil)) > 0.5
}

// Two solids in random places: overlap exactly where there is shared volume; the
// volume against counted random points; the depth against random surface points;
// the same answers with the parts swapped.
func TestSolidsAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 0))
	shapes := solids()
	for _, names := range [][2]string{{"block", "rod"}, {"hollow", "rod"}, {"hollow", "block"}, {"pair", "block"}, {"pair", "hollow"}, {"rod", "rod"}} {
		for range trials(2, 12) {
			a := Body{Tree: bvh.Build(shapes[names[0]]), Pose: randomPose(rng, 5), Closed: true}
			b := Body{Tree: bvh.Build(shapes[names[1]]), Pose: randomPose(rng, 5), Closed: true}
			r, err := Between(context.Background(), a, b, Options{Overlap: true})
			if err != nil {
				t.Fatal(err)
			}
			back, err := Between(context.Background(), b, a, Options{Overlap: true})
			if err != nil || back.Overlap != r.Overlap {
				t.Fatalf("%v swapped: %+v %v, want %+v", names, back, err, r)
			}
			if !r.Overlap {
				continue
			}
			if r.VolumeMM3 == nil || back.VolumeMM3 == nil {
				t.Fatalf("%v: no volume", names)
			}
			if math.Abs(*r.VolumeMM3-*back.VolumeMM3) > 1e-10*(1+*r.VolumeMM3) {
				t.Errorf("%v: volume %.15g, swapped %.15g", names, *r.VolumeMM3, *back.VolumeMM3)
			}
			checkCounted(t, rng, a, b, *r.VolumeMM3)
			checkDepth(t, rng, a, b, r)
			checkDepth(t, rng, b, a, r)
		}
	}
}

// checkCounted counts random points in both solids; five standard deviations.
func checkCounted(t *testing.T, rng *rand.Rand, a, b Body, volumeMM3 float64) {
	t.Helper()
	const n = 4000
	box, in := a.box(), 0
	size := box.Size()
	for range n {
		p := box.Min.Add(geom.Vec{rng.Float64() * size[0], rng.Float64() * size[1], rng.Float64() * size[2]})
		if insideBySolidAngle(a, p) && insideBySolidAngle(b, p) {
			in++
		}
	}
	boxMM3 := size[0] * size[1] * size[2]
	share := volumeMM3 / boxMM3
	if got := float64(in) / n; math.Abs(got-share) > 5*math.Sqrt(share*(1-share)/n)+1.0/n {
		t.Errorf("volume %g is %g of the box, counted %g", volumeMM3, share, got)
	}
}

// checkDepth looks for surface points of a deeper in b than stated.
func checkDepth(t *testing.T, rng *rand.Rand, a, b Body, r Result) {
	t.Helper()
	for range 500 {
		tri := posed(a, rng.IntN(a.Tree.Len()))
		u, v := rng.Float64(), rng.Float64()
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		p := tri[0].Add(tri[1].Sub(tri[0]).Mul(u)).Add(tri[2].Sub(tri[0]).Mul(v))
		near, _ := b.Tree.Nearest(b.Pose.Inverse().Point(p), math.Inf(1))
		if near.DistMM > r.DepthMM+r.DepthErrorMM && insideBySolidAngle(b, p) {
			t.Errorf("point %v lies %g deep, stated %g + %g", p, near.DistMM, r.DepthMM, r.DepthErrorMM)
		}
	}
}

// A solid cut in two along a plane shares as much as its halves together, whose
// faces coincide; also where the cut lies in a face of the other solid.
func TestHalvesShareTheWhole(t *testing.T) {
	rng := rand.New(rand.NewPCG(32, 0))
	volume := func(a, b Body) float64 {
		r, err := Between(context.Background(), a, b, Options{Overlap: true})
		if err != nil {
			t.Fatal(err)
		}
		if !r.Overlap {
			return 0
		}
		if r.VolumeMM3 == nil {
			t.Fatal("no volume")
		}
		return *r.VolumeMM3
	}
	solid := func(m *mesh.Mesh) Body { return Body{Tree: bvh.Build(m), Pose: geom.Identity(), Closed: true} }
	whole := solid(block(geom.Vec{-8, -6, -5}, geom.Vec{8, 6, 5}, 2))
	left, right := solid(block(geom.Vec{-8, -6, -5}, geom.Vec{1, 6, 5}, 3)), solid(block(geom.Vec{1, -6, -5}, geom.Vec{8, 6, 5}, 1))
	for _, m := range solids() {
		other := solid(m)
		for i := range trials(3, 12) {
			if i > 0 {
				other.Pose = randomPose(rng, 4)
			} else {
				other.Pose = geom.Shift(geom.Vec{1 + 9, 0, 0}) // sides at -9 or -10
			}
			sum, want := volume(left, other)+volume(right, other), volume(whole, other)
			if math.Abs(sum-want) > 1e-10*(1+want) {
				t.Errorf("halves share %.15g, the whole %.15g", sum, want)
			}
		}
	}
}

// The winding by rays against the winding by solid angles, also for points whose
// rays run through corners and along edges.
func TestWindingAgainstSolidAngles(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 0))
	for name, m := range solids() {
		tree := bvh.Build(m)
		for i := range 400 {
			p := gauss(rng).Mul(8)
			if i%2 == 0 { // on a ray from a corner back along one of the directions
				p = m.Verts[rng.IntN(len(m.Verts))].Sub(directions[rng.IntN(3)].Normalize().Mul(rng.Float64() * 9))
			}
			if near, _ := tree.Nearest(p, math.Inf(1)); near.DistMM < 1e-9 {
				continue
			}
			if got, want := winding(tree, p), int(math.Round(solidAngles(tree, p.Sub(tree.Origin()), nil))); got != want {
				t.Errorf("%s: winding %d around %v, want %d", name, got, p, want)
			}
		}
	}
}

// The exact signs against rational arithmetic is what orientExact is; here the
// fast path must never disagree with it, near ties above all.
func TestOrientNearTies(t *testing.T) {
	rng := rand.New(rand.NewPCG(34, 0))
	for range 3000 {
		a, b, c := gauss(rng), gauss(rng), gauss(rng)
		d := a.Add(b.Sub(a).Mul(rng.Float64())).Add(c.Sub(a).Mul(rng.Float64()))
		for k := range d {
			d[k] = math.Nextafter(d[k], gauss(rng)[0]*100)
		}
		if got, want := orient(a, b, c, d), orientExact(a, b, c, d); got != want {
			t.Fatalf("orient %d, exact %d", got, want)
		}
		if orientExact(a, b, c, d) != -orientExact(b, a, c, d) {
			t.Fatal("swapping two corners must turn the sign")
		}
	}
	if orient(geom.Vec{0, 0, 0}, geom.Vec{1, 0, 0}, geom.Vec{0, 1, 0}, geom.Vec{0.3, 0.3, -1e-300}) != 1 {
		t.Error("a point just below must be told from one in the plane")
	}
}
