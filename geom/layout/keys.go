package layout

import (
	"reflect"
	"strings"
)

// keysAt returns the keys that an object at a path may have, in file order.
func keysAt(path []string) []string {
	t := reflect.TypeFor[Document]()
	for _, step := range path {
		t = plainType(t)
		switch t.Kind() {
		case reflect.Slice, reflect.Array:
			t = t.Elem()
		case reflect.Struct:
			field, ok := fieldOf(t, step)
			if !ok {
				return nil
			}
			t = field.Type
		default:
			return nil
		}
	}
	if t = plainType(t); t.Kind() != reflect.Struct {
		return nil
	}
	return keysOf(t)
}

// keysOf returns the JSON keys of a struct, in its order.
func keysOf(t reflect.Type) []string {
	var keys []string
	for i := range t.NumField() {
		keys = append(keys, keyOf(t.Field(i)))
	}
	return keys
}

// keyOf returns the JSON key of a field.
func keyOf(f reflect.StructField) string {
	key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return key
}

func fieldOf(t reflect.Type, key string) (reflect.StructField, bool) {
	for i := range t.NumField() {
		if f := t.Field(i); keyOf(f) == key {
			return f, true
		}
	}
	return reflect.StructField{}, false
}

func plainType(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}
