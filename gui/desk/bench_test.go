package desk

import (
	"fmt"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// BenchmarkNudge moves a part of a layout of a hundred parts by hand: looked at
// only, and with the journal written ahead of each step.
func BenchmarkNudge(b *testing.B) {
	dir := plainLayout(b)
	doc, folder, err := layout.Open(dir)
	must(b, err)
	must(b, folder.Close())
	for i := range 100 {
		doc.Parts = append(doc.Parts, layout.Part{Name: fmt.Sprint("part ", i), Role: "sensor", Mesh: "lid.stl", MoveMM: geom.Vec{0, 0, float64(i)}})
	}
	must(b, layout.Save(dir, doc))
	for _, c := range []struct {
		name string
		open func(d *Desk) error
	}{
		{"looked at", func(d *Desk) error { return d.Open(b.Context(), dir) }},
		{"at work", func(d *Desk) error { return d.OpenToWork(b.Context(), dir, PutAside) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			d := bareDesk(b)
			must(b, c.open(d))
			d.Cancel()
			for b.Loop() {
				must(b, d.Nudge([]string{"lid"}, geom.Vec{0.1, 0, 0}, true))
			}
			must(b, d.Close())
		})
	}
}
