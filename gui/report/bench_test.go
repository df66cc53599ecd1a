package report

import (
	"bytes"
	"fmt"
	"image"
	"testing"

	"aftbay/geom"
	bodies "aftbay/geom/mesh/plain"
)

// largeModel is a packet of 500 findings of which 40 have pictures of full size
// with some noise, and of 300 parts with 2,000 triangles each.
func largeModel() *Model {
	m := richModel()
	m.Findings, m.Scene = nil, &Scene{}
	img := image.NewRGBA(image.Rect(0, 0, 1000, 640))
	for i := range img.Pix {
		// A shade that falls off, and the unrest of a real picture: some 400 kB packed.
		img.Pix[i] = uint8(200+i/4%1000/40-i/4/1000/20%7) ^ uint8((uint32(i)*2654435761)>>30)
	}
	for i := 3; i < len(img.Pix); i += 4 {
		img.Pix[i] = 255
	}
	shade := packed("shade", img, "shade")
	large := func(name string) *Picture {
		return &Picture{Name: name, Caption: "shade", PNG: bytes.Clone(shade.PNG), SizePx: shade.SizePx}
	}
	for i := range 500 {
		f := sampleFinding(i + 1)
		f.Picture, f.Section = nil, nil
		if i < 40 {
			f.Verdict = Short
			f.Picture, f.Section = large(fmt.Sprintf("big-%d", i)), large(fmt.Sprintf("big-%d-section", i))
		} else if f.Verdict.Fails() {
			f.Verdict = Close
		}
		m.Findings = append(m.Findings, f)
	}
	for i := range 300 {
		m.Scene.Bodies = append(m.Scene.Bodies, Body{Name: fmt.Sprintf("part %d", i), Role: "engine", Verdict: OK, Mesh: bodies.Sheet(32, 32, func(u, v float64) geom.Vec {
			return geom.Vec{float64(10*i) + 100*u, 100 * v, 20 * u * v}
		})})
	}
	return m
}

// BenchmarkPacket writes every file of a large packet.
func BenchmarkPacket(b *testing.B) {
	m := largeModel()
	for b.Loop() {
		if _, err := WritePacket(b.Context(), b.TempDir(), m, PDFOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
