package spot

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// supportOf is the share of a foot that lies on a plate, by the lengths that
// overhang its edges.
func supportOf(xMM, yMM, lengthMM, widthMM float64) float64 {
	on := func(atMM, halfMM, edgeMM float64) float64 {
		return (math.Min(edgeMM, atMM+halfMM) - math.Max(0, atMM-halfMM)) / (2 * halfMM)
	}
	return on(xMM, lengthMM/2, 400) * on(yMM, widthMM/2, 300)
}

// The free area of a plate whose top is half covered is known: where, in one of
// the turns, nine tenths of the foot lie on the plate and the box ends before
// the cover. Here it is summed on a fine grid.
func TestFreeAreaOfAPlate(t *testing.T) {
	cover := block{name: "cover", role: "bracket", low: geom.Vec{200, -100, 15}, high: geom.Vec{600, 400, 100}}
	var wantMM2 float64
	for x := 0.25; x < 400; x += 0.5 {
		for y := 0.25; y < 300; y += 0.5 {
			for _, size := range [][2]float64{{lengthMM, widthMM}, {widthMM, lengthMM}} {
				if supportOf(x, y, size[0], size[1]) >= leastSupport {
					wantMM2 += 0.25 // the free bottom
					break
				}
			}
			for _, size := range [][2]float64{{lengthMM, widthMM}, {widthMM, lengthMM}} {
				if supportOf(x, y, size[0], size[1]) >= leastSupport && x+size[0]/2 <= 200 {
					wantMM2 += 0.25
					break
				}
			}
		}
	}
	r := search(t, stage(t, []block{plate(), cover}, nil), Options{PointsPerHost: 6000})
	// The foot is tested at some 64 points, which moves the border by up to
	// half a millimetre of 1500 mm; the rest is sampling.
	if got := r.Studies[0].FreeAreaMM2; math.Abs(got-wantMM2) > 0.01*wantMM2 {
		t.Errorf("free area %.0f mm², want %.0f", got, wantMM2)
	}
}

// bay is a small scene with everything in it: a moving host, a fixed wall, a
// hot pipe, rules and heat with a soak.
func bay(t testing.TB) *scene.Scene {
	return stage(t, []block{
		{name: "plate", role: "engine", group: "train", high: geom.Vec{400, 300, 40}, change: func(p *layout.Part) {
			p.TurnDeg, p.MoveMM = geom.Vec{20, -10, 35}, geom.Vec{2000, 50, 500}
			p.Thermal = &layout.Thermal{HeldDegC: new(90.0)}
		}},
		{name: "pipe", role: "exhaust", group: "train", low: geom.Vec{1900, 100, 700}, high: geom.Vec{2000, 600, 740}, change: func(p *layout.Part) {
			p.Thermal = &layout.Thermal{HeldDegC: new(650.0)}
			p.Growth = &layout.Growth{PerK: 1.7e-5, FromDegC: 20, ToDegC: 650}
		}},
		{name: "wall", role: "firewall", low: geom.Vec{1700, -200, 300}, high: geom.Vec{1710, 700, 1000}},
		{name: "coil now", role: "coil", group: "train", low: geom.Vec{2150, 100, 720}, high: geom.Vec{2190, 130, 745}},
	}, func(d *layout.Document) {
		d.Groups = []layout.Group{{Name: "train", PivotMM: geom.Vec{2000, 100, 400}, Motion: &layout.Motion{
			XMM: layout.Range{-5, 5}, ZMM: layout.Range{-6, 6}, RollDeg: layout.Range{-2, 2},
		}}}
		d.Rules = []layout.Rule{
			{A: "*", B: "*", LeastMM: 2},
			{A: "role:coil", B: "role:exhaust", State: layout.StateHot, LeastMM: 40},
			{A: "role:coil", B: "role:firewall", State: layout.StateMoving, LeastMM: 8},
		}
		d.Heat = &layout.Heat{
			Cases: []layout.HeatCase{
				{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)},
				{Name: "soak", After: "drive", AirSpeedMS: new(0.0), Minutes: new(10.0), AirSettlesDegC: new(70.0)},
			},
			Rays: new(128),
		}
		d.Joined = [][2]string{}
		d.Spots[0].Replaces = "coil now"
		d.Spots[0].ServeMM, d.Spots[0].ReachMM = &geom.Vec{2100, 200, 650}, new(300.0)
		d.Spots[0].LimitDegC = &layout.Limit{ContinuousDegC: new(140.0), PeakDegC: new(150.0)}
		d.Spots[0].Tool = &layout.Tool{DiameterMM: 25, LengthMM: 60}
	})
}

// Every spot given, entered as a part with its move_mm and turn_deg, passes the
// whole clearance check against everything but its host.
func TestSpotsPassTheClearanceCheck(t *testing.T) {
	s := bay(t)
	r := search(t, s, Options{})
	if len(r.Spots) < 5 {
		t.Fatalf("%d spots, %+v", len(r.Spots), r.Refused)
	}
	for _, spot := range r.Spots {
		placed := *s
		coil, _ := s.Index("coil now")
		placed.Parts = append([]scene.Part(nil), s.Parts...)
		p := placed.Parts[coil]
		l := *p.Layout
		l.MoveMM, l.TurnDeg = spot.PointMM, spot.TurnDeg
		p.Layout, p.Shape, p.Pose = &l, s.Spots[0].Shape, scene.PoseOf(&l)
		placed.Parts[coil] = p
		if d := p.Pose.Point(geom.Vec{100, 50, 25}).Sub(spot.Pose.Point(geom.Vec{100, 50, 25})).Len(); d > 1e-6 {
			t.Errorf("spot %d: turn_deg %v misses its pose by %g mm", spot.Rank, spot.TurnDeg, d)
		}
		checked, err := clearance.Run(context.Background(), &placed, clearance.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		marginMM, clearanceMM := math.Inf(1), math.Inf(1)
		for _, pair := range checked.Pairs {
			if pair.IndexA != coil && pair.IndexB != coil || pair.A == spot.Host || pair.B == spot.Host {
				continue
			}
			if clearance.Fails(pair.Verdict) {
				t.Errorf("spot %d: %s is %s", spot.Rank, pair.ID, pair.Verdict)
			}
			if pair.MarginMM != nil {
				marginMM = math.Min(marginMM, *pair.MarginMM-pair.ErrorMM)
			}
			if pair.State == layout.StateStatic {
				clearanceMM = math.Min(clearanceMM, pair.ClearanceMM)
			}
		}
		if d := math.Abs(*spot.ClearanceMM - clearanceMM); d > 1e-6 {
			t.Errorf("spot %d: clearance %g, the check says %g", spot.Rank, *spot.ClearanceMM, clearanceMM)
		}
		gotMM := float64(farMM)
		if spot.MarginMM != nil {
			gotMM = *spot.MarginMM
		}
		// The motion search closes its bound to a hundredth.
		if d := math.Abs(gotMM - math.Min(marginMM, farMM)); d > 0.02 {
			t.Errorf("spot %d: margin %g, the check says %g", spot.Rank, gotMM, marginMM)
		}
	}
}

// Scores follow from the figures beside them, ranks from the scores.
func TestScoresFollowFromTheFigures(t *testing.T) {
	r := search(t, bay(t), Options{PointsPerHost: 60})
	for i, s := range r.Spots {
		want, by := 30/6.0, byClearance
		if s.MarginMM != nil {
			want = *s.MarginMM / 6
		}
		if reach := 5 * (300 - *s.ReachMM) / 300; reach < want {
			want, by = reach, byReach
		}
		leastK := math.Inf(1)
		for k, c := range s.Cases {
			limitDegC := []float64{140, 150}[k]
			leastK = math.Min(leastK, limitDegC-c.Temperature.HighDegC)
			if c.Temperature.NominalDegC > limitDegC {
				t.Errorf("spot %d is over its limit in %s", s.Rank, c.Case)
			}
		}
		if leastK/20 < want {
			want, by = leastK/20, byTemperature
		}
		if math.Abs(s.Score-want) > 1e-9 || s.ScoredBy != by {
			t.Errorf("spot %d: score %g by %s, want %g by %s", s.Rank, s.Score, s.ScoredBy, want, by)
		}
		if s.Rank != i+1 || i > 0 && s.Score > r.Spots[i-1].Score {
			t.Errorf("spot %d of score %g comes after %g", s.Rank, s.Score, r.Spots[i-1].Score)
		}
	}
	counted(t, &r.Studies[0])
	told(t, &r.Spots[0])
	if p := r.Studies[0].Present; p == nil || p.Temperature == nil || len(p.Cases) != 2 {
		t.Errorf("the place now: %+v", p)
	}
}

func TestSameAnswerForAnyWorkers(t *testing.T) {
	s := bay(t)
	var first []byte
	for _, workers := range []int{1, 2, 7} {
		got, err := json.Marshal(search(t, s, Options{Workers: workers, PointsPerHost: 50}))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = got
		}
		if !bytes.Equal(first, got) {
			t.Errorf("%d workers answer differently", workers)
		}
	}
	for _, key := range []string{`"spots":[{`, `"rank":1`, `"host":`, `"point_mm":[`, `"normal":[`, `"turn_deg":[`, `"temperature_degC":{"low":`, `"clearance_mm":`, `"reach_mm":`, `"score":`, `"refused":[{`, `"reason":`, `"count":`} {
		if !bytes.Contains(first, []byte(key)) {
			t.Errorf("no %s in the answer", key)
		}
	}
}

func TestAnotherSeedMovesThePlaces(t *testing.T) {
	s := stage(t, []block{plate()}, nil)
	one, two := search(t, s, Options{Seed: 1}), search(t, s, Options{Seed: 2})
	if one.Spots[0].PointMM == two.Spots[0].PointMM {
		t.Error("two seeds give the same place")
	}
}

// A lead from a fixed host to a point on a moving part needs slack: all of a
// pure shift; none where both move together.
func TestSlackBetweenGroups(t *testing.T) {
	for _, c := range []struct {
		hostGroup string
		wantMM    float64
	}{{"", 13}, {"train", 0}} {
		host := plate()
		host.group = c.hostGroup
		s := stage(t, []block{host, {name: "head", role: "engine", group: "train", low: geom.Vec{0, 0, 200}, high: geom.Vec{400, 300, 250}}}, func(d *layout.Document) {
			d.Groups = []layout.Group{{Name: "train", Motion: &layout.Motion{XMM: layout.Range{-3, 3}, YMM: layout.Range{-4, 1}, ZMM: layout.Range{-12, 12}}}}
			d.Spots[0].ServeMM = &geom.Vec{200, 150, 210}
		})
		r := search(t, s, Options{PointsPerHost: 50})
		if got := r.Spots[0].SlackMM; math.Abs(got-c.wantMM) > 1e-9 { // √(3² + 4² + 12²) = 13
			t.Errorf("host in group %q: slack %g, want %g", c.hostGroup, got, c.wantMM)
		}
	}
}

// counted checks that every candidate passes or is refused; none is lost.
func counted(t *testing.T, a *Study) {
	t.Helper()
	sum := a.Acceptable
	for _, r := range a.Refused {
		sum += r.Count
	}
	if sum != a.Candidates || a.Candidates == 0 {
		t.Errorf("%d candidates, %d accounted for", a.Candidates, sum)
	}
}

// BenchmarkSearch tries places on a small scene with moving groups, a lead and
// heat.
func BenchmarkSearch(b *testing.B) {
	s := bay(b)
	heat, err := balance.Run(b.Context(), s, balance.Options{}, nil)
	if err != nil {
		b.Fatal(err)
	}
	tried := 0
	for b.Loop() {
		r, err := Search(b.Context(), s, heat, Options{PointsPerHost: 500}, nil)
		if err != nil {
			b.Fatal(err)
		}
		tried += r.Studies[0].Candidates
	}
	b.ReportMetric(float64(tried)/float64(b.N), "places/op")
}

// A sheet has two faces to mount on.
func TestSheetHasTwoSides(t *testing.T) {
	s := stage(t, []block{plate()}, nil)
	p := &s.Parts[0]
	sheet := boxMesh(geom.Vec{0, 0, 0}, geom.Vec{400, 300, 10})
	sheet.Tris = sheet.Tris[2:4] // the top
	p.Mesh, p.Tree, p.Closed = sheet, bvh.Build(sheet), false
	up, down := 0, 0
	for _, one := range search(t, s, Options{}).Spots {
		switch {
		case one.Normal[2] > 0.999:
			up++
		case one.Normal[2] < -0.999:
			down++
		}
		if math.Abs(one.PointMM[2]-10) > 1e-9 {
			t.Errorf("spot %d is off the sheet: %v", one.Rank, one.PointMM)
		}
	}
	if up == 0 || down == 0 {
		t.Errorf("%d spots above, %d below", up, down)
	}
}

// A component without a flat face on z = 0 stands on its lowest corners.
func TestFootOfARoundedComponent(t *testing.T) {
	f := footOf(&mesh.Mesh{
		Verts: []geom.Vec{{-10, -10, 0}, {10, -10, 0}, {0, 10, 0}, {0, 0, 5}, {0, 0, 20}},
		Tris:  [][3]int32{{1, 0, 3}, {2, 1, 3}, {0, 2, 3}, {0, 1, 4}, {1, 2, 4}, {2, 0, 4}}, // hollow below
	})
	if len(f.points) != 3 || f.middle.Sub(geom.Vec{0, -10.0 / 3, 0}).Len() > 1e-9 {
		t.Errorf("foot %+v", f)
	}
}

// A hair of a face between far corners neither takes long nor goes untested.
func TestFootOfASliver(t *testing.T) {
	f := footOf(&mesh.Mesh{
		Verts: []geom.Vec{{-500, -500, 0}, {500, 500, 0}, {0, 1e-9, 0}, {0, 0, 20}},
		Tris:  [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}},
	})
	if len(f.points) == 0 || len(f.points) > mostColumns*mostColumns {
		t.Errorf("%d points", len(f.points))
	}
}

func TestBadHostsAreNamed(t *testing.T) {
	for _, c := range []struct {
		change func(*layout.Spot)
		want   string
	}{
		{func(s *layout.Spot) { s.Hosts = []string{"part:plat"} }, `did you mean "part:plate"`},
		{func(s *layout.Spot) { s.Hosts = []string{"role:intake"} }, "no part is left"},
		{func(s *layout.Spot) { s.Replaces = "nobody" }, `replaces "nobody"`},
	} {
		s := stage(t, []block{plate()}, nil)
		c.change(s.Spots[0].Layout)
		_, err := Search(t.Context(), s, nil, Options{}, nil)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), `spots[0] "box"`) {
			t.Errorf("want %q, got %v", c.want, err)
		}
	}
}

func TestCancelledIsAnError(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s := stage(t, []block{plate()}, nil)
	r, err := Search(ctx, s, nil, Options{Workers: 1}, func(_, _ int) { cancel() })
	if !errors.Is(err, context.Canceled) || r != nil {
		t.Errorf("got %v, %v", r, err)
	}
}

// The steps of the point sequence are powers of 1/g with g⁴ = g + 1.
func TestSequenceRoot(t *testing.T) {
	g := 1 / steps[0]
	if math.Abs(g*g*g*g-g-1) > 1e-12 || math.Abs(steps[1]-1/(g*g)) > 1e-15 || math.Abs(steps[2]-1/(g*g*g)) > 1e-15 {
		t.Error("the steps do not follow from the root")
	}
}

// turn_deg, read as a layout does, gives back the pose, straight up included.
func TestTurnReadsBack(t *testing.T) {
	for _, normal := range []geom.Vec{{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, geom.Vec{1, 2, 3}.Normalize(), geom.Vec{-3, 0.1, 0.2}.Normalize()} {
		for turn := range fineTurns {
			pose := poseAt(place{normal: normal}, turn, fineTurns)
			back := scene.PoseOf(&layout.Part{TurnDeg: turnOf(pose.R)})
			if d := pose.R.Sub(back.R); d.Mul3(d.Transpose()).Trace() > 1e-18 {
				t.Errorf("normal %v, turn %d: %v does not give the pose back", normal, turn, turnOf(pose.R))
			}
		}
	}
}
