package soak

import (
	"context"
	"math"
	"testing"

	"aftbay/thermal"
)

// BenchmarkSixtyParts follows a bay of 60 parts for 20 minutes after key-off:
// every part sees every other, a third is hot, masses from foil to block.
func BenchmarkSixtyParts(b *testing.B) {
	const n = 60
	net := &thermal.Network{FromAroundM2: make([]float64, n), EmitM2: make([]float64, n)}
	startK := make([]float64, n)
	for i := range n {
		capacityJK := 10 * math.Pow(10, 3.5*float64(i%7)/6)
		net.Nodes = append(net.Nodes, thermal.Node{Name: "part", CapacityJK: capacityJK, FilmAreaM2: 0.05, Film: film(1.4, 0.25)})
		row := make([]float64, n)
		for j := range row {
			row[j] = 0.03 / n
			net.EmitM2[i] += row[j]
		}
		net.FromM2, net.FromAroundM2[i] = append(net.FromM2, row), 0.01
		net.EmitM2[i] += net.FromAroundM2[i]
		startK[i] = 350
		if i%3 == 0 {
			startK[i] = 900
		}
	}
	around := func(timeS float64) thermal.Ambient {
		return thermal.Ambient{AirK: 320 + 30*math.Exp(-timeS/600), SurroundingsK: 320}
	}
	steps := 0
	for b.Loop() {
		c, err := Run(context.Background(), Case{Network: net, StartK: startK, EndS: 1200, Around: around})
		if err != nil {
			b.Fatal(err)
		}
		steps = len(c.TimesS)
	}
	b.ReportMetric(float64(steps), "steps")
}
