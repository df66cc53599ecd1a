package mesh

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/hschendel/stl"

	"aftbay/geom"
)

// plainWeld is the reader by the library and a map.
func plainWeld(t *testing.T, data []byte) *Mesh {
	t.Helper()
	solid, err := stl.ReadAll(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	m := &Mesh{}
	seen := map[[3]float32]int32{}
	for _, facet := range solid.Triangles {
		var tri [3]int32
		for k, p := range facet.Vertices {
			key := [3]float32{p[0] + 0, p[1] + 0, p[2] + 0}
			if _, ok := seen[key]; !ok {
				seen[key] = int32(len(m.Verts))
				m.Verts = append(m.Verts, geom.Vec{float64(key[0]), float64(key[1]), float64(key[2])})
			}
			tri[k] = seen[key]
		}
		m.Tris = append(m.Tris, tri)
	}
	return m
}

// TestReadAsTheLibrary: corners and facets are those that the library reads,
// welded by a map, in the same order; also of a soup without common corners, of
// corners on a grid, and of zeros of both signs.
func TestReadAsTheLibrary(t *testing.T) {
	files := [][]byte{}
	for _, pattern := range []string{"*.stl", "shapes_open/*.stl", "bay_20k/*.stl"} {
		names, err := filepath.Glob(filepath.Join("../../testdata/meshes", pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if isExactBinary(data) {
				files = append(files, data)
			}
		}
	}
	rng := rand.New(rand.NewPCG(61, 0))
	for kind := range 3 {
		data := make([]byte, headerBytes)
		const facets = 5000
		binary.LittleEndian.PutUint32(data[80:], facets)
		for range facets * 12 {
			x := rng.Float32() * 100
			switch kind {
			case 1:
				x = float32(rng.IntN(9) - 4)
			case 2:
				x = []float32{0, float32(math.Copysign(0, -1)), 1e-42, -1e-42}[rng.IntN(4)]
			}
			data = binary.LittleEndian.AppendUint32(data, math.Float32bits(x))
			if len(data)%facetBytes == (headerBytes+facetBytes-2)%facetBytes {
				data = append(data, 0, 0)
			}
		}
		files = append(files, data)
	}
	for i, data := range files {
		got, err := ReadSTL(data)
		if err != nil {
			t.Fatal(err)
		}
		want := plainWeld(t, data)
		if !slices.Equal(got.Verts, want.Verts) || !slices.Equal(got.Tris, want.Tris) {
			t.Errorf("file %d: %d corners and %d facets, by the library %d and %d", i, len(got.Verts), len(got.Tris), len(want.Verts), len(want.Tris))
		}
	}
	if len(files) < 50 {
		t.Errorf("only %d files", len(files))
	}
}
