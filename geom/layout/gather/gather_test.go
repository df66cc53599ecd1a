package gather

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
)

const bay = "../../../testdata/meshes/bay_20k"

// stl writes a brick with its largest side along X.
func stl(t *testing.T, path string, side float64) {
	t.Helper()
	var b bytes.Buffer
	if err := plain.Brick(geom.Vec{}, geom.Vec{side, side / 2, side / 3}).WriteSTL(&b, "brick"); err != nil {
		t.Fatal(err)
	}
	put(t, path, b.String())
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestRolesOfTheBay: the names of testdata's invented bay against the roles
// that its list gives them, in our words.
func TestRolesOfTheBay(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(bay, "scene.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list struct{ Parts []struct{ Name, Role string } }
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	ours := map[string]string{ // their word -> ours, where they differ
		"driveline": "half-shaft", "subframe": "suspension", "accessory": "engine",
		"oil_tank": "oil tank", "oil_filter": "engine", "firewall": "firewall", "deck_lid": "deck", "hose_fuel": "hose",
		"battery": RoleOther, "ecu": "sensor",
	}
	for _, p := range list.Parts {
		want := p.Role
		for _, key := range []string{p.Role, p.Name} {
			if w, ok := ours[key]; ok {
				want = w
			}
		}
		if got := roleOf(p.Name); got.value != want {
			t.Errorf("%s: %s (%s), want %s", p.Name, got.value, got.why, want)
		}
	}
}

func TestRoles(t *testing.T) {
	for name, want := range map[string]string{
		"EngineBlock": "engine", "ENGINE_V10": "engine", "engine-mount-LH": "mount", "exhaust heat shield": "shield",
		"oil_tank_v2": "oil tank", "Tank": "oil tank?", "fuel tank": "fuel", "coolant header tank": "coolant", "coil spring": "suspension",
		"Coils": "coil", "coil_harness": "harness", "brake_hose": "hose", "fuelline": "other?", "fuel line": "fuel", "rear deck lid": "deck",
		"exhaust manifold": "exhaust", "intake manifold": "intake", "manifold": "exhaust?", "halfshaftLeft": "half-shaft", "CV_boot": "half-shaft",
		"catalogue": "other?", "": "other?", "42": "other?", "Getriebe": "other?",
	} {
		got := roleOf(name)
		text := got.value
		if !got.sure {
			text += "?"
		}
		if text != want || got.why.IsZero() {
			t.Errorf("%q: %s (%s), want %s", name, text, got.why, want)
		}
	}
	seen := map[string]bool{}
	for _, w := range words {
		if seen[w.text] || w.weight <= 0 || strings.Join(wordsOf(w.text), " ") != w.text || !slices.Contains(layout.Roles(), w.role) {
			t.Errorf("word %+v", w)
		}
		seen[w.text] = true
	}
	for role, s := range usual {
		if s.leastMM <= 0 || s.mostMM <= s.leastMM || role != RoleOther && !slices.Contains(layout.Roles(), role) {
			t.Errorf("%s: %+v", role, s)
		}
	}
	for _, unit := range meshUnits {
		if !(factor(unit) > 0) {
			t.Errorf("unit %s", unit)
		}
	}
}

// TestUnits: sets of parts as they come in every unit, ? where it isn't sure. The sizes are invented,
// those of single parts usual.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		name  string
		roles []string
		sides []float64
		want  string // ? where it isn't sure
	}{
		{"mm", []string{"engine", "coil", "exhaust"}, []float64{620, 110, 900}, "mm mm mm"},
		{"m", []string{"engine", "coil", "exhaust"}, []float64{0.62, 0.11, 0.9}, "m m m"},
		{"inches", []string{"engine", "coil", "exhaust", "wheel"}, []float64{24.4, 4.3, 35.4, 26}, "in? in? in? in?"},
		{"cm", []string{"engine", "firewall", "half-shaft", "wheel"}, []float64{62, 150, 60, 66}, "cm? cm? cm? cm?"},
		{"one coil in mm", []string{"coil"}, []float64{110}, "mm"},
		{"one engine of 1.2", []string{"engine"}, []float64{1.15}, "m"},
		{"told apart by nothing", []string{"engine"}, []float64{30}, "in?"},
		{"one of another unit", []string{"engine", "exhaust", "deck", "coil"}, []float64{620, 900, 1400, 0.11}, "mm mm mm m?"},
	} {
		var got []string
		for _, g := range unitsOf(c.roles, c.sides) {
			word := g.value
			if !g.sure {
				word += "?"
			}
			got = append(got, word)
			if !strings.HasPrefix(g.why.String(), "largest side ") {
				t.Errorf("%s: %s", c.name, g.why)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: got %v, want %s", c.name, got, c.want)
		}
	}
}

// TestUnitsOfTheBay: the whole bay, written in any unit, is recognised. Inches
// and centimetres are too near each other to be sure of.
func TestUnitsOfTheBay(t *testing.T) {
	p, err := Propose(t.Context(), []string{bay}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, unit := range meshUnits {
		var roles []string
		var sides []float64
		for i := range p.Parts {
			roles, sides = append(roles, p.Parts[i].Role), append(sides, largest(p.Parts[i].sides)/factor(unit))
		}
		for i, g := range unitsOf(roles, sides) {
			if g.value != unit || g.sure != (unit == "mm" || unit == "m") {
				t.Fatalf("%s in %s: %s, sure %v: %s", p.Parts[i].Name, unit, g.value, g.sure, g.why)
			}
		}
	}
}

// TestGather: a folder as a supplier sends it, and what is made of it.
func TestGather(t *testing.T) {
	src := filepath.Join(t.TempDir(), "Rear bay")
	stl(t, filepath.Join(src, "engine_block.STL"), 600)
	stl(t, filepath.Join(src, "left", "coil.stl"), 110)
	stl(t, filepath.Join(src, "right", "Coil.stl"), 111)
	stl(t, filepath.Join(src, "in metres", "deck.stl"), 1.5)
	put(t, filepath.Join(src, "broken.stl"), "solid")
	put(t, filepath.Join(src, "readme.txt"), "no mesh")
	put(t, filepath.Join(src, ".hidden", "x.stl"), "no mesh")
	put(t, filepath.Join(src, "__MACOSX", "._coil.stl"), "rubbish")
	outside := filepath.Join(t.TempDir(), "outside.stl")
	stl(t, outside, 500)
	if err := errors.Join(os.Symlink(outside, filepath.Join(src, "link.stl")), os.Symlink(filepath.Dir(outside), filepath.Join(src, "linked"))); err != nil {
		t.Fatal(err)
	}
	p, err := Propose(t.Context(), []string{src, filepath.Join(src, "left", "coil.stl"), filepath.Join(src, "readme.txt")}, Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for i := range p.Parts {
		q := &p.Parts[i]
		got = append(got, fmt.Sprintf("%s/%s/%s %.0f", q.Name, q.Role, q.Unit, q.SidesMM()[0]))
	}
	want := []string{"engine block/engine/mm 600", "deck/deck/m 1500", "coil/coil/mm 110", "Coil 2/coil/mm 111"}
	if !reflect.DeepEqual(got, want) || p.Title != "Rear bay" {
		t.Errorf("title %q, parts %q", p.Title, got)
	}
	left := fmt.Sprint(p.Left)
	for _, word := range []string{"readme.txt no STL file", "link.stl a link: put the file itself there", "broken.stl"} {
		if !strings.Contains(left, word) {
			t.Errorf("left %s, want %s", left, word)
		}
	}

	target := filepath.Join(t.TempDir(), "new", "layout")
	if err := p.Write(t.Context(), target); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(target)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	files := []string{"meshes/Coil-2.stl", "meshes/coil.stl", "meshes/deck.stl", "meshes/engine_block.stl"}
	if !reflect.DeepEqual(doc.Files(), files) || doc.Parts[1].MeshUnit != "m" || doc.Parts[0].MeshUnit != "" {
		t.Errorf("files %q, units %q %q", doc.Files(), doc.Parts[1].MeshUnit, doc.Parts[0].MeshUnit)
	}
	if _, err := os.Stat(filepath.Join(target, layout.MeshesName)); err != nil {
		t.Error(err)
	}
	if err := p.Write(t.Context(), target); err == nil || !strings.Contains(err.Error(), "a layout stands there already; name a new folder, or open that layout") {
		t.Errorf("written twice: %v", err)
	}
	stl(t, filepath.Join(src, "engine_block.STL"), 700)
	if err := p.Write(t.Context(), target+"2"); err == nil || !strings.Contains(err.Error(), "has changed since it was looked at") {
		t.Errorf("changed meanwhile: %v", err)
	}
}

// TestGatherInPlace: a folder becomes a layout where it is; its files stay.
func TestGatherInPlace(t *testing.T) {
	dir := t.TempDir()
	stl(t, filepath.Join(dir, "stl", "block.stl"), 600)
	stl(t, filepath.Join(dir, `odd\name.stl`), 300)
	p, err := Propose(t.Context(), []string{dir}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	p.Parts[0].Role, p.Parts[0].Name = "engine", "renamed"
	if err := p.Write(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if got := doc.Files(); !reflect.DeepEqual(got, []string{"meshes/odd_name.stl", "stl/block.stl"}) || doc.Parts[0].Name != "renamed" {
		t.Errorf("files %q, name %q", got, doc.Parts[0].Name)
	}
}

func TestGatherRefuses(t *testing.T) {
	empty := t.TempDir()
	point := filepath.Join(t.TempDir(), "point.stl")
	stl(t, point, 0)
	for _, c := range []struct {
		paths []string
		want  string
	}{
		{[]string{filepath.Join(empty, "gone")}, "there is no such file or folder; check the name"},
		{[]string{empty}, ErrNothing.Error()},
		{[]string{point}, "all its corners are one point"},
	} {
		if p, err := Propose(t.Context(), c.paths, Options{}); p != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.paths, err)
		}
	}
	good := filepath.Join(t.TempDir(), "a.stl")
	stl(t, good, 100)
	p, err := Propose(t.Context(), []string{good}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	target := t.TempDir()
	put(t, filepath.Join(target, "meshes", "a.stl"), "precious")
	if err := p.Write(t.Context(), target); err == nil || !strings.Contains(err.Error(), "another file of this name is there already; name a new folder") {
		t.Errorf("over another file: %v", err)
	}
	if data, err := os.ReadFile(filepath.Join(target, "meshes", "a.stl")); err != nil || string(data) != "precious" {
		t.Error("overwritten")
	}
	if err := p.Write(t.Context(), "x.aftbay"); err == nil || !strings.Contains(err.Error(), "name a folder") {
		t.Errorf("packed: %v", err)
	}
	p.Parts[0].Name = " "
	if err := p.Write(t.Context(), filepath.Join(t.TempDir(), "n")); err == nil || !strings.Contains(err.Error(), "leave out spaces at the ends") {
		t.Errorf("a name of one space: %v", err)
	}
}

func TestNames(t *testing.T) {
	long := strings.Repeat("é", 500) + ".stl"
	for file, want := range map[string]string{
		"a_b.stl": "a b|a_b", "a  b\n.STL": "a b|a  b_", " .stl": "part|part", "....stl": "...|part", "x\xff.stl": "x|x_", "<a>.stl": "<a>|_a_",
		long: strings.Repeat("é", maxName) + "|" + strings.Repeat("é", maxName),
	} {
		if got := nameOf(file) + "|" + fileOf(file); got != want {
			t.Errorf("%q: %q, want %q", file, got, want)
		}
		if err := layout.CheckPath(meshDir + "/" + fileOf(file) + ".stl"); err != nil {
			t.Error(err)
		}
	}
	if m := misfit("coil", 25); math.Abs(m-math.Log(30.0/25)) > 1e-15 {
		t.Error(m)
	}
}

func TestUnique(t *testing.T) {
	names := taken{}
	var got []string
	for _, name := range []string{"coil", "Coil", "coil 2", "coil", "coil 3", "coil", "lid"} {
		got = append(got, names.unique(name, " ", ""))
	}
	want := []string{"coil", "Coil 2", "coil 2 2", "coil 3", "coil 3 2", "coil 4", "lid"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q", got)
	}
	for i := range MaxFiles { // ten thousand files of one name: each is tried once
		if name := names.unique("x", "-", ".stl"); i > 0 && name != fmt.Sprintf("x-%d.stl", i+1) {
			t.Fatalf("%d: %s", i, name)
		}
	}
}
