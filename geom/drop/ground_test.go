package drop

import (
	"math"
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene/fixture"
)

// tyre returns the corners of a tessellated tyre in the side view.
func tyre(axleXMM, radiusMM float64, sides int) []point2 {
	var out []point2
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		out = append(out, point2{axleXMM + radiusMM*cos, radiusMM + radiusMM*sin})
	}
	return out
}

// steepestRad is the plain slow form of TangentRad: the flattest plane through
// a point behind a tessellated tyre that has the whole tyre above itself.
func steepestRad(corners []point2, p point2, rearward bool) float64 {
	most := math.Inf(-1)
	for _, c := range corners {
		aMM := p[0] - c[0]
		if !rearward {
			aMM = -aMM
		}
		most = math.Max(most, math.Atan2(p[1]-c[1], aMM))
	}
	return most
}

// TestAnglesAgainstTessellatedTyres: the closed forms of departure and ramp
// against planes laid to tyres of many facets. A facet's corner lies on the
// circle, so that the tessellated tyre is smaller by R(1 − cos(π/n)) = 1.6e-6 mm.
func TestAnglesAgainstTessellatedTyres(t *testing.T) {
	const radiusMM, baseMM, sides = 320, 2600, 30000
	v := &layout.Vehicle{RearAxleMM: geom.Vec{baseMM}, TyreRadiusMM: radiusMM}
	front, rear := tyre(0, radiusMM, sides), tyre(baseMM, radiusMM, sides)
	rng := rand.New(rand.NewPCG(5, 1))
	for range 40 {
		p := point2{baseMM + 400 + 900*rng.Float64(), 20 + 380*rng.Float64()}
		if got, want := departureOf(v).tangentRad(p), steepestRad(rear, p, true); math.Abs(got-want) > 1e-7 {
			t.Errorf("departure of %v: %.9f, laid to the tyre %.9f", p, got, want)
		}
		if departureOf(v).contactRad(p) > departureOf(v).tangentRad(p) {
			t.Errorf("departure of %v: the short form is the larger one", p)
		}
		p = point2{400 + 1800*rng.Float64(), 10 + 200*rng.Float64()}
		want := steepestRad(front, p, true) + steepestRad(rear, p, false)
		if got := rampOf(v).tangentRad(p); math.Abs(got-want) > 1e-7 {
			t.Errorf("ramp of %v: %.9f, laid to the tyres %.9f", p, got, want)
		}
	}
}

// TestHeightAgainstTessellatedTyres lays the road under two tessellated tyres
// that have moved up in the body. The closed form takes the contacts straight
// under the axles: that puts the road too high by R(1/cos − 1), on the safe side.
func TestHeightAgainstTessellatedTyres(t *testing.T) {
	const radiusMM, baseMM = 320.0, 2600.0
	v := &layout.Vehicle{RearAxleMM: geom.Vec{baseMM}, TyreRadiusMM: radiusMM}
	for _, att := range []layout.Attitude{
		{Name: "design"},
		{Name: "full bump", FrontDownMM: 45, RearDownMM: 60},
		{Name: "rear axle in bump", RearDownMM: 70},
		{Name: "braking", FrontDownMM: 35, RearDownMM: -20},
	} {
		road := NewRoad(v, att)
		front, rear := tyre(0, radiusMM, 20000), tyre(baseMM, radiusMM, 20000)
		slope := (att.RearDownMM - att.FrontDownMM) / baseMM
		// The line that both tyres stand on: it lies as low as the lowest corner.
		low := math.Inf(1)
		for _, side := range []struct {
			corners []point2
			upMM    float64
		}{{front, att.FrontDownMM}, {rear, att.RearDownMM}} {
			for _, c := range side.corners {
				low = math.Min(low, c[1]+side.upMM-slope*c[0])
			}
		}
		for _, p := range []geom.Vec{{1900, 0, 115}, {600, 0, 200}, {3100, 0, 180}} {
			trueMM := (p[2] - low - slope*p[0]) / math.Hypot(1, slope)
			tooHighMM := radiusMM * (math.Hypot(1, slope) - 1)
			if got := road.HeightMM(p); math.Abs(got+tooHighMM*road.cos-trueMM) > 1e-4 || got > trueMM+1e-4 {
				t.Errorf("%s: %v stands %.6f mm over the road, on the tyres %.6f", att.Name, p, got, trueMM)
			}
		}
	}
}

// TestArcPassesThroughItsPoint: the circle with the apex found passes through
// the contacts and the point, closed form against its definition.
func TestArcPassesThroughItsPoint(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 2))
	for range 200 {
		c, y, z := 500+400*rng.Float64(), 450*rng.Float64(), 0.01+400*rng.Float64()
		h := ArcApexMM(c, y, z)
		centre := (h*h - c*c) / (2 * h) // of the circle through (0, h) and (±c, 0)
		if r := h - centre; math.Abs(math.Hypot(y, z-centre)-r) > 1e-8*r {
			t.Errorf("c %.3f, point (%.3f, %.3f): apex %.6f misses it", c, y, z, h)
		}
		if ArcApexMM(c, y, z*0.9) >= h {
			t.Errorf("a lower point must leave less")
		}
	}
	if math.Abs(ArcApexMM(700, 0, 120)-120) > 1e-12 || ArcApexMM(700, 700, 5) != math.Inf(1) || ArcApexMM(700, 3, -1) != 0 {
		t.Error("in the middle, at the contact and under the road")
	}
}

// TestProfileAgainstEveryEdge compares each measure with all edges, densely
// sampled, on random triangles: never above, and below by no more than the
// sampling explains.
func TestProfileAgainstEveryEdge(t *testing.T) {
	v := &layout.Vehicle{RearAxleMM: geom.Vec{2600}, TyreRadiusMM: 320}
	measures := map[string]query{
		"height":     {value: func(p point2) float64 { return p[1] - 0.05*p[0] }, fromMM: math.Inf(-1), toMM: math.Inf(1), towardsMM: math.Inf(1), straight: true},
		"under axle": {value: func(p point2) float64 { return ArcApexMM(2000, p[0]-1500, p[1]) }, fromMM: -500, toMM: 3500, towardsMM: 1500},
	}
	for name, of := range map[string]angleOf{"departure": departureOf(v), "ramp": rampOf(v)} {
		measures[name] = query{value: of.tangentRad, fromMM: of.fromMM, toMM: of.toMM, towardsMM: of.towardsMM, straight: of.straight}
		measures[name+", short"] = query{value: of.contactRad, fromMM: of.fromMM, toMM: of.toMM, towardsMM: of.towardsMM, straight: of.straight}
	}
	for seed := range uint64(5) {
		edges := randomEdges(seed)
		p := newProfile(edges, 0, 1)
		for name, q := range measures {
			for _, move := range []point2{{}, {37.5, -20}, {-64, 11}} {
				q.acrossMM, q.upMM = move[0], move[1]
				got, want := p.least(&q).value, denselyLeast(edges, &q)
				if got > want+1e-9 || got < want-3e-3*math.Abs(want)-1e-4 {
					t.Errorf("seed %d, %s, moved %v: %.9f, sampled %.9f", seed, name, move, got, want)
				}
			}
		}
	}
	if f := newProfile(nil, 0, 1).least(&query{value: func(point2) float64 { return 0 }}); !math.IsInf(f.value, 1) {
		t.Error("a profile of nothing has no least value")
	}
}

// randomEdges returns triangles of very different sizes, slivers and upright
// ones among them.
func randomEdges(seed uint64) []edge {
	rng := rand.New(rand.NewPCG(77, seed))
	var edges []edge
	for i := range 60 {
		size := math.Pow(10, 3.2*rng.Float64()) // 1 mm to 1.6 m
		c := geom.Vec{200 + 3000*rng.Float64(), 0, 90 + 300*rng.Float64()}
		var tri [3]geom.Vec
		for k := range tri {
			tri[k] = c.Add(geom.Vec{size * (rng.Float64() - 0.5), rng.Float64(), math.Min(size, 120) * (rng.Float64() - 0.5)})
		}
		if i%7 == 0 {
			tri[1][0], tri[2][0] = tri[0][0], tri[0][0]
		}
		for k := range tri {
			edges = append(edges, edgeOf(tri[k], tri[(k+1)%3], 0, 1, i))
		}
	}
	return edges
}

// denselyLeast is the plain slow form of profile.least.
func denselyLeast(edges []edge, q *query) float64 {
	least := math.Inf(1)
	const steps = 1500
	for i := range edges {
		e := &edges[i]
		for k := range steps + 1 {
			s := float64(k) / steps
			p := point2{e.from[0] + s*(e.to[0]-e.from[0]) + q.acrossMM, e.from[1] + s*(e.to[1]-e.from[1]) + q.upMM}
			if p[0] >= q.fromMM && p[0] <= q.toMM {
				least = math.Min(least, q.value(p))
			}
		}
	}
	return least
}

// TestPlateBetweenItsCorners: what a flat floor touches first lies between its
// corners, so that corners alone would promise too much: the ramp peak in the
// middle of the wheelbase, the arc under the axle in the middle of the car.
// Closed forms of the middle.
func TestPlateBetweenItsCorners(t *testing.T) {
	const zMM, radiusMM, baseMM, trackMM = 130.0, 320.0, 2600.0, 1500.0
	ramp, arc := 1.0, 100.0
	doc := &layout.Document{
		Parts: []layout.Part{{Name: "floor", Role: "engine", Mesh: "floor.stl", Group: "powertrain"}},
		Drop:  &layout.Drop{Group: "powertrain", RangeMM: layout.Range{0, 80}},
		Vehicle: &layout.Vehicle{
			FrontAxleMM: geom.Vec{0, 0, radiusMM}, RearAxleMM: geom.Vec{baseMM, 0, radiusMM}, TyreRadiusMM: radiusMM, TrackMM: trackMM,
			LeastRampDeg: &ramp, LeastUnderAxleMM: &arc,
		},
	}
	r := lowest(t, fixture.Scene(t, doc, map[string]*mesh.Mesh{"floor.stl": plain.Brick(geom.Vec{100, -500, zMM}, geom.Vec{2900, 500, 400})}))
	p := at(t, r, 0)
	if want := 2 * TangentRad(radiusMM, baseMM/2, zMM) * deg; math.Abs(*p.RampDeg-want) > 1e-6 {
		t.Errorf("ramp angle %.6f, want %.6f", *p.RampDeg, want)
	}
	if want := 2 * ContactRad(baseMM/2, zMM) * deg; math.Abs(*p.RampText-want) > 1e-6 {
		t.Errorf("ramp angle, short form %.6f, want %.6f", *p.RampText, want)
	}
	if a := r.Angles.Ramp; math.Abs(a.PointMM[0]-baseMM/2) > 0.1 || a.Part != "floor" {
		t.Errorf("the ramp angle is met at %v of %q", a.PointMM, a.Part)
	}
	for name, mm := range map[string]*float64{"front": p.UnderAxleMM.FrontMM, "rear": p.UnderAxleMM.RearMM} {
		if mm == nil || math.Abs(*mm-zMM) > 1e-5 {
			t.Errorf("under the %s axle %v, want %g", name, mm, zMM)
		}
	}
	if r.WindowMM == nil || math.Abs(r.WindowMM[1]-30) > 0.01 || r.Binding.High.Sentence.String() != "Stops at 30.00 mm: floor leaves 100.00 mm under the front axle" {
		t.Errorf("window %v, %+v: the arc leaves 30 mm", r.WindowMM, r.Binding.High)
	}
}
