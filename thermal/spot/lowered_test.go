package spot

import (
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
)

// train is a plate that goes down between a lid and a floor, 75 mm from both
// its faces.
func train() (blocks []block, change func(*layout.Document)) {
	p := plate()
	p.group = "train"
	return append([]block{p}, lids(75)...), func(d *layout.Document) {
		d.Rules = []layout.Rule{{A: "role:coil", B: "role:bracket", LeastMM: 10}}
		d.Drop = &layout.Drop{Group: "train", RangeMM: layout.Range{-80, 80}}
	}
}

// A component on the plate's top keeps the plate from going up, one below it
// from going down: by what lies between them, less the 10 mm asked.
func TestLoweredBetweenSlabs(t *testing.T) {
	blocks, change := train()
	a := search(t, stage(t, blocks, change), Options{PointsPerHost: 60}).Studies[0]
	const wantMM = 75 - heightMM - 10
	seen := map[string]bool{}
	for _, s := range a.Spots {
		got := s.Lowered
		if got == nil || got.WindowMM == nil {
			t.Fatalf("place %d: %+v", s.Rank, got)
		}
		seen[s.Side] = true
		switch s.Side {
		case "top":
			if math.Abs(got.WindowMM[0]+wantMM) > 0.002 || got.Low.String() != "lid, static" {
				t.Errorf("on top: %+v %v", got, *got.WindowMM)
			}
		case "underside":
			if math.Abs(got.WindowMM[1]-wantMM) > 0.002 || got.High.String() != "floor, static" {
				t.Errorf("below: %+v %v", got, *got.WindowMM)
			}
			if !strings.Contains(s.Sentence.String(), "lets train go down by at most 40.00 mm (floor, static)") {
				t.Error(s.Sentence)
			}
		}
	}
	if !seen["top"] || !seen["underside"] {
		t.Errorf("sides: %v", seen)
	}
}

// The window of a place is the one that the drop study finds for the component
// as a part of the layout in that place: on what goes down and on what stands,
// at rest and moving, over the road.
func TestLoweredIsTheDropStudys(t *testing.T) {
	blocks, change := train()
	stands := block{name: "shelf", role: "firewall", low: geom.Vec{410, 0, -40}, high: geom.Vec{420, 300, 40}}
	moving := func(d *layout.Document) {
		change(d)
		d.Groups = []layout.Group{{Name: "train", PivotMM: geom.Vec{0, 0, 40}, Motion: &layout.Motion{ZMM: layout.Range{-3, 2}, RollDeg: layout.Range{-2, 2}}}}
		d.Rules = append(d.Rules,
			layout.Rule{A: "role:coil", B: "*", State: layout.StateMoving, LeastMM: 4},
			layout.Rule{A: "role:coil", B: "*", State: layout.StateAll, LeastMM: 3})
		d.Vehicle = &layout.Vehicle{GroundZMM: -140, RearAxleMM: geom.Vec{2500, 0, 0}, Attitudes: []layout.Attitude{{Name: "laden", RearDownMM: 40, LeastGroundMM: new(60.0)}}}
		d.Spots[0].Hosts = []string{"part:plate", "part:shelf"}
	}
	blocks = append(blocks, stands)
	checked := map[string]int{}
	for _, one := range search(t, stage(t, blocks, moving), Options{PointsPerHost: 60}).Studies[0].Spots {
		placed := stage(t, blocks, func(d *layout.Document) {
			moving(d)
			d.Parts = append(d.Parts, layout.Part{Name: "box", Role: "coil", Mesh: "component.stl", Group: one.Group, MoveMM: one.PointMM, TurnDeg: one.TurnDeg})
			d.Joined = append(d.Joined, [2]string{"box", one.Host})
			if one.Group == "" { // the road limits what goes down alone
				d.Vehicle = nil
			}
		})
		r, err := drop.Run(t.Context(), placed, drop.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := []drop.Window{r.RangeMM}
		for _, l := range r.Limits {
			if strings.HasPrefix(l.Name.String(), "box to ") || strings.Contains(l.Name.String(), " to box, ") || strings.HasPrefix(l.Name.String(), "ground") {
				want = drop.Meet(want, l.WindowsMM)
				checked[one.Host]++
			}
		}
		got := one.Lowered.WindowMM
		if len(want) == 0 || got == nil {
			t.Fatalf("place %d on %s: %v, the study %v", one.Rank, one.Host, got, want)
		}
		for k, endMM := range drop.Chosen(want) {
			if math.Abs(got[k]-endMM) > 0.002 {
				t.Errorf("place %d on %s: %v, the study %v", one.Rank, one.Host, *got, want)
			}
		}
	}
	if checked["plate"] < 4 || checked["shelf"] < 1 {
		t.Errorf("limits compared: %v", checked)
	}
}
