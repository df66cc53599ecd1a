package layout

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"aftbay/assets"
)

// TestSchemaAndTypesAgree walks the Go types and the schema side by side: the
// same keys, the same kinds, required exactly where Go always writes the key,
// notes everywhere, and no way in for unknown keys.
func TestSchemaAndTypesAgree(t *testing.T) {
	var root map[string]any
	if err := json.Unmarshal([]byte(assets.LayoutSchema), &root); err != nil {
		t.Fatal(err)
	}
	w := schemaWalk{t: t, defs: root["$defs"].(map[string]any), met: map[string]bool{}}
	w.agree("layout", reflect.TypeFor[Document](), root)
	for name := range w.defs {
		if !w.met[name] {
			t.Errorf("$defs/%s is used by no Go type", name)
		}
	}
}

type schemaWalk struct {
	t    *testing.T
	defs map[string]any
	met  map[string]bool
}

// follow resolves a $ref.
func (w *schemaWalk) follow(s map[string]any) map[string]any {
	ref, ok := s["$ref"].(string)
	if !ok {
		return s
	}
	name := strings.TrimPrefix(ref, "#/$defs/")
	w.met[name] = true
	return w.defs[name].(map[string]any)
}

func (w *schemaWalk) agree(place string, goType reflect.Type, s map[string]any) {
	s = w.follow(s)
	goType = plainType(goType)
	if s["enum"] != nil || s["const"] != nil {
		if k := goType.Kind(); k != reflect.String && k != reflect.Int {
			w.t.Errorf("%s: a choice in the schema, %v in Go", place, goType)
		}
		return
	}
	want := map[reflect.Kind]string{
		reflect.Struct: "object", reflect.Slice: "array", reflect.Array: "array", reflect.String: "string",
		reflect.Float64: "number", reflect.Int: "integer", reflect.Uint64: "integer",
	}[goType.Kind()]
	if got := kindsOf(s); !slices.Contains(got, want) {
		w.t.Errorf("%s: schema says %v, Go says %s", place, got, want)
		return
	}
	switch goType.Kind() {
	case reflect.Slice, reflect.Array:
		if n := s["minItems"]; goType.Kind() == reflect.Array && (n != float64(goType.Len()) || s["maxItems"] != n) {
			w.t.Errorf("%s: %d values in Go, the schema says %v to %v", place, goType.Len(), n, s["maxItems"])
		}
		w.agree(place+"[]", goType.Elem(), s["items"].(map[string]any))
	case reflect.Struct:
		w.object(place, goType, s)
	}
}

func (w *schemaWalk) object(place string, goType reflect.Type, s map[string]any) {
	if s["additionalProperties"] != false {
		w.t.Errorf("%s: the schema lets unknown keys in", place)
	}
	properties := s["properties"].(map[string]any)
	required, _ := s["required"].([]any)
	if properties["notes"] == nil {
		w.t.Errorf("%s: no notes", place)
	}
	for i := range goType.NumField() {
		f := goType.Field(i)
		key := keyOf(f)
		p, ok := properties[key].(map[string]any)
		if !ok {
			w.t.Errorf("%s: the schema has no key %q", place, key)
			continue
		}
		always := !strings.Contains(f.Tag.Get("json"), ",omit")
		if always != slices.Contains(required, any(key)) {
			w.t.Errorf("%s.%s: always written %v, required %v", place, key, always, !always)
		}
		// What may be absent may be null, what is required may not.
		if followed := w.follow(p); followed["const"] == nil {
			null := slices.Contains(kindsOf(followed), "null")
			if choices, ok := followed["enum"].([]any); ok {
				null = slices.Contains(choices, nil)
			}
			if null == always {
				w.t.Errorf("%s.%s: required %v, null allowed %v", place, key, always, null)
			}
		}
		w.agree(place+"."+key, f.Type, p)
	}
	known := keysOf(goType)
	for key := range properties {
		if slices.Contains(known, key) {
			continue
		}
		w.t.Errorf("%s: Go has no key %q", place, key)
	}
}

// kindsOf returns the types that a schema allows.
func kindsOf(s map[string]any) []string {
	switch v := s["type"].(type) {
	case string:
		return []string{v}
	case []any:
		var list []string
		for _, one := range v {
			list = append(list, one.(string))
		}
		return list
	}
	return nil
}

// TestMaximalUsesEveryKey: the round trip means little for keys that the file
// doesn't use.
func TestMaximalUsesEveryKey(t *testing.T) {
	doc, err := Decode(maximal(t), "maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	collect(reflect.ValueOf(*doc), used)
	// Stand in place of r_point_mm and aim.
	used["RearView.EyesMM"], used["Mirror.Normal"] = true, true
	var check func(goType reflect.Type)
	check = func(goType reflect.Type) {
		switch goType = plainType(goType); goType.Kind() {
		case reflect.Slice, reflect.Array:
			check(goType.Elem())
		case reflect.Struct:
			for i := range goType.NumField() {
				f := goType.Field(i)
				if key := goType.Name() + "." + f.Name; !used[key] {
					t.Errorf("%s isn't used", key)
				}
				check(f.Type)
			}
		}
	}
	check(reflect.TypeFor[Document]())
}

// collect notes every field that isn't zero.
func collect(v reflect.Value, used map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			collect(v.Elem(), used)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			collect(v.Index(i), used)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Field(i).IsZero() {
				used[v.Type().Name()+"."+v.Type().Field(i).Name] = true
				collect(v.Field(i), used)
			}
		}
	}
}
