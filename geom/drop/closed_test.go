package drop

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// vehicleCase is one closed-form case of testdata/reference/vehicle_open.json;
// sources and tolerances stand in that file.
type vehicleCase struct {
	ID        string         `json:"id"`
	Inputs    map[string]any `json:"inputs"`
	Expected  map[string]any `json:"expected"`
	Tolerance struct {
		Relative float64 `json:"relative"`
		Absolute float64 `json:"absolute"`
	} `json:"tolerance"`
}

func (c vehicleCase) num(t *testing.T, key string) float64 {
	t.Helper()
	v, ok := c.Inputs[key].(float64)
	if !ok {
		t.Fatalf("%s: no input %q", c.ID, key)
	}
	return v
}

func (c vehicleCase) vec(t *testing.T, key string) geom.Vec {
	t.Helper()
	list, ok := c.Inputs[key].([]any)
	if !ok || len(list) != 3 {
		t.Fatalf("%s: no point %q", c.ID, key)
	}
	return geom.Vec{list[0].(float64), list[1].(float64), list[2].(float64)}
}

func (c vehicleCase) check(t *testing.T, key string, got float64) {
	t.Helper()
	want, ok := c.Expected[key].(float64)
	if !ok {
		t.Fatalf("%s: no expected %q", c.ID, key)
	}
	c.near(t, key, got, want)
}

func (c vehicleCase) near(t *testing.T, key string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > c.Tolerance.Absolute+c.Tolerance.Relative*math.Abs(want) {
		t.Errorf("%s %s: got %.9g, want %.9g", c.ID, key, got, want)
	}
}

func readCase(t *testing.T, id string) vehicleCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []vehicleCase }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("no case %s", id)
	return vehicleCase{}
}

const deg = 180 / math.Pi

func TestDepartureAngle(t *testing.T) {
	c := readCase(t, "VO-16")
	r, a, h := c.num(t, "R"), c.num(t, "a"), c.num(t, "h")
	c.check(t, "exact_deg", TangentRad(r, a, h)*deg)
	c.check(t, "contact_point_deg", ContactRad(a, h)*deg)
}

func TestRampAngle(t *testing.T) {
	c := readCase(t, "VO-17")
	v := &layout.Vehicle{RearAxleMM: geom.Vec{c.num(t, "wheelbase"), 0, 0}, TyreRadiusMM: c.num(t, "R")}
	ramp, at := rampOf(v), point2{c.num(t, "x"), c.num(t, "h")}
	if at[0] < ramp.fromMM || at[0] > ramp.toMM {
		t.Fatal("a point between the axles must count")
	}
	c.check(t, "exact_deg", ramp.tangentRad(at)*deg)
	c.check(t, "contact_point_deg", ramp.contactRad(at)*deg)
}

func TestHeightInAttitude(t *testing.T) {
	c := readCase(t, "VO-19")
	v := &layout.Vehicle{RearAxleMM: geom.Vec{c.num(t, "wheelbase"), 0, 0}}
	road := NewRoad(v, layout.Attitude{FrontDownMM: c.num(t, "dz_front"), RearDownMM: c.num(t, "dz_rear")})
	p := geom.Vec{c.num(t, "x"), 0, c.num(t, "z")}
	c.check(t, "vertical", road.VerticalMM(p))
	c.check(t, "perpendicular", road.HeightMM(p))
}

// TestHalfShaft checks angles and joint distances at the listed travels. The
// file's plunge range covers those three positions only; the stroke over the
// whole travel is larger, since the joints pass level between two of them.
func TestHalfShaft(t *testing.T) {
	c := readCase(t, "VO-21")
	s := shaft{layout.HalfShaft{InnerMM: c.vec(t, "flange"), OuterMM: c.vec(t, "wheel"), ReboundMM: 60, BumpMM: 70}, true}
	shift := geom.Vec{0, 0, -c.num(t, "drop")}
	angles, lengths := c.Expected["angles_deg"].([]any), c.Expected["lengths"].([]any)
	least, most := math.Inf(1), math.Inf(-1)
	for i, travel := range c.Inputs["travel"].([]any) {
		for _, e := range []end{inner, outer} {
			c.near(t, "angle", s.angleRad(e, shift, travel.(float64))*deg, angles[i].(float64))
		}
		l := s.lengthMM(shift, travel.(float64))
		c.near(t, "length", l, lengths[i].(float64))
		least, most = math.Min(least, l), math.Max(most, l)
	}
	c.check(t, "plunge_range", most-least)
	if got, dense := s.strokeMM(shift), denseStroke(s, shift); math.Abs(got-dense) > 1e-6 || got <= most-least {
		t.Errorf("stroke %.6f over the whole travel, densely sampled %.6f, three positions %.6f", got, dense, most-least)
	}
}

// denseStroke is the plain slow form of strokeMM.
func denseStroke(s shaft, shift geom.Vec) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	const steps = 200000
	for i := range steps + 1 {
		travel := -s.ReboundMM + (s.BumpMM+s.ReboundMM)*float64(i)/steps
		l := s.lengthMM(shift, travel)
		least, most = math.Min(least, l), math.Max(most, l)
	}
	return most - least
}

func TestDropByJointAngle(t *testing.T) {
	c := readCase(t, "VO-22")
	s := shaft{layout.HalfShaft{OuterMM: geom.Vec{c.num(t, "dx"), c.num(t, "dy"), c.num(t, "dz_static")}, BumpMM: c.num(t, "bump")}, true}
	w := s.angleWindow(inner, s.BumpMM, c.num(t, "limit_deg")/deg, geom.Vec{}, Window{0, 80})
	if len(w) != 1 || w[0][0] != 0 {
		t.Fatalf("windows %v", w)
	}
	c.check(t, "drop", w[0][1])
}

func TestStrokeWindowMeetsItsLimit(t *testing.T) {
	s := shaft{layout.HalfShaft{OuterMM: geom.Vec{20, 580, -6}, BumpMM: 70, ReboundMM: 60}, true}
	const limitMM = 9
	w := s.strokeWindow(limitMM, geom.Vec{}, Window{-200, 200})
	if len(w) != 1 {
		t.Fatalf("windows %v", w)
	}
	for _, edge := range w[0] {
		if got := s.strokeMM(geom.Vec{0, 0, -edge}); math.Abs(got-limitMM) > 1e-3 {
			t.Errorf("stroke %.4f at the edge %.3f, want %d", got, edge, limitMM)
		}
	}
	if s.strokeMM(geom.Vec{0, 0, -(w[0][0] + w[0][1]) / 2}) >= limitMM {
		t.Error("the middle of the window must hold")
	}
}

func TestCentreOfGravityAndTransfer(t *testing.T) {
	c := readCase(t, "VO-24")
	cg := CGAt(geom.Vec{c.num(t, "x_cg"), 0, c.num(t, "z_cg")}, c.num(t, "m_total"), c.num(t, "m_part"), geom.Vec{c.num(t, "dx"), 0, -c.num(t, "drop")})
	c.check(t, "z_new", cg[2])
	c.check(t, "x_new", cg[0])
	c = readCase(t, "VO-25")
	c.check(t, "transfer_N", LoadTransferN(c.num(t, "m"), c.num(t, "ay_g"), c.num(t, "h"), c.num(t, "t")))
	c = readCase(t, "VO-26")
	c.check(t, "ssf", StabilityFactor(c.num(t, "t"), c.num(t, "h")))
}

// TestWalkFindsEveryWindow walks margins with known zeros: the plain oracle is
// the closed form of each function.
func TestWalkFindsEveryWindow(t *testing.T) {
	for _, c := range []struct {
		name   string
		margin func(q float64) float64
		want   []Window
	}{
		{"falls once", func(q float64) float64 { return 27 - q }, []Window{{0, 27}}},
		{"rises once", func(q float64) float64 { return q - 12.5 }, []Window{{12.5, 80}}},
		{"never", func(float64) float64 { return -3 }, nil},
		{"always", func(float64) float64 { return 5 }, []Window{{0, 80}}},
		{"past a post", func(q float64) float64 { return math.Abs(q-40) - 7 }, []Window{{0, 33}, {47, 80}}},
		{"a narrow gap", func(q float64) float64 { return 2 - math.Abs(q-40) }, []Window{{38, 42}}},
		{"overlap between", func(q float64) float64 {
			if q > 20 && q < 30 {
				return math.Inf(-1)
			}
			return math.Min(math.Abs(q-20), math.Abs(q-30))
		}, []Window{{0, 20}, {30, 80}}},
	} {
		got, err := walk(context.Background(), Window{0, 80}, func(_ context.Context, q, _ float64) (float64, error) {
			return c.margin(q), nil
		})
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %v, %v, want %v", c.name, got, err, c.want)
			continue
		}
		for i := range got {
			for k := range 2 {
				if math.Abs(got[i][k]-c.want[i][k]) > 0.01 {
					t.Errorf("%s: %v, want %v", c.name, got, c.want)
				}
			}
		}
	}
}

func TestWalkStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := walk(ctx, Window{0, 80}, func(context.Context, float64, float64) (float64, error) { return 1, nil }); err == nil {
		t.Error("a cancelled walk must say so")
	}
}
