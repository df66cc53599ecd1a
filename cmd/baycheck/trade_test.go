package main

import (
	"strings"
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

// The demo's story: the coil beside the up-swept exhaust is over its limit, and
// of the three best places that are proposed for it at least one is low on the
// block and not over.
func TestCoilIsProposedLowOnTheBlock(t *testing.T) {
	dir := t.TempDir()
	if err := demo.Write(dir, demo.BrambleB); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	doc.Spots = doc.Spots[:1]
	s, err := scene.Build(t.Context(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	heat, err := balance.Run(t.Context(), s, balance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := spot.Search(t.Context(), s, heat, spot.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	st := &r.Studies[0]
	if st.Present == nil || st.Present.Verdict != balance.Over {
		t.Errorf("where it is now: %+v", st.Present)
	}
	var low *spot.Spot
	var first []string
	for i := range st.Spots[:min(3, len(st.Spots))] {
		first = append(first, st.Spots[i].Sentence.String())
		if one := &st.Spots[i]; one.Host == "block" && one.PointMM[2] < lowMM && low == nil {
			low = one
		}
	}
	switch {
	case low == nil:
		t.Fatalf("none of the first three is low on the block: %q", first)
	case !strings.Contains(low.Sentence.String(), "side of block, ") || !strings.Contains(low.Sentence.String(), " mm lead"):
		t.Errorf("%s", low.Sentence)
	case low.Temperature.HighDegC >= st.Present.Temperature.HighDegC-20:
		t.Errorf("up to %.0f °C there, %.0f °C where it is now", low.Temperature.HighDegC, st.Present.Temperature.HighDegC)
	}
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
