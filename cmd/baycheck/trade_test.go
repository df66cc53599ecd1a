package main

import (
	"testing"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
	"aftbay/thermal/spot"
)

// coilDegC is the high end of the demo's coil in its worst case, for every
// coil on the cam covers and for every place found low on the block.
type coilDegC struct{ top, low []float64 }

// lowMM is below the middle of the block's sides.
const lowMM = 350

// coils looks for places of the coil wherever it stands flat and clear on the
// block, however hot, and returns them with the coils on top and their limit.
func coils(t *testing.T, v demo.Variant) (found coilDegC, limitDegC float64) {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir, v); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	limitDegC = *doc.Spots[0].LimitDegC.ContinuousDegC
	doc.Spots = doc.Spots[:1]
	doc.Spots[0].Hosts = []string{"part:block"}
	doc.Spots[0].LimitDegC, doc.Spots[0].ReachMM, doc.Spots[0].Tool = nil, nil, nil
	doc.Heat.Rays = new(128) // enough to tell which places are hotter
	s, err := scene.Build(t.Context(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	heat, err := balance.Run(t.Context(), s, balance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := spot.Search(t.Context(), s, heat, spot.Options{Most: 100, PointsPerHost: 200}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range r.Spots {
		if one.PointMM[2] < lowMM {
			found.low = append(found.low, one.Temperature.HighDegC)
		}
	}
	for i := range s.Parts {
		if s.Parts[i].Role == "coil" {
			found.top = append(found.top, hottest(heat, i))
		}
	}
	if len(found.low) < 2 || len(found.top) != 6 {
		t.Fatalf("%s: %d places low on the block, %d coils on top", v, len(found.low), len(found.top))
	}
	return found, limitDegC
}

// hottest returns a part's highest high end over all cases.
func hottest(heat *balance.Result, part int) float64 {
	var most float64
	for _, c := range heat.Cases {
		for i := range c.Parts {
			if c.Parts[i].Part == part {
				most = max(most, c.Parts[i].Temperature.HighDegC)
			}
		}
	}
	return most
}

// mean and most of some temperatures. Bare numbers: °C.
func mean(list []float64) float64 {
	var sum float64
	for _, x := range list {
		sum += x / float64(len(list))
	}
	return sum
}

func most(list []float64) float64 {
	out := list[0]
	for _, x := range list {
		out = max(out, x)
	}
	return out
}

// What the trade says (common practice, no source): with primaries sweeping up,
// coils on top of the engine run hotter than coils low on its block, and go over
// their limit where the low ones do not; with primaries sweeping down it is the
// other way round.
func TestPrimariesDecideWhereCoilsStayCool(t *testing.T) {
	up, limitDegC := coils(t, demo.BrambleB)
	if mean(up.top) <= mean(up.low) || most(up.top) <= limitDegC || most(up.low) > limitDegC {
		t.Errorf("primaries up: on top %.0f, low %.0f, limit %g °C", up.top, up.low, limitDegC)
	}
	down, limitDegC := coils(t, demo.BrambleA)
	if mean(down.top) >= mean(down.low) || most(down.top) > limitDegC || most(down.low) <= limitDegC {
		t.Errorf("primaries down: on top %.0f, low %.0f, limit %g °C", down.top, down.low, limitDegC)
	}
}
