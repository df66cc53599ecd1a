package scene_test

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
)

// boxSTL returns a closed box from the origin to size, as a binary STL.
func boxSTL(t testing.TB, size geom.Vec) []byte {
	t.Helper()
	b := geom.Box{Max: size}
	c := b.Corners()
	m := &mesh.Mesh{Verts: c[:], Tris: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, // bottom, top
		{0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, // front, back
		{0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}, // left, right
	}}
	var out bytes.Buffer
	if err := m.WriteSTL(&out, "box"); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// write makes a file below dir.
func write(t testing.TB, dir, rel string, data []byte) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(rel))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// sample returns a layout of boxes, a route and a spot in a fresh folder.
func sample(t testing.TB) (string, *layout.Document) {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "meshes/a.stl", boxSTL(t, geom.Vec{100, 50, 20}))
	write(t, dir, "meshes/b.stl", boxSTL(t, geom.Vec{1, 2, 3}))
	write(t, dir, "positions.csv", []byte("name,x_mm\nleft turn,-3\n"))
	doc := &layout.Document{
		Title: "sample",
		Parts: []layout.Part{
			{Name: "engine", Role: "engine", Mesh: "meshes/a.stl", Group: "powertrain", MoveMM: geom.Vec{1000, 0, 200}},
			{Name: "coil 1", Role: "coil", Mesh: "meshes/b.stl", MeshUnit: "in", TurnDeg: geom.Vec{0, 0, 90}},
			{Name: "coil 2", Role: "coil", Mesh: "meshes/b.stl", MeshUnit: "in", Group: "powertrain"},
			{Name: "gadget", Role: "gadget", Mesh: "meshes/b.stl"},
		},
		Groups: []layout.Group{{Name: "powertrain", Positions: "positions.csv"}, {Name: "empty"}},
		Routes: []layout.Route{{
			Name: "feed", Role: "hose", DiameterMM: 20, BendRadiusMM: 50,
			PointsMM: []geom.Vec{{0, 0, 0}, {500, 0, 0}, {500, 400, 0}},
		}},
		Spots: []layout.Spot{{Name: "coil", Mesh: "meshes/b.stl", Role: "coil", Hosts: []string{"*"}}},
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	return dir, doc
}

func open(t testing.TB, dir string) (*layout.Document, *layout.Folder) {
	t.Helper()
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { folder.Close() })
	return doc, folder
}

func build(t testing.TB, doc *layout.Document, folder *layout.Folder, prev *scene.Scene) *scene.Scene {
	t.Helper()
	s, err := scene.Build(context.Background(), doc, folder, prev, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestBuild(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	if len(s.Parts) != 5 || len(s.Spots) != 1 {
		t.Fatalf("%d parts, %d spots", len(s.Parts), len(s.Spots))
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		if got, ok := s.Index(p.Name); !ok || got != i || p.Index != i {
			t.Errorf("%s: index %d, %d", p.Name, got, p.Index)
		}
		if !p.Closed || !p.Health.Closed || p.Layout == nil || p.Tree.Mesh() != p.Mesh {
			t.Errorf("%s: closed %v, layout %v", p.Name, p.Closed, p.Layout)
		}
	}
	// 1 x 2 x 3 inches (25.4 mm by definition), a quarter turn about Z: x -> y, y -> -x.
	want := geom.Box{Min: geom.Vec{-50.8, 0, 0}, Max: geom.Vec{0, 25.4, 76.2}}
	if got := s.Parts[1].Box; got.Min.Sub(want.Min).Len()+got.Max.Sub(want.Max).Len() > 1e-13 { // one rounding of 76.2
		t.Errorf("coil 1 stands in %v, want %v", got, want)
	}
	if s.Parts[1].Tree != s.Parts[2].Tree {
		t.Error("one mesh file was loaded twice")
	}
	if s.Parts[1].Tree == s.Parts[3].Tree {
		t.Error("inches and millimetres share a mesh")
	}
	if s.Parts[3].Mesh != s.Spots[0].Mesh {
		t.Error("the spot's mesh was loaded again")
	}
	if l := s.Parts[4].Length; l == nil || math.Abs(l.DevelopedMM-(900-100+50*math.Pi/2)) > 1e-9 {
		t.Errorf("feed: length %+v", l)
	}
	if got := s.Positions("powertrain"); len(got) != 1 || got[0].ShiftMM != (geom.Vec{-3, 0, 0}) {
		t.Errorf("positions %v", got)
	}
	if s.Group("powertrain") == nil || s.Group("nobody") != nil {
		t.Error("groups")
	}
}

func TestWorkersAgree(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	first := build(t, doc, folder, nil)
	for _, workers := range []int{1, 2, 7} {
		s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(s, first) {
			t.Errorf("%d workers give another scene", workers)
		}
	}
}

// TestEarly: what can be drawn is told once, before anything is examined, and
// not where a file is missing.
func TestEarly(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	var drafts []*scene.Draft
	o := scene.Options{Early: func(d *scene.Draft) { drafts = append(drafts, d) }}
	s, err := scene.Build(context.Background(), doc, folder, nil, o)
	if err != nil || len(drafts) != 1 || len(drafts[0].Parts) != len(s.Parts) {
		t.Fatalf("%v, %d drafts", err, len(drafts))
	}
	for i := range s.Parts {
		d, p := &drafts[0].Parts[i], &s.Parts[i]
		if d.Name != p.Name || d.Role != p.Role || d.Pose != p.Pose || d.Mesh != p.AsRead || d.Tree != nil {
			t.Errorf("draft of %s: %s, %s, tree %v", p.Name, d.Name, d.Role, d.Tree != nil)
		}
	}
	if !reflect.DeepEqual(s, build(t, doc, folder, nil)) {
		t.Error("another scene comes of it")
	}
	lacks := *doc
	lacks.Parts = append([]layout.Part{{Name: "gone", Role: "engine", Mesh: "gone.stl"}}, doc.Parts...)
	if _, err := scene.Build(context.Background(), &lacks, folder, nil, o); err == nil || len(drafts) != 1 {
		t.Errorf("without a file: %v, %d drafts", err, len(drafts))
	}
}

func TestCancelled(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if s, err := scene.Build(ctx, doc, folder, nil, scene.Options{}); s != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v", s, err)
	}
}

func TestReuse(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	first := build(t, doc, folder, nil)

	doc.Parts[0].MoveMM[0] += 5
	moved := build(t, doc, folder, first)
	for i := range moved.Parts {
		if moved.Parts[i].Tree != first.Parts[i].Tree {
			t.Errorf("%s: tree built again although only a pose changed", moved.Parts[i].Name)
		}
	}
	if moved.Parts[0].Box.Min[0] != 1005 || first.Parts[0].Box.Min[0] != 1000 {
		t.Errorf("boxes %v, %v", moved.Parts[0].Box, first.Parts[0].Box)
	}

	// Other contents of the same size, told by the time alone.
	write(t, dir, "meshes/a.stl", boxSTL(t, geom.Vec{100, 50, 21}))
	later := time.Now().Add(time.Minute)
	if err := os.Chtimes(filepath.Join(dir, "meshes/a.stl"), later, later); err != nil {
		t.Fatal(err)
	}
	// The same contents with a new time.
	if err := os.Chtimes(filepath.Join(dir, "meshes/b.stl"), later, later); err != nil {
		t.Fatal(err)
	}
	kept, err := scene.Build(context.Background(), doc, folder, moved, scene.Options{Kept: true})
	if err != nil {
		t.Fatal(err)
	}
	for i := range kept.Parts {
		if kept.Parts[i].Tree != first.Parts[i].Tree {
			t.Errorf("%s: read again although the files were to be kept", kept.Parts[i].Name)
		}
	}
	doc.Routes[0].PointsMM[2][1] = 401 // edited in place
	changed := build(t, doc, folder, moved)
	for i, reused := range []bool{false, true, true, true, false} {
		if got := changed.Parts[i].Tree == first.Parts[i].Tree; got != reused {
			t.Errorf("%s: tree reused %v, want %v", changed.Parts[i].Name, got, reused)
		}
	}
	if got := changed.Parts[0].Box.Size()[2]; got != 21 {
		t.Errorf("reshaped engine is %g mm high", got)
	}
}

func TestMovedAndPlaced(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	before := s.Parts[0].Pose
	by := geom.About(geom.Vec{900, 10, 100}, geom.Turn(geom.Vec{0.1, -0.2, 0.3}), geom.Vec{1, 2, 3})
	m := s.Moved("powertrain", by)
	for i := range m.Parts {
		p, q := &m.Parts[i], &s.Parts[i]
		if p.Tree != q.Tree {
			t.Errorf("%s: tree not shared", p.Name)
		}
		point := geom.Vec{7, -8, 9}
		want := q.Pose.Point(point)
		if p.Group == "powertrain" {
			want = by.Point(want)
		}
		if got := p.Pose.Point(point); got.Sub(want).Len() > 1e-9 { // roundings at 1 m
			t.Errorf("%s: point at %v, want %v", p.Name, got, want)
		}
	}
	if s.Parts[0].Pose != before {
		t.Error("the scene it came from has moved")
	}
	p := s.Placed(3, geom.Shift(geom.Vec{0, 0, 10}))
	if p.Parts[3].Box.Min[2] != 10 || s.Parts[3].Box.Min[2] != 0 || !reflect.DeepEqual(p.Parts[0], s.Parts[0]) {
		t.Error("Placed moved the wrong things")
	}
}

// TestPoseOf holds PoseOf against the formula of the file format,
// R = Rz(rz)·Ry(ry)·Rx(rx), multiplied out by hand.
func TestPoseOf(t *testing.T) {
	for _, deg := range []geom.Vec{{10, 20, 30}, {-170, 89, 271}, {0, 0, 1e-6}, {45, -45, 720.5}} {
		s, c := geom.Vec{}, geom.Vec{}
		for k := range 3 {
			s[k], c[k] = math.Sincos(deg[k] * math.Pi / 180)
		}
		rows := [3]geom.Vec{
			{c[2] * c[1], c[2]*s[1]*s[0] - s[2]*c[0], c[2]*s[1]*c[0] + s[2]*s[0]},
			{s[2] * c[1], s[2]*s[1]*s[0] + c[2]*c[0], s[2]*s[1]*c[0] - c[2]*s[0]},
			{-s[1], c[1] * s[0], c[1] * c[0]},
		}
		p := scene.PoseOf(&layout.Part{TurnDeg: deg, MoveMM: geom.Vec{1, 2, 3}})
		v := geom.Vec{3, -5, 7}
		want := geom.Vec{rows[0].Dot(v) + 1, rows[1].Dot(v) + 2, rows[2].Dot(v) + 3}
		if got := p.Point(v); got.Sub(want).Len() > 1e-13 { // a few roundings of numbers near 10
			t.Errorf("%v: got %v, want %v", deg, got, want)
		}
	}
	quarter := scene.PoseOf(&layout.Part{TurnDeg: geom.Vec{90, -90, 540}})
	for _, e := range quarter.R {
		if e != 0 && math.Abs(e) != 1 {
			t.Errorf("quarter turns are not exact: %v", quarter.R)
		}
	}
}

// TestBody: the distance of two boxes in their places, by Pythagoras.
func TestBody(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	// engine: x from 1000, z from 200; gadget: x to 1, z to 3; both meet y = 0..2.
	got, err := dist.Between(context.Background(), s.Body(0), s.Body(3), dist.Options{})
	if want := math.Hypot(999, 197); err != nil || math.Abs(got.GapMM-want) > 1e-6 { // the promised accuracy
		t.Errorf("gap %v, %v, want %g", got.GapMM, err, want)
	}
	if !s.Body(0).Closed {
		t.Error("a box is no solid")
	}
}

func TestSelect(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	for _, c := range []struct {
		selector string
		want     []int
		err      string
	}{
		{"*", []int{0, 1, 2, 3, 4}, ""},
		{"role:coil", []int{1, 2}, ""},
		{"role:gadget", []int{3}, ""},
		{"role:deck", nil, ""}, // has default rules, may be without parts
		{"group:powertrain", []int{0, 2}, ""},
		{"group:empty", nil, ""},
		{"part:feed", []int{4}, ""},
		{"part:coil 3", nil, `did you mean "part:coil 1"?`},
		{"role:gadgte", nil, `did you mean "role:gadget"?`},
		{"group:powertrian", nil, `did you mean "group:powertrain"?`},
		{"part:zzzzzz", nil, "names nothing"},
		{"coil", nil, "no selector"},
	} {
		got, err := s.Select(c.selector)
		if !reflect.DeepEqual(got, c.want) || (err == nil) != (c.err == "") {
			t.Errorf("%s: got %v, %v", c.selector, got, err)
		}
		if err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %v, want %s", c.selector, err, c.err)
		}
	}
}

// TestFaults: everything wrong with the files is told at once, by part, file
// and remedy.
func TestFaults(t *testing.T) {
	dir, _ := sample(t)
	doc, folder := open(t, dir)
	write(t, dir, "meshes/cut.stl", boxSTL(t, geom.Vec{1, 1, 1})[:200])
	write(t, dir, "positions.csv", []byte("name,x_mm\na,1\na,2\n"))
	doc.Parts[0].Mesh = "meshes/cut.stl"
	doc.Parts[1].Mesh = "meshes/gone.stl"
	doc.Parts[2].Mesh = "../a.stl"
	doc.Routes[0].BendRadiusMM = 5000
	doc.Spots[0].Mesh = "meshes/gone.stl"
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	var faults layout.Faults
	if s != nil || !errors.As(err, &faults) {
		t.Fatalf("got %v, %v", s, err)
	}
	want := []string{
		`parts[0] "engine": meshes/cut.stl: `,
		`parts[1] "coil 1": meshes/gone.stl: there is no such file; `,
		`parts[2] "coil 2": ../a.stl: the path "../a.stl" leaves the layout folder; `,
		`routes[0] "feed": `,
		`spots[0] "coil": meshes/gone.stl: there is no such file; `,
		`groups[0] "powertrain": positions.csv:3: the name "a" is taken; `,
	}
	if len(faults) != len(want) {
		t.Errorf("%d faults, want %d:\n%v", len(faults), len(want), err)
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("missing %q in\n%v", w, err)
		}
	}
}

// TestMending: what the file had stays visible, what is used is mended.
func TestMending(t *testing.T) {
	dir := t.TempDir()
	doc := &layout.Document{Title: "broken"}
	for _, name := range []string{"bad_duplicate", "bad_inside_out", "bad_holes"} {
		data, err := os.ReadFile("../../testdata/meshes/shapes_open/" + name + ".stl")
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir, name+".stl", data)
		doc.Parts = append(doc.Parts, layout.Part{Name: name, Role: "body", Mesh: name + ".stl"})
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	doc, folder := open(t, dir)
	s := build(t, doc, folder, nil)
	if p := &s.Parts[0]; !p.Closed || p.Health.Duplicate == 0 || len(p.Said) == 0 || len(p.AsRead.Tris) <= len(p.Mesh.Tris) {
		t.Errorf("duplicate: closed %v, %+v, %q", p.Closed, p.Health, p.Said)
	}
	// 167276.535 mm³: testdata/meshes/massprops.json, outward winding.
	if p := &s.Parts[1]; !p.Closed || math.Abs(p.Measures.VolumeMM3-167276.53532129087) > 1e-6 {
		t.Errorf("inside out: volume %g, %q", p.Measures.VolumeMM3, p.Said)
	}
	if p := &s.Parts[2]; p.Closed || p.Health.OpenEdges == 0 {
		t.Errorf("holes: closed %v, %+v", p.Closed, p.Health)
	}
}
