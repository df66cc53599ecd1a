package drop

import (
	"context"
	"math"
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

const deg = 180 / math.Pi

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
		got, err := Walk(context.Background(), Window{0, 80}, func(_ context.Context, q, _ float64) (float64, error) {
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
	if _, err := Walk(ctx, Window{0, 80}, func(context.Context, float64, float64) (float64, error) { return 1, nil }); err == nil {
		t.Error("a cancelled walk must say so")
	}
}
