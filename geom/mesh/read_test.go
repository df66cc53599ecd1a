package mesh_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
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

// binarySTL returns a file with one facet for each nine coordinates.
func binarySTL(header string, coords ...float32) []byte {
	data := make([]byte, 84)
	copy(data, header)
	binary.LittleEndian.PutUint32(data[80:], uint32(len(coords)/9))
	for i, x := range coords {
		if i%9 == 0 {
			data = append(data, make([]byte, 12)...) // normal
		}
		data = binary.LittleEndian.AppendUint32(data, math.Float32bits(x))
		if i%9 == 8 {
			data = append(data, 0, 0) // attribute
		}
	}
	return data
}

// declaring returns data with another facet count.
func declaring(data []byte, facets uint32) []byte {
	data = slices.Clone(data)
	binary.LittleEndian.PutUint32(data[80:], facets)
	return data
}

const (
	facetText = "facet normal 0 0 1\n outer loop\n  vertex 0 0 0\n  vertex 1 0 0\n  vertex 0 1 0\n endloop\nendfacet\n"
	tailText  = "facet normal 0 0 1\n outer loop\n  vertex 1 0 0\n  vertex 1.0 1e0 -0\n  vertex 0 1 0\n endloop\nendfacet\n"
)

func TestReadSTLAccepts(t *testing.T) {
	// Two facets that share an edge: four corners after welding.
	minus := float32(math.Copysign(0, -1))
	two := []float32{minus, minus, minus, 1, 0, 0, 0, 1, 0, 1, 0, 0, 1, 1, minus, 0, 1, 0}
	ascii := "solid a b c\n" + facetText + tailText + "endsolid a b c\n"
	nan := strings.Replace(ascii, "normal 0 0 1", "normal nan -nan(ind) x", 1)
	for _, c := range []struct {
		name  string
		data  []byte
		notes int
	}{
		{"binary", binarySTL("part", two...), 0},
		{"binary that says solid", binarySTL("solid part", two...), 0},
		{"binary that says solid, facet, newline", binarySTL("solid part\nfacet normal 0 0 0\n", two...), 0},
		{"binary with bytes after the end", append(binarySTL("part", two...), 1, 2, 3), 1},
		{"ascii", []byte(ascii), 0},
		{"upper case", []byte(strings.ToUpper(ascii)), 0},
		{"windows line ends", []byte(strings.ReplaceAll(ascii, "\n", "\r\n")), 0},
		{"old line ends", []byte(strings.ReplaceAll(ascii, "\n", "\r")), 0},
		{"byte order mark, blank lines, tabs", []byte("\xef\xbb\xbf\n\n\t" + strings.ReplaceAll(ascii, "\n", "\n\n\t")), 0},
		{"no name", []byte(strings.ReplaceAll(ascii, " a b c", "")), 0},
		{"name of file words", []byte(strings.ReplaceAll(ascii, " a b c", " facet endsolid")), 0},
		{"normals that are no numbers", []byte(nan), 0},
		{"several solids", []byte("solid a\n" + facetText + "endsolid a\nsolid b\n" + tailText + "endsolid b"), 1},
		{"one long line", []byte("solid x\n" + strings.ReplaceAll(facetText+tailText, "\n", strings.Repeat(" ", 70000)) + "endsolid"), 0},
		{"a million blank lines", []byte("solid x\n" + strings.Repeat("\n", 1e6) + facetText + tailText + "endsolid"), 0},
	} {
		m, notes, err := mesh.ReadSTLNoted(c.data)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(notes) != c.notes {
			t.Errorf("%s: notes %q", c.name, notes)
		}
		want := &mesh.Mesh{
			Verts: []geom.Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}},
			Tris:  [][3]int32{{0, 1, 2}, {1, 3, 2}},
		}
		if !slices.Equal(m.Verts, want.Verts) || !slices.Equal(m.Tris, want.Tris) {
			t.Errorf("%s: got %v %v", c.name, m.Verts, m.Tris)
		}
		for _, v := range m.Verts {
			if math.Signbit(v[0]) || math.Signbit(v[1]) || math.Signbit(v[2]) {
				t.Errorf("%s: -0 was kept", c.name)
			}
		}
	}
}

func TestReadSTLRefuses(t *testing.T) {
	good := binarySTL("part", 0, 0, 0, 1, 0, 0, 0, 1, 0)
	nan, inf := float32(math.NaN()), float32(math.Inf(-1))
	for _, c := range []struct {
		name string
		data []byte
		kind error
		says string // part of the message
		at   int64  // line if positive, else minus the byte
	}{
		{"empty file", nil, mesh.ErrEmpty, "no bytes", 0},
		{"cut binary", good[:len(good)-1], mesh.ErrTruncated, "declares 1 facets, the 133 bytes can hold 0", -133},
		{"huge count", declaring(good, math.MaxUint32), mesh.ErrTruncated, "declares 4294967295 facets", -134},
		{"cut header", good[:40], mesh.ErrNotSTL, "40 bytes", -40},
		{"no facets", binarySTL("part"), mesh.ErrEmpty, "declares 0 facets", -80},
		{"count 0 before facets", declaring(good, 0), mesh.ErrEmpty, "declares 0 facets", -80},
		{"nan", binarySTL("part", 0, 0, 0, 1, nan, 0, 0, 1, 0), mesh.ErrNumber, "facet 1, corner 2, y = NaN", -(84 + 12 + 16)},
		{"inf", binarySTL("part", 0, 0, 0, 1, 0, 0, 0, 1, inf), mesh.ErrNumber, "corner 3, z = -Inf", -(84 + 12 + 32)},
		{"far away", binarySTL("part", 2e7, 0, 0, 1, 0, 0, 0, 1, 0), mesh.ErrTooLarge, "x = 2e+07", -(84 + 12)},
		{"other text", []byte("# a list of points\nv 1 2 3\n"), mesh.ErrNotSTL, `begins with "#"`, 1},
		{"ends in a facet", []byte("solid\n" + facetText[:60]), mesh.ErrTruncated, "inside facet 1", 5},
		{"ends between facets", []byte("solid\n" + facetText), mesh.ErrTruncated, `without "endsolid"`, 9},
		{"no facet in solid", []byte("solid x\nendsolid x\n"), mesh.ErrEmpty, "no facet", 3},
		{"four corners", []byte("solid\n" + strings.Replace(facetText, " endloop", "vertex 1 1 1\nendloop", 1)), mesh.ErrNotSTL, "exactly three corners", 7},
		{"decimal comma", []byte("solid\n" + strings.Replace(facetText, "1 0 0", "1,5 0 0", 1) + "endsolid"), mesh.ErrNumber, `"1,5"`, 5},
		{"word for a number", []byte("solid\n" + strings.Replace(facetText, "vertex 1", "vertex nan", 1) + "endsolid"), mesh.ErrNumber, `"nan"`, 5},
		{"number beyond float32", []byte("solid\n" + strings.Replace(facetText, "vertex 1", "vertex 1e99", 1) + "endsolid"), mesh.ErrNumber, `"1e99"`, 5},
		{"far away in text", []byte("solid\n" + strings.Replace(facetText, "vertex 1", "vertex -1e8", 1) + "endsolid"), mesh.ErrTooLarge, `"-1e8"`, 5},
		{"words after the end", []byte("solid\n" + facetText + "endsolid\nmore"), mesh.ErrNotSTL, `"more" after "endsolid"`, 10},
		{"unknown word", []byte("solid\n" + facetText + "color 1 2 3\nendsolid\n"), mesh.ErrNotSTL, `"color" where "facet"`, 9},
		{"line counted with windows ends", []byte(strings.ReplaceAll("solid\n"+facetText+"color\n", "\n", "\r\n")), mesh.ErrNotSTL, "line 9", 9},
	} {
		_, err := mesh.ReadSTL(c.data)
		var re *mesh.ReadError
		if !errors.As(err, &re) || !errors.Is(err, c.kind) {
			t.Errorf("%s: error %v, want kind %q", c.name, err, c.kind)
			continue
		}
		if text := err.Error(); !strings.Contains(text, c.says) || strings.Contains(text, "\n") || re.Mend.IsZero() {
			t.Errorf("%s: message %q does not say %q in one line with a remedy", c.name, text, c.says)
		}
		if c.at > 0 && int64(re.Line) != c.at || c.at < 0 && re.Byte != -c.at {
			t.Errorf("%s: at line %d, byte %d; want %d", c.name, re.Line, re.Byte, c.at)
		}
	}
}

// TestRoundTrip: what was read is written and read again bit for bit.
func TestRoundTrip(t *testing.T) {
	for _, rel := range []string{"brk_spider.stl", "mech_gear40.stl", "shapes_open/torus_far.stl", "shapes_open/bad_degenerate.stl"} {
		m := load(t, rel)
		for _, title := range []string{"a title", "Solid of words", strings.Repeat("long ", 40), ""} {
			var file bytes.Buffer
			if err := m.WriteSTL(&file, title); err != nil {
				t.Fatalf("%s: %v", rel, err)
			}
			if strings.HasPrefix(strings.ToLower(file.String()), "solid") {
				t.Errorf("%s: the header looks like ASCII", rel)
			}
			again, err := mesh.ReadSTL(file.Bytes())
			if err != nil {
				t.Fatalf("%s: %v", rel, err)
			}
			if !slices.Equal(m.Verts, again.Verts) || !slices.Equal(m.Tris, again.Tris) {
				t.Errorf("%s: changed by writing and reading", rel)
			}
		}
	}
}

// TestRoundTripASCII: as text, too, but for which corners were joined already.
func TestRoundTripASCII(t *testing.T) {
	for _, rel := range []string{"brk_spider.stl", "shapes_open/torus_far.stl", "shapes_open/bad_degenerate.stl"} {
		m := load(t, rel)
		for _, title := range []string{"a title", "two\nlines", "endsolid", ""} {
			var file bytes.Buffer
			if err := m.WriteASCII(&file, title); err != nil {
				t.Fatalf("%s: %v", rel, err)
			}
			if !strings.HasPrefix(file.String(), "solid") {
				t.Errorf("%s: not text", rel)
			}
			again, err := mesh.ReadSTL(file.Bytes())
			if err != nil {
				t.Fatalf("%s titled %q: %v", rel, title, err)
			}
			if !slices.Equal(m.Verts, again.Verts) || !slices.Equal(m.Tris, again.Tris) {
				t.Errorf("%s: changed by writing and reading", rel)
			}
		}
	}
}

func TestScaled(t *testing.T) {
	m := load(t, "shapes_open/box_a.stl")
	if m.Scaled(1) != m {
		t.Error("a factor of 1 copies the mesh")
	}
	if got, want := mesh.Measure(m.Scaled(25.4)).VolumeMM3, 72000*25.4*25.4*25.4; math.Abs(got-want) > 1e-9*want {
		t.Errorf("volume %g, want %g", got, want)
	}
}

// FuzzReadSTL: no input may crash, and what is accepted survives writing and
// reading; health, measures, mending and cutting must take it too.
func FuzzReadSTL(f *testing.F) {
	for _, rel := range []string{"shapes_open/box_a.stl", "shapes_open/needle.stl", "shapes_open/hollow_box.stl"} {
		data, err := os.ReadFile(filepath.Join(meshDir, rel))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
		f.Add(data[:len(data)-7])
		f.Add(append(slices.Clone(data), 0))
	}
	f.Add([]byte("solid a\n" + facetText + tailText + "endsolid a\nSOLID b\r\n" + facetText + "endsolid"))
	f.Add([]byte(strings.ToUpper("solid\r" + facetText)))
	f.Add([]byte("\xef\xbb\xbfsolid\nfacet normal"))
	f.Add(binarySTL("solid", 0, 0, 0, 1e-40, 3e6, -0, 1, 1, 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := mesh.ReadSTL(data)
		if err != nil {
			var re *mesh.ReadError
			if !errors.As(err, &re) || strings.ContainsAny(err.Error(), "\r\n") {
				t.Fatalf("refusal %q", err)
			}
			return
		}
		var file bytes.Buffer
		if err := m.WriteSTL(&file, "again"); err != nil {
			t.Fatal(err)
		}
		again, err := mesh.ReadSTL(file.Bytes())
		if err != nil || !slices.Equal(m.Verts, again.Verts) || !slices.Equal(m.Tris, again.Tris) {
			t.Fatalf("changed by writing and reading: %v", err)
		}
		mended, _ := mesh.Mended(m)
		if h := mesh.Inspect(mended); h.Flipped > 0 || h.Duplicate > 0 {
			t.Fatalf("mending left %+v", h)
		}
		if got := mesh.Measure(m).AreaMM2; math.IsNaN(got) || got < 0 {
			t.Fatalf("area %g", got)
		}
		closed := mesh.Inspect(m).Closed
		for _, line := range mesh.Section(m, geom.Identity(), mesh.Plane{Point: m.Box().Center(), Normal: geom.Vec{1, 2, 3}}) {
			if closed && line[0] != line[len(line)-1] {
				t.Fatal("a closed mesh has an open outline")
			}
		}
	})
}
