package layout

import (
	"fmt"
	"testing"
)

// BenchmarkDecode reads a layout of a thousand parts with every key.
func BenchmarkDecode(b *testing.B) {
	doc, err := Decode(maximal(b), "maximal.json")
	if err != nil {
		b.Fatal(err)
	}
	for i := range 1000 {
		p := doc.Parts[0]
		p.Name = fmt.Sprint("part ", i)
		doc.Parts = append(doc.Parts, p)
	}
	data, err := Encode(doc)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Decode(data, "bench"); err != nil {
			b.Fatal(err)
		}
	}
}
