package clearance

import (
	"cmp"
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/geom/scene/fixture"
)

// BenchmarkMoving: one pair of two parts of some 5,000 triangles each, one of
// them shifting and turning about all axes, settled to searchMM. The least
// clearance asked for is what the motion leaves, so nothing may stop early. The
// unit that counts is one whole Run of one worker: the pair at rest and moving.
func BenchmarkMoving(b *testing.B) {
	gear := doubled(readMesh(b, "mech_gear40.stl"))
	bracket := quartered(readMesh(b, "brk_spider.stl"))
	for _, c := range []struct {
		name     string
		one, two *mesh.Mesh
		turnDeg  geom.Vec // of the second part
		pivotMM  geom.Vec // from the middle of the first part
		gapMM    float64  // at rest
	}{
		{"gears side by side", gear, gear, geom.Vec{}, geom.Vec{0, 0, -150}, 25},
		{"gears askew", gear, gear, geom.Vec{40, 25, 10}, geom.Vec{0, 0, -150}, 25},
		{"gears, far pivot", gear, gear, geom.Vec{40, 25, 10}, geom.Vec{300, -100, -250}, 40},
		{"gear and bracket", gear, bracket, geom.Vec{0, 90, 30}, geom.Vec{100, 0, -150}, 25},
		{"brackets", bracket, bracket, geom.Vec{5, 3, 8}, geom.Vec{0, 0, -150}, 25},
	} {
		b.Run(c.name, func(b *testing.B) {
			s := apart(b, c.one, c.two, c.turnDeg, c.pivotMM, c.gapMM)
			var p *Pair
			for b.Loop() {
				r, err := Run(context.Background(), s, Options{Workers: 1}, nil)
				if err != nil {
					b.Fatal(err)
				}
				p = r.Find(0, 1, layout.StateMoving)
			}
			if p.Overlap || p.ClearanceMM <= 0 || p.ErrorMM > searchMM+1e-6 {
				b.Fatalf("not settled: %.4f mm ± %.4f", p.ClearanceMM, p.ErrorMM)
			}
			b.ReportMetric(float64(len(c.one.Tris)+len(c.two.Tris)), "triangles")
			b.ReportMetric(p.ClearanceMM, "mm")
			b.ReportMetric(p.ErrorMM*1e3, "um_open")
		})
	}
}

// apart is a scene of two parts, the second one turned and moved along y until
// the surfaces stand gapMM apart; the first one moves.
func apart(tb testing.TB, one, two *mesh.Mesh, turnDeg, pivotMM geom.Vec, gapMM float64) *scene.Scene {
	tb.Helper()
	mid := one.Box().Center()
	doc := &layout.Document{
		Parts: []layout.Part{
			{Name: "one", Role: "machine", Mesh: "one.stl", Group: "g"},
			{Name: "two", Role: "panel", Mesh: "two.stl", TurnDeg: turnDeg},
		},
		Groups: []layout.Group{{Name: "g", PivotMM: mid.Add(pivotMM), Motion: &layout.Motion{
			XMM: layout.Range{-10, 10}, YMM: layout.Range{-5, 5}, ZMM: layout.Range{-8, 8},
			RollDeg: layout.Range{-3, 3}, PitchDeg: layout.Range{-1, 1}, YawDeg: layout.Range{-1, 1},
		}}},
		Rules: []layout.Rule{{A: "*", B: "*", State: layout.StateMoving, LeastMM: 1000}},
	}
	meshes := map[string]*mesh.Mesh{"one.stl": one, "two.stl": two}
	s := fixture.Scene(tb, doc, meshes)
	// From far to the side, come closer by what is too much.
	boxes := [2]geom.Box{s.Parts[0].Box, s.Parts[1].Box}
	move := boxes[0].Center().Sub(boxes[1].Center())
	move[1] = boxes[0].Max[1] - boxes[1].Min[1] + gapMM
	for range 40 {
		doc.Parts[1].MoveMM = move
		body := s.Body(1)
		body.Pose.T = body.Pose.T.Add(move)
		r, err := dist.Between(context.Background(), s.Body(0), body, dist.Options{})
		if err != nil {
			tb.Fatal(err)
		}
		if r.GapMM-gapMM < 1e-3 {
			break
		}
		move[1] -= r.GapMM - gapMM
	}
	return fixture.Scene(tb, doc, meshes)
}

func readMesh(tb testing.TB, name string) *mesh.Mesh {
	tb.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/meshes", name))
	if err != nil {
		tb.Fatal(err)
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

// quartered returns the mesh with each triangle cut in four at its edge middles.
func quartered(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Verts: slices.Clone(m.Verts)}
	at := map[[2]int32]int32{}
	middle := func(i, j int32) int32 {
		key := [2]int32{min(i, j), max(i, j)}
		if _, ok := at[key]; !ok {
			at[key] = int32(len(out.Verts))
			out.Verts = append(out.Verts, m.Verts[i].Add(m.Verts[j]).Mul(0.5))
		}
		return at[key]
	}
	for _, t := range m.Tris {
		x, y, z := middle(t[0], t[1]), middle(t[1], t[2]), middle(t[2], t[0])
		out.Tris = append(out.Tris, [][3]int32{{t[0], x, z}, {x, t[1], y}, {z, y, t[2]}, {x, y, z}}...)
	}
	return out
}

// doubled returns the mesh with nearly every triangle cut in two: edges are
// halved, longest first, as long as neither neighbour is cut yet.
func doubled(m *mesh.Mesh) *mesh.Mesh {
	type side struct{ tri, k int }
	sides := map[[2]int32][]side{}
	var edges [][2]int32
	for tri, t := range m.Tris {
		for k := range 3 {
			i, j := t[k], t[(k+1)%3]
			e := [2]int32{min(i, j), max(i, j)}
			if sides[e] == nil {
				edges = append(edges, e)
			}
			sides[e] = append(sides[e], side{tri, k})
		}
	}
	lengthMM := func(e [2]int32) float64 { return m.Verts[e[0]].Sub(m.Verts[e[1]]).Len() }
	slices.SortStableFunc(edges, func(x, y [2]int32) int { return cmp.Compare(lengthMM(y), lengthMM(x)) })
	out := &mesh.Mesh{Verts: slices.Clone(m.Verts), Tris: slices.Clone(m.Tris)}
	cut := make([]bool, len(m.Tris))
	for _, e := range edges {
		if slices.ContainsFunc(sides[e], func(s side) bool { return cut[s.tri] }) {
			continue
		}
		mid := int32(len(out.Verts))
		out.Verts = append(out.Verts, m.Verts[e[0]].Add(m.Verts[e[1]]).Mul(0.5))
		for _, s := range sides[e] {
			t := m.Tris[s.tri]
			i, j, k := t[s.k], t[(s.k+1)%3], t[(s.k+2)%3]
			out.Tris[s.tri] = [3]int32{i, mid, k}
			out.Tris = append(out.Tris, [3]int32{mid, j, k})
			cut[s.tri] = true
		}
	}
	return out
}

// Both ways of cutting keep the surface: closed stays closed, same area and
// volume.
func TestCutMeshesAreTheSame(t *testing.T) {
	for _, name := range []string{"mech_gear40.stl", "brk_spider.stl"} {
		m := readMesh(t, name)
		want := mesh.Measure(m)
		for how, got := range map[string]*mesh.Mesh{"doubled": doubled(m), "quartered": quartered(m)} {
			f := mesh.Measure(got)
			if mesh.Inspect(got).Closed != mesh.Inspect(m).Closed ||
				math.Abs(f.AreaMM2-want.AreaMM2) > 1e-9*want.AreaMM2 || math.Abs(f.VolumeMM3-want.VolumeMM3) > 1e-9*want.VolumeMM3 {
				t.Errorf("%s %s: %+v, want %+v", name, how, f, want)
			}
		}
	}
}
