package radiate

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/thermal/patch"
)

// More rays: the error of a blocked view factor falls at least as fast as that
// of independent rays, one over the root of their number, and faster than it by
// the low-discrepancy points; √(F(1−F)/N) bounds it throughout. Case O-VF38.
func TestMoreRaysConverge(t *testing.T) {
	c := readCases(t, "O-VF38")[0]
	meshes := []*mesh.Mesh{c.Geometry.Emitter.sheet(t, 0), c.Geometry.Target.sheet(t, 0), c.Geometry.Blockers[0].sheet(t, 0)}
	set, err := patch.Build(bodies(meshes...), patch.Options{EdgeMM: 400, MostPatches: 60})
	if err != nil {
		t.Fatal(err)
	}
	const seeds = 24
	want := c.Expected.F
	off := func(rays int) (rms float64) {
		for seed := range uint64(seeds) {
			f := trace(t, bodies(meshes...), patch.Options{EdgeMM: 400, MostPatches: 60}, Options{Rays: rays, Seed: seed})
			rms += math.Pow(f.raw.Factor[0][1]-want, 2)
		}
		return math.Sqrt(rms / seeds)
	}
	perPart := float64(len(set.Patches)) / 6 // patches on one side of the emitter
	counts := []int{8, 32, 128, 512}
	var logN, logOff []float64
	for _, n := range counts {
		e := off(n)
		if chance := math.Sqrt(want * (1 - want) / (float64(n) * math.Max(perPart, leastShare))); e > 1.3*chance {
			t.Errorf("%d rays: off by %.2g, independent rays by %.2g", n, e, chance)
		}
		logN, logOff = append(logN, math.Log(float64(n))), append(logOff, math.Log(e))
	}
	if order := -slope(logN, logOff); order < 0.5 || order > 1.1 {
		t.Errorf("the error falls with the %.2fth power of the rays, want 0.5 to 1.1", order)
	} else {
		t.Logf("order %.2f", order)
	}
}

// slope of the straight line through points by least squares.
func slope(x, y []float64) float64 {
	var mx, my, xy, xx float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(y))
	}
	for i := range x {
		xy += (x[i] - mx) * (y[i] - my)
		xx += (x[i] - mx) * (x[i] - mx)
	}
	return xy / xx
}

// Finer facets: an element facing an endless cylinder of radius r at height h
// sees r/h (O-VF22). A prism inside it looks narrower, on the mean over how it is
// turned, by a share that falls with the square of the facets.
func TestFinerFacetsConverge(t *testing.T) {
	const rMM, hMM, halfMM, turns = 30, 75, 3000, 8
	element := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{(u - 0.5) * 0.02, (v - 0.5) * 0.02, 0} })
	off := func(n int) (mean float64) {
		for turn := range turns {
			prism := plain.Sheet(n, 1, func(u, v float64) geom.Vec {
				s, c := math.Sincos(2 * math.Pi * (math.Mod(u, 1) + float64(turn)/float64(turns*n)))
				return geom.Vec{rMM * s, halfMM * (2*v - 1), hMM + rMM*c}
			})
			f := trace(t, bodies(element, prism), patch.Options{EdgeMM: 1e5, MostPatches: 40}, Options{Rays: 1 << 11, Seed: uint64(turn)})
			mean += (float64(rMM)/hMM - f.raw.Factor[0][1]) / turns
		}
		return mean
	}
	var logN, logOff []float64
	for _, n := range []int{6, 12, 24} {
		logN, logOff = append(logN, math.Log(float64(n))), append(logOff, math.Log(off(n)))
	}
	if order := -slope(logN, logOff); math.Abs(order-2) > 0.3 {
		t.Errorf("the error falls with the %.2fth power of the facets, want 2: %v", order, logOff)
	} else {
		t.Logf("order %.2f", order)
	}
}

// Finer blocks: resolved reflections settle; each halving of the blocks' edge
// takes off at least as much as first order.
func TestFinerBlocksConverge(t *testing.T) {
	_, eps, temps := readCube(t)
	off := func(perWall int, fine []float64) (worst float64) {
		for i, w := range cubeW(t, 12*perWall, 0, eps, temps) {
			worst = math.Max(worst, math.Abs(w-fine[i]))
		}
		return worst
	}
	fine := cubeW(t, 12*64, 0, eps, temps)
	coarse, middle := off(1, fine), off(4, fine)
	if middle > 0.55*coarse {
		t.Errorf("one block a wall is off by %.1f W, four by %.1f W", coarse, middle)
	}
}

// Sweeps between patches: the answer no longer depends on the blocks, and lies
// where finer and finer blocks go.
func TestSweepsConverge(t *testing.T) {
	_, eps, temps := readCube(t)
	few, many := cubeW(t, 12, mostSweeps, eps, temps), cubeW(t, 240, mostSweeps, eps, temps)
	blocks := cubeW(t, 12*64, 0, eps, temps)
	for i := range few {
		if math.Abs(few[i]-many[i]) > 1e-5*math.Abs(many[0]) {
			t.Errorf("wall %d: %.3f W with few blocks, %.3f with many", i, few[i], many[i])
		}
		if math.Abs(few[i]-blocks[i]) > 0.002*math.Abs(many[0]) {
			t.Errorf("wall %d: %.1f W by sweeps, %.1f by fine blocks", i, few[i], blocks[i])
		}
	}
}
