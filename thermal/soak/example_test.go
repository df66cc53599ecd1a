package soak_test

import (
	"context"
	"fmt"

	"aftbay/thermal"
	"aftbay/thermal/soak"
)

// A cool coil on a hot head warms after key-off, then cools with it.
func ExampleRun() {
	film := func(_, _ float64) float64 { return 7 }
	net := &thermal.Network{
		Nodes: []thermal.Node{
			{Name: "head", CapacityJK: 20000, FilmAreaM2: 0.4, Film: film},
			{Name: "coil", CapacityJK: 250, FilmAreaM2: 0.01, Film: film},
		},
		MountWK: [][]float64{{0, 0.3}, {0.3, 0}},
	}
	curve, err := soak.Run(context.Background(), soak.Case{
		Network: net, StartK: []float64{390, 350}, EndS: 3600,
		Around: func(float64) thermal.Ambient { return thermal.Ambient{AirK: 320} },
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	peak := curve.Peak(1)
	fmt.Printf("coil peaks at %.0f K after %.0f minutes\n", peak.TempK, peak.TimeS/60)
	// Output:
	// coil peaks at 367 K after 21 minutes
}
