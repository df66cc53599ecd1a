package mesh_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// massCase is one entry of massprops.json: figures in extended precision.
type massCase struct {
	Mesh      string
	Closed    bool
	Triangles int
	Volume    float64
	Area      float64
	Centroid  geom.Vec
	Inertia   [3][3]float64 `json:"inertia_about_centroid_unit_density"`
}

func massCases(t *testing.T) []massCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(meshDir, "massprops.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []massCase }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) < 29 {
		t.Fatalf("only %d cases read", len(file.Cases))
	}
	return file.Cases
}

// TestMeasureAgainstExtendedPrecision compares every mesh with massprops.json;
// the tolerance of 1e-9 relative is the one stated there. Centroids are compared
// relative to the size, products of inertia relative to the largest moment.
func TestMeasureAgainstExtendedPrecision(t *testing.T) {
	const rel = 1e-9
	compared := 0
	for _, c := range massCases(t) {
		if _, err := os.Stat(filepath.Join(meshDir, c.Mesh)); err != nil {
			continue // a benchmark mesh that is not part of the test data
		}
		compared++
		m := load(t, c.Mesh)
		got := mesh.Measure(m)
		if len(m.Tris) != c.Triangles {
			t.Errorf("%s: %d triangles, want %d", c.Mesh, len(m.Tris), c.Triangles)
		}
		near := func(what string, got, want, scale float64) {
			if !(math.Abs(got-want) <= rel*math.Abs(scale)) {
				t.Errorf("%s: %s = %.17g, want %.17g", c.Mesh, what, got, want)
			}
		}
		near("volume", got.VolumeMM3, c.Volume, c.Volume)
		near("area", got.AreaMM2, c.Area, c.Area)
		moment := math.Max(math.Abs(c.Inertia[0][0]), math.Abs(c.Inertia[2][2]))
		for i := range 3 {
			near("centroid", got.CentroidMM[i], c.Centroid[i], m.Box().DiagonalMM())
			for j := range 3 {
				near("inertia", got.InertiaMM5.At(i, j), c.Inertia[i][j], moment)
			}
		}
	}
	if compared < 28 {
		t.Errorf("only %d meshes compared", compared)
	}
}

// TestMeasureMovesWithThePart: moving far off changes nothing but the centroid.
func TestMeasureMovesWithThePart(t *testing.T) {
	m := load(t, "mech_gear40.stl")
	pose := geom.About(geom.Vec{1, 2, 3}, geom.Turn(geom.Vec{0.3, -1.1, 2.5}), geom.Vec{40000, -30000, 20000})
	moved := &mesh.Mesh{Tris: m.Tris}
	for _, v := range m.Verts {
		moved.Verts = append(moved.Verts, pose.Point(v))
	}
	a, b := mesh.Measure(m), mesh.Measure(moved)
	// Coordinates of 5e4 mm round by 7e-12 mm, 1e-12 of a 10 mm gear.
	const rel = 1e-10
	if d := math.Abs(a.VolumeMM3 - b.VolumeMM3); d > rel*a.VolumeMM3 {
		t.Errorf("volume changed by %g", d)
	}
	if d := b.CentroidMM.Sub(pose.Point(a.CentroidMM)).Len(); d > 1e-9 {
		t.Errorf("centroid off by %g mm", d)
	}
	want := pose.R.Mul3(a.InertiaMM5).Mul3(pose.R.Transpose())
	for k := range want {
		if d := math.Abs(want[k] - b.InertiaMM5[k]); d > rel*a.InertiaMM5.Trace() {
			t.Errorf("inertia entry %d off by %g", k, d)
		}
	}
}

func TestMeasureOfNothing(t *testing.T) {
	if got := mesh.Measure(&mesh.Mesh{}); got != (mesh.Measures{}) {
		t.Errorf("empty mesh measures %+v", got)
	}
}
