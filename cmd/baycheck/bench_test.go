package main

import (
	"testing"
	"time"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/rearview"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// brambleScene builds the demo with the first of its heat cases alone.
func brambleScene(b *testing.B) *scene.Scene {
	b.Helper()
	dir := b.TempDir()
	if err := demo.Write(dir, demo.BrambleB); err != nil {
		b.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	defer folder.Close()
	doc.Heat.Cases = doc.Heat.Cases[:1]
	s, err := scene.Build(b.Context(), doc, folder, nil, scene.Options{})
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// BenchmarkBramble is what an edit costs: every pair in every state, and one
// heat case at the layout's quality.
func BenchmarkBramble(b *testing.B) {
	s := brambleScene(b)
	for b.Loop() {
		if _, err := clearance.Run(b.Context(), s, clearance.Options{}, nil); err != nil {
			b.Fatal(err)
		}
		if _, err := balance.Run(b.Context(), s, balance.Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBrambleFit is the clearance alone.
func BenchmarkBrambleFit(b *testing.B) {
	s := brambleScene(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := clearance.Run(b.Context(), s, clearance.Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBrambleDrop is the drop study with all its limits.
func BenchmarkBrambleDrop(b *testing.B) {
	s := brambleScene(b)
	for b.Loop() {
		if _, err := drop.Run(b.Context(), s, drop.Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBrambleRearView is the whole answer: both rules, losses, heights,
// drivers and the mirror's helper; Quick what a drag costs.
func BenchmarkBrambleRearView(b *testing.B) {
	s := brambleScene(b)
	for _, quick := range []bool{false, true} {
		b.Run(map[bool]string{false: "whole", true: "quick"}[quick], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rearview.Run(b.Context(), s, rearview.Options{Quick: quick}, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkBrambleDropMap is the map of 41 by 41 places with its borders; the
// first picture of it is told apart.
func BenchmarkBrambleDropMap(b *testing.B) {
	s := brambleScene(b)
	var first time.Duration
	for b.Loop() {
		began, shown := time.Now(), 0
		show := func(*drop.Map) {
			if shown++; shown == 2 { // the first one that is more than a single colour
				first += time.Since(began)
			}
		}
		if _, err := drop.RunMap(b.Context(), s, drop.MapOptions{}, show, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(first.Milliseconds())/float64(b.N), "first-ms/op")
}
