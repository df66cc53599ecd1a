package desk

import (
	"fmt"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// BenchmarkEditor works on a layout of a thousand parts and as many rules: taking
// a new document in and laying out a part's form, which the window waits for, and
// checking what is typed, which goes on beside.
func BenchmarkEditor(b *testing.B) {
	doc := &layout.Document{Format: layout.Format, Version: layout.Version, Title: "many"}
	for i := range 1000 {
		mass := float64(i)
		doc.Parts = append(doc.Parts, layout.Part{
			Name: fmt.Sprint("part ", i), Role: "sensor", Mesh: "lid.stl", MoveMM: geom.Vec{1, 2, float64(i)}, MassKg: &mass, Material: "EPDM rubber",
			LimitDegC: &layout.Limit{ContinuousDegC: &mass}, Thermal: &layout.Thermal{PowerW: 3},
		})
		doc.Rules = append(doc.Rules, layout.Rule{A: fmt.Sprint("part:part ", i), B: "*", LeastMM: 5, Source: "a source"})
	}
	other := *doc
	docs := [2]*layout.Document{doc, &other}
	b.Run("form", func(b *testing.B) {
		var e Editor
		e.See(doc)
		e.Open("/parts/500")
		for k := 0; b.Loop(); k++ {
			f := e.Form(&State{Open: true, Doc: docs[k%2]})
			if len(f.Items) < 15 {
				b.Fatal("no form")
			}
		}
	})
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			must(b, CheckChanges(doc, Change{"/parts/500/mass_kg", 2.0}))
		}
	})
}
