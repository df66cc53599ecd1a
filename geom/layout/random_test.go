package layout

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// numbers and words that a codec may stumble over.
func nastyNumbers() []float64 {
	return []float64{0, math.Copysign(0, -1), 0.1, 1.0 / 3, 1e-7, 5e-324, 1e6, 123456.789, 0.30000000000000004, 1 - 1e-16, 99999.999999999985, -1e-300, 20, 1}
}

func nastyWords() []string {
	return []string{"", "a", "é", "e\u0301", "<&>", "\u2028", "\\", "\"", "a/b~c", "漢字", "\U0001f697", "\ufeff", "ß ẞ", "𝟙", "line\nbreak", "tab\t", "role:x", "null", "1e5", "\ufffd"}
}

// changesOf is what can be changed in a document: numbers, texts, the length of
// lists and what may be absent.
type changesOf struct{ list []func(*rand.Rand) }

func (c *changesOf) walk(v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		c.list = append(c.list, func(r *rand.Rand) { v.SetFloat(pick(r, nastyNumbers())) })
	case reflect.String:
		c.list = append(c.list, func(r *rand.Rand) { v.SetString(pick(r, nastyWords())) })
	case reflect.Int, reflect.Uint64:
		c.list = append(c.list, func(r *rand.Rand) { v.SetZero() })
	case reflect.Pointer:
		if !v.IsNil() {
			c.walk(v.Elem())
			c.list = append(c.list, func(r *rand.Rand) { v.SetZero() })
		}
	case reflect.Slice:
		c.list = append(c.list, func(r *rand.Rand) { v.SetLen(r.IntN(v.Len() + 1)) })
		for i := range v.Len() {
			c.walk(v.Index(i))
		}
	case reflect.Array:
		for i := range v.Len() {
			c.walk(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			c.walk(v.Field(i))
		}
	}
}

func pick[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// TestRandomDocuments: whatever passes the checks is written, read as the same
// document and written as the same bytes.
func TestRandomDocuments(t *testing.T) {
	accepted := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		doc, err := Decode(maximal(t), "maximal.json")
		if err != nil {
			t.Fatal(err)
		}
		var all changesOf
		all.walk(reflect.ValueOf(doc).Elem())
		for range 1 + r.IntN(4) {
			pick(r, all.list)(r)
		}
		first, err := Encode(doc)
		if err != nil {
			t.Fatal(err)
		}
		read, err := Decode(first, "random")
		if err != nil {
			faultsOf(t, err)
			continue
		}
		accepted++
		second, err := Encode(read)
		if err != nil || string(first) != string(second) {
			t.Fatalf("seed %d: %v\n%s", seed, err, firstDifference(string(first), string(second)))
		}
		again, err := Decode(second, "again")
		if err != nil || !reflect.DeepEqual(read, again) {
			t.Fatalf("seed %d: read as another document: %v", seed, err)
		}
	}
	if accepted < 100 {
		t.Errorf("only %d of 400 documents passed the checks", accepted)
	}
}
