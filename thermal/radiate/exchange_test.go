package radiate

import (
	"context"
	"encoding/json"
	"math"
	"testing"

	"aftbay/geom/mesh"
	"aftbay/thermal"
	"aftbay/thermal/patch"
)

// plainly returns factors of given surfaces, one patch each, as a book states
// them. Bare numbers: factors.
func plainly(areasM2 []float64, factor [][]float64) *Factors {
	n := len(areasM2)
	f := &Factors{Set: &patch.Set{Mesh: &mesh.Mesh{}, Blocks: n, EdgesMM: make([]float64, n)}, Start: []int{0}, Away: make([]float64, n)}
	for i := range areasM2 {
		f.Set.Patches = append(f.Set.Patches, patch.Patch{Part: i, Block: i, AreaM2: areasM2[i]})
		for j, value := range factor[i] {
			if value > 0 {
				f.To, f.Value = append(f.To, int32(j)), append(f.Value, value)
			}
		}
		f.Start = append(f.Start, len(f.To))
	}
	return f
}

func emission(f *Factors, emissivity []float64) Emission { // Bare numbers: emissivities per part
	e := Emission{Columns: len(f.Set.EdgesMM)}
	for _, p := range f.Set.Patches {
		e.Column = append(e.Column, int32(p.Part))
		e.Emissivity = append(e.Emissivity, emissivity[p.Part])
	}
	return e
}

// The radiosity cases with all temperatures given; sources in the file. Book
// factors of a room of 1e6 m² lose digits, so 1e-6 relative, as the file asks,
// of the largest flow.
func TestRadiosityCases(t *testing.T) {
	count := 0
	for _, c := range readCases(t, "O-RD") {
		var p struct {
			A, Eps []float64
			F      [][]float64
			T      []*float64
		}
		if err := json.Unmarshal(c.Params, &p); err != nil {
			t.Fatal(err)
		}
		count++
		book.Ran(c.ID)
		f := plainly(p.A, p.F)
		for i, k := range p.T { // an insulated wall throws all back
			if k == nil {
				p.Eps[i] = 0
			}
		}
		r, err := Exchange(context.Background(), f, emission(f, p.Eps), 1)
		if err != nil {
			t.Fatal(err)
		}
		a := Absorb(r)
		largest := 0.0
		for _, q := range c.Expected.Q {
			largest = math.Max(largest, math.Abs(q))
		}
		for i := range p.A {
			netW := a.EmitM2[i] * thermal.EmissiveWM2(c.Expected.T[i])
			var receivedWM2 float64
			for j := range p.A {
				black := thermal.EmissiveWM2(c.Expected.T[j])
				netW -= a.FromM2[i][j] * black
				receivedWM2 += r.Row(i)[j] * black
			}
			if math.Abs(netW-c.Expected.Q[i]) > 1e-6*largest {
				t.Errorf("%s (%s): Q%d = %.9g W, want %.9g", c.ID, c.Title, i, netW, c.Expected.Q[i])
			}
			// J = e·σT⁴ + (1−e)·H
			leavesWM2 := p.Eps[i]*thermal.EmissiveWM2(c.Expected.T[i]) + (1-p.Eps[i])*receivedWM2
			if math.Abs(leavesWM2-c.Expected.J[i]) > 1e-6*c.Expected.J[i] {
				t.Errorf("%s (%s): J%d = %.9g W/m², want %.9g", c.ID, c.Title, i, leavesWM2, c.Expected.J[i])
			}
		}
	}
	if count != 7 { // O-RD08 to O-RD14
		t.Errorf("%d cases", count)
	}
}

// In a room at one temperature nobody gains or loses, and what i takes from j
// is what j takes from i.
func TestExchangeIsReciprocalAndInBalance(t *testing.T) {
	ball := shape{Type: "sphere", C: []float64{0.3, 0.2, 0.2}, R: 0.1, Side: "out"}
	for name, walls := range map[string][]*mesh.Mesh{"closed": boxSheets(1000, 600, 400), "open": boxSheets(1000, 600, 400)[:3]} {
		f := trace(t, bodies(append(walls, ball.sheet(t, 0))...), patch.Options{EdgeMM: 90, MostBlocks: 60}, Options{Rays: 256, Seed: 2})
		e := emission(f, []float64{0.9, 0.05, 0.5, 0.7, 0.3, 0.2, 0.8}[:len(walls)+1])
		for p, patch := range f.Set.Patches {
			if patch.Inner {
				e.Emissivity[p] = 0
			}
		}
		r, err := Exchange(context.Background(), f, e, 0)
		if err != nil {
			t.Fatal(err)
		}
		a := Absorb(r)
		for i := range a.FromM2 {
			var sumM2 float64
			for j, fromM2 := range a.FromM2[i] {
				sumM2 += fromM2
				if j < len(a.FromM2) && math.Abs(fromM2-a.FromM2[j][i]) > 1e-6*math.Max(fromM2, 1e-6) {
					t.Errorf("%s: %d takes %g m² from %d, which takes %g back", name, i, fromM2, j, a.FromM2[j][i])
				}
			}
			if math.Abs(sumM2-a.EmitM2[i]) > 1e-8*a.EmitM2[i] {
				t.Errorf("%s: part %d takes %.9g m² and gives %.9g", name, i, sumM2, a.EmitM2[i])
			}
		}
	}
}

// O-RD15: a cube of six grey walls, one of them insulated. The reference takes
// each wall's radiation as even; with one block per wall so do we, and the rest
// is the rays' error. Resolved reflections differ by 2 %; there two resolutions
// must agree.
func TestCube(t *testing.T) {
	want, eps, temps := readCube(t)
	even, coarse, fine := cubeW(t, 12, 0, eps, temps), cubeW(t, 120, 0, eps, temps), cubeW(t, 600, 0, eps, temps)
	for i := range want {
		if math.Abs(even[i]-want[i]) > 0.001*want[0] {
			t.Errorf("wall %d: %.1f W, want %.1f", i, even[i], want[i])
		}
		if math.Abs(coarse[i]-fine[i]) > 0.004*want[0] {
			t.Errorf("wall %d: %.1f W with coarse blocks, %.1f with fine ones", i, coarse[i], fine[i])
		}
	}
}

// readCube returns the cube's net heat, emissivities and temperatures, the
// insulated wall's as expected.
func readCube(t *testing.T) (wantW, eps, tempsK []float64) {
	t.Helper()
	c := readKind(t, "cube_radiosity")[0]
	book.Ran(c.ID)
	var p struct{ Eps []float64 }
	if err := json.Unmarshal(c.Params, &p); err != nil {
		t.Fatal(err)
	}
	return c.Expected.Q, p.Eps, c.Expected.T
}

// cubeW returns the net heat of the cube's walls.
func cubeW(t *testing.T, blocks, sweeps int, eps, temps []float64) []float64 {
	t.Helper()
	f := trace(t, bodies(boxSheets(1000, 1000, 1000)...), patch.Options{EdgeMM: 140, MostBlocks: blocks}, Options{Rays: 512, Seed: 1})
	e := emission(f, eps)
	for p, patch := range f.Set.Patches {
		if patch.Inner {
			e.Emissivity[p] = 1
		}
	}
	r, err := exchange(context.Background(), f, e, 0, sweeps)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float64, len(eps))
	for p, patch := range f.Set.Patches {
		if patch.Inner {
			continue
		}
		i := patch.Part
		var receivedWM2 float64
		for j := range temps {
			receivedWM2 += r.Row(p)[j] * thermal.EmissiveWM2(temps[j])
		}
		out[i] += patch.AreaM2 * eps[i] * (thermal.EmissiveWM2(temps[i]) - receivedWM2)
	}
	return out
}

// A closed cavity of perfect reflectors round a grey ball: all that the ball
// radiates comes back, whatever the number of bounces.
func TestMirrorCavity(t *testing.T) {
	ball := shape{Type: "sphere", C: []float64{0.3, 0.2, 0.2}, R: 0.1, Side: "out"}
	f := trace(t, bodies(append(boxSheets(1000, 600, 400), ball.sheet(t, 0))...), patch.Options{EdgeMM: 120}, Options{Rays: 256, Seed: 2})
	for _, own := range []float64{0.8, 0.02, 0} {
		e := emission(f, []float64{0, 0, 0, 0, 0, 0, own})
		for p, patch := range f.Set.Patches {
			if patch.Inner {
				e.Emissivity[p] = 0
			}
		}
		r, err := Exchange(t.Context(), f, e, 0)
		if err != nil {
			t.Fatal(err)
		}
		a := Absorb(r)
		if got, want := a.FromM2[6][6], a.EmitM2[6]; math.Abs(got-want) > 1e-5*want {
			t.Errorf("emissivity %g: the ball radiates %g m² and takes %g", own, want, got)
		}
	}
}
