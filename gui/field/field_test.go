package field

import (
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"

	"aftbay/assets"
	"aftbay/geom/layout"
)

// maximal returns a layout that uses every key, and its values.
func maximal(t testing.TB) (*layout.Document, any) {
	t.Helper()
	data, err := os.ReadFile("../../geom/layout/testdata/maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := layout.Decode(data, "maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	tree, err := Tree(doc)
	if err != nil {
		t.Fatal(err)
	}
	return doc, tree
}

// TestEveryKeyIsDescribed walks the schema: each of its keys has a description
// with a label in words, a help line, and a unit where its key says one.
func TestEveryKeyIsDescribed(t *testing.T) {
	var schema map[string]any
	if err := json.Unmarshal([]byte(assets.LayoutSchema), &schema); err != nil {
		t.Fatal(err)
	}
	defs := schema["$defs"].(map[string]any)
	follow := func(s map[string]any) map[string]any {
		if ref, ok := s["$ref"].(string); ok {
			return defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		}
		return s
	}
	keys := 0
	var walk func(path string, s map[string]any)
	walk = func(path string, s map[string]any) {
		s = follow(s)
		if items, ok := s["items"].(map[string]any); ok && follow(items)["properties"] != nil {
			walk(path+"/"+Last, items)
		}
		properties, _ := s["properties"].(map[string]any)
		for key, p := range properties {
			at := path + "/" + key
			if at == "/format" || at == "/version" {
				continue // what the file is, not what it says
			}
			keys++
			f := At(at)
			if f == nil {
				t.Errorf("%s cannot be edited", at)
				continue
			}
			if f.Label == "" || strings.Contains(f.Label, "_") || f.Help == "" {
				t.Errorf("%s: label %q, help %q", at, f.Label, f.Help)
			}
			if i := strings.LastIndexByte(key, '_'); i > 0 && unitOf(key) != "" && f.Unit == "" && f.Kind != Object {
				t.Errorf("%s has no unit", at)
			}
			walk(at, p.(map[string]any))
		}
	}
	walk("", schema)
	if keys < 200 {
		t.Errorf("only %d keys were met", keys)
	}
}

// eachPlain visits every plain value that a layout can have, given or not, of
// the items that it has.
func eachPlain(s *Spec, tree any, path string, do func(s *Spec, path string)) {
	switch {
	case s.Plain():
		do(s, path)
	case s.Kind == Object:
		for _, f := range s.Fields {
			eachPlain(f, tree, path+"/"+f.Key, do)
		}
	default:
		items, _ := Get(tree, path).([]any)
		for i := range items {
			eachPlain(s.Of, tree, path+"/"+stepOf(i), do)
		}
	}
}

// TestTextsAreReadBack: what an editor shows of any value is read as that value.
func TestTextsAreReadBack(t *testing.T) {
	_, tree := maximal(t)
	met := 0
	eachPlain(Root(), tree, "", func(s *Spec, path string) {
		value := Get(tree, path)
		got, err := Parse(s, Texts(s, value))
		if err != nil {
			t.Errorf("%s: %v", path, err)
		}
		if value != nil {
			met++
		}
		if !same(got, value) {
			t.Errorf("%s: %v is shown as %q and read as %v", path, value, Texts(s, value), got)
		}
	})
	if met < 150 {
		t.Errorf("only %d values were met", met)
	}
}

// same compares values, numbers by what they are.
func same(a, b any) bool {
	na, ok := a.(json.Number)
	nb, also := b.(json.Number)
	if ok && also {
		fa, _ := na.Float64()
		fb, _ := nb.Float64()
		return fa == fb
	}
	la, ok := a.([]any)
	lb, also := b.([]any)
	if ok && also && len(la) == len(lb) {
		for i := range la {
			if !same(la[i], lb[i]) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a, b)
}

// TestSetAndTakeOut: setting every value of the maximal layout into an empty one
// gives it again; taking each out again leaves the empty one.
func TestSetAndTakeOut(t *testing.T) {
	_, tree := maximal(t)
	got := any(map[string]any{})
	var paths []string
	eachPlain(Root(), tree, "", func(s *Spec, path string) {
		value := Get(tree, path)
		if value == nil || value == "" {
			return
		}
		var err error
		if got, err = Set(got, path, value); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	})
	was, _ := json.Marshal(tree)
	now, _ := json.Marshal(got)
	var a, b any
	_, _ = json.Unmarshal(was, &a), json.Unmarshal(now, &b)
	delete(a.(map[string]any), "format")
	delete(a.(map[string]any), "version")
	if !reflect.DeepEqual(a, b) {
		t.Errorf("set value by value:\n%s\nwant\n%s", now, was)
	}
	before := got
	for _, path := range paths {
		after := mustSet(t, got, path, nil)
		if s := At(parentPath(path)); Get(after, path) != nil && !s.pair() {
			t.Errorf("%s is still there", path)
		}
	}
	if !reflect.DeepEqual(before, got) {
		t.Error("the given tree was changed")
	}
}

func parentPath(path string) string {
	parent, _ := Parent(path)
	return parent
}

func mustSet(t *testing.T, tree any, path string, value any) any {
	t.Helper()
	out, err := Set(tree, path, value)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		path, typed, want, fault string
	}{
		{"/parts/-/mass_kg", "350 g", "0.35", ""},
		{"/parts/-/tolerance_mm", "1 in", "25.4", ""}, // exact by definition: NIST SP 811, B.6
		{"/parts/-/tolerance_mm", "1,5", "1.5", ""},
		{"/parts/-/thermal/film_W_m2K", "12 W/m2K", "12", ""},
		{"/parts/-/thermal/film_W_m2K", "12 W/(m²·K)", "12", ""},
		{"/parts/-/thermal/film_W_m2K", "twelve", "", "is not a number"},
		{"/parts/-/limit_degC/peak", "423.15 K", "150", ""}, // 273.15 K: definition of the Celsius temperature
		{"/parts/-/limit_degC/peak", "-300", "", "absolute zero"},
		{"/parts/-/growth/per_K", "1.78e-5", "1.78e-05", ""},
		{"/heat/rays", "1.5", "", "whole number"},
		{"/heat/seed", "18446744073709551615", "18446744073709551615", ""},
		{"/parts/-/mesh_unit", "inch", "", "none of"},
		{"/drop/range_mm", "", "", ""},
	} {
		s := At(c.path)
		got, err := Parse(s, []string{c.typed})
		switch {
		case c.fault != "" && (err == nil || !strings.Contains(err.Error(), c.fault)):
			t.Errorf("%s %q: %v, want a fault with %q", c.path, c.typed, err, c.fault)
		case c.fault == "" && err != nil:
			t.Errorf("%s %q: %v", c.path, c.typed, err)
		case c.want != "" && got != json.Number(c.want):
			t.Errorf("%s %q: %v, want %s", c.path, c.typed, got, c.want)
		}
	}
	points := At("/routes/-/points_mm")
	for _, typed := range []string{"1 2 3\n4,5 5 6", "1, 2, 3\n4.5; 5; 6", "1,2,3\n4.5\t5\t6\n"} {
		got, err := Parse(points, []string{typed})
		want := []any{[]any{json.Number("1"), json.Number("2"), json.Number("3")}, []any{json.Number("4.5"), json.Number("5"), json.Number("6")}}
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %v %v", typed, got, err)
		}
	}
	if _, err := Parse(points, []string{"1 2"}); err == nil || !strings.Contains(err.Error(), "line 1 has 2 numbers") {
		t.Errorf("two numbers: %v", err)
	}
	if _, err := Parse(At("/half_shafts/-/inner_mm"), []string{"1", "", "3"}); err == nil || !strings.Contains(err.Error(), "y is empty") {
		t.Errorf("a missing coordinate: %v", err)
	}
	if got, err := Parse(At("/parts/-/move_mm"), []string{"1", "", ""}); err != nil || !reflect.DeepEqual(got, []any{json.Number("1"), json.Number("0"), json.Number("0")}) {
		t.Errorf("a pose that is 0 where it is empty: %v %v", got, err)
	}
}

// TestRenaming: a new name of any part or group leaves a layout that passes all
// checks, and the old name nowhere.
func TestRenaming(t *testing.T) {
	doc, tree := maximal(t)
	type named struct{ kind, path, name string }
	var all []named
	for i := range doc.Parts {
		all = append(all, named{"part", "/parts/" + stepOf(i) + "/name", doc.Parts[i].Name})
	}
	for i := range doc.Routes {
		all = append(all, named{"part", "/routes/" + stepOf(i) + "/name", doc.Routes[i].Name})
	}
	for i := range doc.Groups {
		all = append(all, named{"group", "/groups/" + stepOf(i) + "/name", doc.Groups[i].Name})
	}
	for i := range doc.Heat.Cases {
		all = append(all, named{"case", "/heat/cases/" + stepOf(i) + "/name", doc.Heat.Cases[i].Name})
	}
	for i := range doc.Vehicle.Attitudes {
		all = append(all, named{"attitude", "/vehicle/attitudes/" + stepOf(i) + "/name", doc.Vehicle.Attitudes[i].Name})
	}
	uses := 0
	for _, n := range all {
		uses += len(Uses(tree, n.kind, n.name))
		next, err := Renamed(tree, n.kind, n.name, "quite new")
		if err != nil {
			t.Fatal(err)
		}
		data, _ := json.Marshal(mustSet(t, next, n.path, "quite new"))
		if _, misfits, err := layout.Read(data); err != nil || len(misfits) > 0 {
			t.Errorf("%s %q renamed: %v %v", n.kind, n.name, misfits, err)
		}
		if left := Uses(next, n.kind, n.name); len(left) > 0 {
			t.Errorf("%s %q is still named at %v", n.kind, n.name, left)
		}
	}
	if uses < 10 {
		t.Errorf("only %d names were met", uses)
	}
}
