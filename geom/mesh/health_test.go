package mesh_test

import (
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom/mesh"
)

// TestInspectDamagedMeshes compares with counts taken by an independent script
// over the raw files (edges as sets of corner coordinates); the shapes were made
// of a torus of 1920 facets.
func TestInspectDamagedMeshes(t *testing.T) {
	cases := []struct {
		mesh, why string
		want      mesh.Health
	}{
		{"bad_holes", "58 facets left out", mesh.Health{OpenEdges: 170}},
		{"bad_flipped", "a tenth of the facets turned", mesh.Health{Flipped: 192}},
		{"bad_degenerate", "40 with equal corners, 20 flat, none of them needed", mesh.Health{Closed: true, Degenerate: 60}},
		{"bad_duplicate", "200 facets twice", mesh.Health{NonManifoldEdges: 567, Duplicate: 200}},
		{"bad_inside_out", "all facets turned", mesh.Health{Closed: true, Flipped: 1920}},
		{"bad_self_cross", "crossing surfaces are no fault of the edges", mesh.Health{Closed: true}},
		{"hollow_box", "the inner shell faces the hollow", mesh.Health{Closed: true}},
		{"two_bodies", "", mesh.Health{Closed: true}},
		{"torus_far", "steps of 1/128 mm make no facet flat", mesh.Health{Closed: true}},
		{"needle", "slender but sound", mesh.Health{Closed: true}},
	}
	for _, c := range cases {
		if got := mesh.Inspect(load(t, "shapes_open/"+c.mesh+".stl")); got != c.want {
			t.Errorf("%s (%s):\n got %+v\nwant %+v", c.mesh, c.why, got, c.want)
		}
	}
}

// TestInspectBrokenExports: counts of the same independent script.
func TestInspectBrokenExports(t *testing.T) {
	spider := mesh.Inspect(load(t, "brk_spider.stl"))
	if spider.Closed || spider.OpenEdges != 72 || spider.Degenerate != 56 || spider.NonManifoldEdges != 0 {
		t.Errorf("brk_spider: %+v", spider)
	}
	wuson := mesh.Inspect(load(t, "brk_wuson.stl"))
	if wuson.Closed || wuson.OpenEdges != 412 || wuson.Degenerate != 0 || wuson.NonManifoldEdges != 0 {
		t.Errorf("brk_wuson: %+v", wuson)
	}
}

// TestInspectBay: every part of the invented bay is a sound solid.
func TestInspectBay(t *testing.T) {
	entries, err := os.ReadDir(meshDir + "/bay_20k")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, e := range entries {
		if e.Name() == "scene.json" {
			continue
		}
		seen++
		if got := mesh.Inspect(load(t, "bay_20k/"+e.Name())); got != (mesh.Health{Closed: true}) {
			t.Errorf("%s: %+v", e.Name(), got)
		}
	}
	if seen != 87 {
		t.Errorf("%d parts seen, want 87", seen)
	}
}

// TestEveryFacetTwice: all edges balance, yet the volume would count twice.
func TestEveryFacetTwice(t *testing.T) {
	m := load(t, "shapes_open/box_a.stl")
	twice := &mesh.Mesh{Verts: m.Verts, Tris: append(append([][3]int32(nil), m.Tris...), m.Tris...)}
	if got, want := mesh.Inspect(twice), (mesh.Health{NonManifoldEdges: 18, Duplicate: 12}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if mended, _ := mesh.Mended(twice); mesh.Measure(mended).VolumeMM3 != 72000 {
		t.Errorf("mended to %g mm³, want 72000", mesh.Measure(mended).VolumeMM3)
	}
}

func TestInspectNothing(t *testing.T) {
	if got := mesh.Inspect(&mesh.Mesh{}); got != (mesh.Health{}) {
		t.Errorf("empty mesh: %+v", got)
	}
}

// IsClosed and Examined say what Inspect says, of good and of damaged bodies.
func TestCheaperVerdicts(t *testing.T) {
	names, err := filepath.Glob("../../testdata/meshes/shapes_open/*.stl")
	if err != nil || len(names) < 10 {
		t.Fatalf("%d bodies, %v", len(names), err)
	}
	for _, name := range append(names, "../../testdata/meshes/brk_spider.stl", "../../testdata/meshes/brk_wuson.stl") {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := mesh.ReadSTL(data)
		if err != nil {
			t.Fatal(err)
		}
		want := mesh.Inspect(m)
		if _, _, got := mesh.Examined(m); got != want || mesh.IsClosed(m) != want.Closed {
			t.Errorf("%s: %+v, closed %v; want %+v", name, got, mesh.IsClosed(m), want)
		}
	}
}
