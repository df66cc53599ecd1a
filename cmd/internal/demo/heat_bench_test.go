package demo

import (
	"context"
	"testing"

	"aftbay/thermal/balance"
)

func BenchmarkHeatOfBramble(b *testing.B) {
	s := stage(b, BrambleB)
	for b.Loop() {
		if _, err := balance.Run(context.Background(), s, balance.Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCoarseHeatOfBramble(b *testing.B) {
	s := stage(b, BrambleB)
	for b.Loop() {
		if _, err := balance.Run(context.Background(), s, balance.Options{Coarse: true}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
