package field

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"

	"aftbay/assets"
	"aftbay/geom/layout"
)

// Root describes the whole layout.
func Root() *Spec { return root() }

// root is made on first use. Read-only.
var root = sync.OnceValue(func() *Spec {
	var schema map[string]any
	if err := json.Unmarshal([]byte(assets.LayoutSchema), &schema); err != nil {
		panic(fmt.Sprintf("the embedded schema: %v", err)) // tested
	}
	r := reader{defs: schema["$defs"].(map[string]any)}
	s := r.spec("", reflect.TypeFor[layout.Document](), schema, "")
	s.each(told)
	return s
})

// reader walks types and schema side by side; that they agree is tested in
// package layout.
type reader struct{ defs map[string]any }

// follow returns a schema with its reference resolved: what stands beside the
// reference wins.
func (r *reader) follow(s map[string]any) map[string]any {
	ref, ok := s["$ref"].(string)
	if !ok {
		return s
	}
	out := map[string]any{}
	for k, v := range r.defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any) {
		out[k] = v
	}
	for k, v := range s {
		out[k] = v
	}
	return out
}

// spec describes a value. unit is that of the object around it.
func (r *reader) spec(key string, goType reflect.Type, schema map[string]any, unit string) *Spec {
	schema = r.follow(schema)
	s := &Spec{Key: key, Label: labelOf(key, schema), Unit: unitOf(key), Help: textAt(schema, "description")}
	s.Refers, s.Defines = textAt(schema, "x-refers"), textAt(schema, "x-defines")
	if s.Unit == "" {
		s.Unit = unit
	}
	s.Zero = goType.Kind() == reflect.Float64 || goType.Kind() == reflect.Array
	for goType.Kind() == reflect.Pointer {
		goType = goType.Elem()
	}
	switch goType.Kind() {
	case reflect.String:
		s.Kind = Text
		if key == "notes" {
			s.Kind = Long
		}
	case reflect.Float64:
		s.Kind = Number
	case reflect.Int, reflect.Uint64:
		s.Kind = Whole
	case reflect.Struct:
		r.object(s, goType, schema)
	case reflect.Array, reflect.Slice:
		r.list(s, goType, schema)
	}
	for _, v := range listAt(schema, "enum") {
		if text, ok := v.(string); ok && text != "" {
			s.Kind, s.Choices = Choice, append(s.Choices, text)
		}
	}
	if s.Plain() && s.Kind != Number && s.Kind != Numbers && s.Kind != Points {
		s.Unit = ""
	}
	return s
}

// object describes the fields of an object.
func (r *reader) object(s *Spec, goType reflect.Type, schema map[string]any) {
	s.Kind = Object
	properties, _ := schema["properties"].(map[string]any)
	for i := range goType.NumField() {
		key, _, _ := strings.Cut(goType.Field(i).Tag.Get("json"), ",")
		property, ok := properties[key].(map[string]any)
		if !ok || property["const"] != nil { // format and version are not for editing
			continue
		}
		f := r.spec(key, goType.Field(i).Type, property, s.Unit)
		for _, k := range listAt(schema, "required") {
			f.Required = f.Required || k == key
		}
		f.Zero = f.Zero && !f.Required
		s.Fields = append(s.Fields, f)
	}
}

// list describes a list by what stands in it.
func (r *reader) list(s *Spec, goType reflect.Type, schema map[string]any) {
	items := map[string]any{}
	if of, ok := schema["items"].(map[string]any); ok {
		items = r.follow(of)
	}
	of := r.spec("", goType.Elem(), items, s.Unit)
	switch {
	case of.Kind == Number && goType.Kind() == reflect.Array:
		s.Kind, s.Parts = Numbers, partsOf(s, goType)
	case of.Kind == Text && goType.Kind() == reflect.Array: // two names that belong together
		s.Kind = Object
		for i := range goType.Len() {
			one := *of
			one.Key, one.Label, one.Required = fmt.Sprint(i), []string{"first", "second"}[i%2]+" part", true
			s.Fields = append(s.Fields, &one)
		}
	case of.Kind == Text:
		s.Kind, s.Of = Lines, of
	case of.Kind == Numbers:
		s.Kind, s.Of = Points, of
	default:
		s.Kind, s.Of, s.One = List, of, singular(s)
	}
}

// partsOf names the numbers of a list of fixed length.
func partsOf(s *Spec, goType reflect.Type) []string {
	switch n := goType.Len(); {
	case goType == reflect.TypeFor[layout.Range]():
		return []string{"least", "most"}
	case n == 2:
		return []string{"x", "y"}
	case s.Key == "emissivity":
		return []string{"low", "typical", "high"}
	case n == 3:
		return []string{"x", "y", "z"}
	default:
		names := make([]string, n)
		for i := range names {
			names[i] = fmt.Sprint(i + 1)
		}
		return names
	}
}

func textAt(schema map[string]any, key string) string {
	text, _ := schema[key].(string)
	return text
}

func listAt(schema map[string]any, key string) []any {
	list, _ := schema[key].([]any)
	return list
}
