package mesh_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom/mesh"
)

// TestChordsOfKnownShapes compares the largest chord error of a shape with the
// one its generator states: radius·(1-cos(half a facet's angle)), for doubly
// curved shapes the sum of both directions. The estimate is short by a²/16 in
// each direction: facets of these shapes take up to 0.35 rad, so under 1 %, and
// the shapes' curved facets are skew by as much again.
func TestChordsOfKnownShapes(t *testing.T) {
	const rel = 0.015
	data, err := os.ReadFile(filepath.Join(meshDir, "shapes_open/shapes.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Bodies map[string]struct{ Chord float64 }
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{
		"cylinder", "sphere_small", "sphere_large", "capsule", "torus_a", "torus_b", "bent_tube", "helix",
		"box_a", "box_dense", "plate", "hollow_box", // flat: exactly 0
	} {
		m := load(t, "shapes_open/"+name+".stl")
		chords := mesh.NewChords(m, math.Pi/6)
		got, around, want := 0.0, 0.0, file.Bodies[name].Chord
		for tri := range m.Tris {
			got = max(got, chords.AtMM(tri))
		}
		for v := range m.Verts {
			around = max(around, chords.AroundMM(int32(v)))
		}
		if got != around {
			t.Errorf("%s: %g mm by triangles, %g by corners", name, got, around)
		}
		if math.Abs(got-want) > rel*want {
			t.Errorf("%s: %g mm, want %g", name, got, want)
		}
	}
}
