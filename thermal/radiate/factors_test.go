package radiate

import (
	"context"
	"encoding/json"
	"math"
	"reflect"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/thermal/patch"
)

func trace(t testing.TB, bodies []patch.Body, po patch.Options, o Options) *Factors {
	t.Helper()
	set, err := patch.Build(bodies, po)
	if err != nil {
		t.Fatal(err)
	}
	f, err := Trace(context.Background(), set, bvh.BuildRays(set.Mesh), o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func bodies(meshes ...*mesh.Mesh) []patch.Body {
	var out []patch.Body
	for _, m := range meshes {
		out = append(out, patch.Body{Mesh: m, Pose: geom.Identity()})
	}
	return out
}

func TestClosedFormViewFactors(t *testing.T) {
	for _, c := range readCases(t, "O-VF") {
		if c.Kind == "closure" {
			continue
		}
		t.Run(c.ID, func(t *testing.T) {
			g := c.Geometry
			same := reflect.DeepEqual(g.Emitter, g.Target)
			emit, longMM := 0.0, 0.0
			if g.Dim == 2 {
				// A short middle piece of an endless surface sees what an
				// endless one sees; 6 m are endless beside 0.1 m: the ends
				// take about (0.1/3)² of a factor.
				emit, longMM = 5, 3000
				if g.Target.Type == "seg" && len(g.Blockers) > 0 && g.Blockers[0].Type == "seg" {
					longMM = 10000 // plates 0.5 m apart
				}
				same = false
			}
			all := []*mesh.Mesh{g.Emitter.sheet(t, emit)}
			if !same {
				all = append(all, g.Target.sheet(t, longMM))
			}
			if g.Dim == 2 && reflect.DeepEqual(g.Emitter.C, g.Target.C) && g.Emitter.C != nil {
				// The emitter is cut out of the endless tube.
				all[1] = withoutMiddle(all[1], emit)
			}
			for _, b := range g.Blockers {
				all = append(all, b.sheet(t, longMM))
			}
			most, rays := 200, 512
			if g.Dim == 2 {
				most, rays = 120, 1024
			}
			if g.Emitter.Type == "elem" {
				rays = 1024
			}
			f := trace(t, bodies(all...), patch.Options{EdgeMM: 1, MostPatches: most}, Options{Rays: rays, Seed: 1})
			table := f.Table()
			got := table.Factor[0][0]
			if !same {
				got = table.Factor[0][1]
				if len(g.Emitter.C) > 0 && reflect.DeepEqual(g.Emitter.C, g.Target.C) && g.Emitter.R == g.Target.R && g.Dim == 2 {
					got += table.Factor[0][0]
				}
			}
			book.Ran(c.ID)
			want := c.Expected.F
			// 1 % or 0.001 and one standard error; the file allows four.
			if tol := math.Max(0.01*want, 0.001) + table.StandardError[0][1]; math.Abs(got-want) > tol {
				t.Errorf("%s: F = %.6f, want %.6f ± %.4f", c.Title, got, want, tol)
			}
			t.Logf("%s: F = %.6f, want %.6f, off by %.2f %%; largest correction %.4f; %d patches, raw %v", c.Title, got, want, 100*(got/want-1), f.LargestCorrection, len(f.Set.Patches), f.raw.Factor[0])
		})
	}
}

// withoutMiddle returns an extruded tube in two pieces that leave out |z| below
// halfMM.
func withoutMiddle(m *mesh.Mesh, halfMM float64) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, end := range []float64{-1, 1} {
		base := int32(len(out.Verts))
		for _, v := range m.Verts {
			if v[2]*end < 0 {
				v[2] = end * halfMM
			}
			out.Verts = append(out.Verts, v)
		}
		for _, t := range m.Tris {
			out.Tris = append(out.Tris, [3]int32{base + t[0], base + t[1], base + t[2]})
		}
	}
	return out
}

// boxSheets returns the six walls of a box as sheets that face inward:
// −z, +z, −x, +x, −y, +y.
func boxSheets(a, b, c float64) []*mesh.Mesh {
	flat := func(o, u, v geom.Vec) *mesh.Mesh {
		return plain.Sheet(1, 1, func(s, r float64) geom.Vec { return o.Add(u.Mul(s)).Add(v.Mul(r)) })
	}
	x, y, z := geom.Vec{a, 0, 0}, geom.Vec{0, b, 0}, geom.Vec{0, 0, c}
	return []*mesh.Mesh{
		flat(geom.Vec{}, x, y), flat(z, y, x),
		flat(geom.Vec{}, y, z), flat(x, z, y),
		flat(geom.Vec{}, z, x), flat(y, x, z),
	}
}

// O-VF39: closure of a box; the terms are closed forms of the reference file.
func TestBoxCloses(t *testing.T) {
	c := readCases(t, "O-VF39")[0]
	book.Ran(c.ID)
	f := trace(t, bodies(boxSheets(1000, 600, 400)...), patch.Options{EdgeMM: 80}, Options{Seed: 1})
	row := f.Table().Factor[0]
	for k, want := range c.Expected.Terms {
		to := k + 1
		if got := row[to]; math.Abs(got-want) > math.Max(0.01*want, 0.001) {
			t.Errorf("bottom to wall %d: %.6f, want %.6f", to, got, want)
		}
	}
	if row[6] != 0 || f.LargestCorrection > 0.002 {
		t.Errorf("surroundings %g, largest correction %g", row[6], f.LargestCorrection)
	}
}

// The properties that every repaired set must have.
func checkFactors(t *testing.T, f *Factors) {
	t.Helper()
	at := func(p, q int) float64 {
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			if int(f.To[k]) == q {
				return f.Value[k]
			}
		}
		return 0
	}
	for p := range f.Away {
		if f.Rays[p] == 0 {
			continue
		}
		sum := f.Away[p]
		for k := f.Start[p]; k < f.Start[p+1]; k++ {
			sum += f.Value[k]
			q := int(f.To[k])
			mine, theirs := f.Set.Patches[p].AreaM2*f.Value[k], f.Set.Patches[q].AreaM2*at(q, p)
			if math.Abs(mine-theirs) > 1e-6*math.Max(mine, theirs) { // what closing leaves
				t.Fatalf("A·F of %d→%d is %g, back %g", p, q, mine, theirs)
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("row %d sums to %.15g", p, sum)
		}
	}
}

func TestReciprocalAndClosed(t *testing.T) {
	ball := shape{Type: "sphere", C: []float64{0.3, 0.2, 0.2}, R: 0.1, Side: "out"}
	f := trace(t, bodies(append(boxSheets(1000, 600, 400), ball.sheet(t, 0))...), patch.Options{EdgeMM: 100}, Options{Rays: 256, Seed: 5})
	checkFactors(t, f)
	open := trace(t, bodies(boxSheets(1000, 600, 400)[:3]...), patch.Options{EdgeMM: 100}, Options{Rays: 256, Seed: 5})
	checkFactors(t, open)
}

func TestSameBitsForAnyWorkers(t *testing.T) {
	var first []byte
	for _, workers := range []int{1, 2, 7} {
		f := trace(t, bodies(boxSheets(1000, 600, 400)[:4]...), patch.Options{EdgeMM: 100}, Options{Rays: 128, Seed: 9, Workers: workers})
		got, err := json.Marshal([]any{f.To, f.Value, f.Away, f.LargestCorrection})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = got
		} else if string(first) != string(got) {
			t.Errorf("%d workers give other bits", workers)
		}
	}
}

// A plate that lies wholly inside a solid exchanges with itself alone.
func TestBuriedSurfaces(t *testing.T) {
	ball := shape{Type: "sphere", C: []float64{0, 0, 0}, R: 0.2, Side: "out"}.sheet(t, 0)
	plate := plain.Sheet(1, 1, func(u, v float64) geom.Vec { return geom.Vec{20 * u, 20 * v, 0} })
	b := bodies(ball, plate)
	b[0].Closed = true
	f := trace(t, b, patch.Options{}, Options{Rays: 64})
	row := f.Table().Factor[1]
	if row[1] != 1 || row[0] != 0 || row[2] != 0 {
		t.Errorf("row of the buried plate: %v", row)
	}
	for p, patch := range f.Set.Patches {
		if buried := f.BuriedShare[p]; (buried == 1) != (patch.Part == 1) {
			t.Errorf("patch %d of part %d: buried %g", p, patch.Part, buried)
		}
	}
}

// Each dimension of the samples, and each pair of them, fills its strata:
// what makes them better than chance.
func TestSamplesFillTheirStrata(t *testing.T) {
	of := newDirections()
	s := newStream(of, 1, 2)
	const n = 256
	var one [dimensions][n]int
	pairs := map[[2]int]*[16][16]int{}
	for i := range dimensions {
		for j := range i {
			pairs[[2]int{j, i}] = new([16][16]int)
		}
	}
	for range n {
		var p point
		s.next(&p)
		var x [dimensions]float64
		for d := range x {
			x[d] = unit(p[d])
		}
		for d := range x {
			one[d][int(x[d]*n)]++
		}
		for p, cells := range pairs {
			cells[int(x[p[0]]*16)][int(x[p[1]]*16)]++
		}
	}
	for d := range one {
		for k, count := range one[d] {
			if count != 1 {
				t.Fatalf("dimension %d: stratum %d holds %d points", d, k, count)
			}
		}
	}
	for p, cells := range pairs {
		empty := 0
		for i := range cells {
			for j := range cells[i] {
				if cells[i][j] == 0 {
					empty++
				}
			}
		}
		// Chance would leave 256/e = 94 cells empty; a poor pair of Sobol
		// dimensions leaves up to three quarters.
		if empty > 64+64 {
			t.Errorf("dimensions %v: %d of 256 cells empty", p, empty)
		}
	}
}

func TestCircle(t *testing.T) {
	round := newCircle()
	for i := range 100000 {
		turn := float64(i) / 100000
		cos, sin := round.at(turn)
		if wantSin, wantCos := math.Sincos(2 * math.Pi * turn); math.Abs(cos-wantCos) > 1e-13 || math.Abs(sin-wantSin) > 1e-13 {
			t.Fatalf("turn %g: %.17g %.17g, want %.17g %.17g", turn, cos, sin, wantCos, wantSin)
		}
	}
}

func TestCosineDir(t *testing.T) {
	round := newCircle()
	for _, n := range []geom.Vec{{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {0.6, -0.48, 0.64}} {
		var mean geom.Vec
		about := newAround(n)
		const k = 64
		for i := range k {
			for j := range k {
				d := about.cosineDir(round, (float64(i)+0.5)/k, (float64(j)+0.5)/k)
				if math.Abs(d.Len()-1) > 1e-12 || d.Dot(n) < 0 {
					t.Fatalf("direction %v about %v", d, n)
				}
				mean = mean.Add(d.Mul(1.0 / (k * k)))
			}
		}
		// The mean of cosine-weighted directions is 2/3 of the normal.
		if mean.Sub(n.Mul(2.0/3)).Len() > 1e-3 {
			t.Errorf("mean direction %v about %v", mean, n)
		}
	}
}
