package mesh_test

import (
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom/mesh"
)

const meshDir = "../../testdata/meshes"

// load reads a mesh of the shared test data.
func load(t testing.TB, rel string) *mesh.Mesh {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(meshDir, rel))
	if err != nil {
		t.Fatal(err)
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		t.Fatalf("%s: %v", rel, err)
	}
	return m
}
