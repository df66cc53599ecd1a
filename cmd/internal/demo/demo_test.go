package demo

import (
	"testing"

	"aftbay/geom/mesh"
)

// Every envelope is a clean solid, wound outward, save the open heat shield.
func TestMeshesAreCleanSolids(t *testing.T) {
	for _, v := range Variants() {
		c, err := build(v)
		if err != nil {
			t.Fatal(err)
		}
		triangles := 0
		for _, f := range c.files {
			h := mesh.Inspect(f.mesh)
			triangles += len(f.mesh.Tris)
			sound := h.NonManifoldEdges == 0 && h.Degenerate == 0 && h.Duplicate == 0 && h.Flipped == 0
			if !sound || h.Closed == (f.path == "meshes/heat_shield.stl") {
				t.Errorf("%s: %s: %+v", v, f.path, h)
			}
			if h.Closed && mesh.Measure(f.mesh).VolumeMM3 <= 0 {
				t.Errorf("%s: %s is inside out", v, f.path)
			}
		}
		t.Logf("%s: %d parts, %d triangles", v, len(c.doc.Parts), triangles)
		if triangles < 10000 || triangles > 40000 {
			t.Errorf("%s: %d triangles", v, triangles)
		}
	}
}

func TestWriteMakesALayout(t *testing.T) {
	for _, v := range append(Variants(), "") {
		if err := Write(t.TempDir(), v); err != nil {
			t.Error(err)
		}
	}
}
