package mounts_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mounts"
)

// TestThreeMounts: case VO-32 of testdata/reference/vehicle_open.json. The case
// counts z along the load and knows the places of the mounts across the car
// only; here each is split in two, 150 mm before and behind, which leaves its
// two equations as they are and holds the pitch. The same case with the load
// hanging down and the torque turned gives the same figures with minus signs.
func TestThreeMounts(t *testing.T) {
	c := reference(t)
	for _, sign := range []float64{1, -1} {
		b := mounts.Body{MassKg: c.Inputs.MassKg}
		for _, m := range c.Inputs.Mounts {
			for _, xMM := range []float64{-150, 150} {
				b.Mounts = append(b.Mounts, mounts.Mount{At: geom.Vec{xMM, m.YMM, 0}, Stiffness: geom.Vec{100, 80, m.KzNMM / 2}})
			}
		}
		got, err := b.Under(mounts.Load{G: geom.Vec{0, 0, sign * c.Inputs.N}, TorqueNm: geom.Vec{sign * c.Inputs.TorqueNm}})
		if err != nil {
			t.Fatal(err)
		}
		zMM, rollDeg := got.ShiftMM[2], got.TurnRad[0]*180/math.Pi
		if !near(zMM, sign*c.Expected.ZMM, 1e-6) || !near(rollDeg, sign*c.Expected.RollDeg, 1e-6) { // the file's tolerance
			t.Errorf("z %.10f mm, roll %.10f°, want %.10f, %.10f times %g", zMM, rollDeg, c.Expected.ZMM, c.Expected.RollDeg, sign)
		}
		if pitchRad, yawRad := got.TurnRad[1], got.TurnRad[2]; math.Abs(pitchRad)+math.Abs(yawRad) > 1e-12 {
			t.Errorf("pitch %g, yaw %g rad where none is", pitchRad, yawRad)
		}
		if want := zMM + got.TurnRad[0]*-300; !near(got.Travel[0][2], want, 1e-12) {
			t.Errorf("mount at y −300 travels %v, want z + θ·y = %g", got.Travel[0], want)
		}
	}
}

type openCase struct {
	ID     string
	Inputs struct {
		Mounts []struct {
			YMM   float64 `json:"y"`
			KzNMM float64 `json:"kz"`
		}
		MassKg   float64 `json:"m"`
		N        float64 `json:"n"`
		TorqueNm float64 `json:"torque_Nm"`
	}
	Expected struct {
		ZMM     float64 `json:"z_disp"`
		RollDeg float64 `json:"roll_deg"`
	}
}

func reference(t *testing.T) openCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var list struct {
		Cases []struct {
			ID  string
			All json.RawMessage `json:"-"`
		}
	}
	var raw struct{ Cases []json.RawMessage }
	if err := errors.Join(json.Unmarshal(data, &list), json.Unmarshal(data, &raw)); err != nil {
		t.Fatal(err)
	}
	for i, c := range list.Cases {
		if c.ID == "VO-32" {
			var out openCase
			if err := json.Unmarshal(raw.Cases[i], &out); err != nil {
				t.Fatal(err)
			}
			return out
		}
	}
	t.Fatal("no case VO-32")
	return openCase{}
}

// four is a square of equal mounts, 400 by 600 mm, in the plane z = 100.
func four(stiffness geom.Vec) []mounts.Mount {
	var list []mounts.Mount
	for _, x := range []float64{-200, 200} {
		for _, y := range []float64{-300, 300} {
			list = append(list, mounts.Mount{At: geom.Vec{1000 + x, y, 100}, Stiffness: stiffness})
		}
	}
	return list
}

// TestClosedForms: symmetric mounts, where each freedom stands alone. With four
// mounts of kx, ky, kz at ±a, ±b: shifts F/4k; roll M/(4·kz·b²), pitch
// M/(4·kz·a²), yaw M/(4·(kx·b² + ky·a²)). Source: statics, by hand.
func TestClosedForms(t *testing.T) {
	const massKg, kx, ky, kz, a, b = 204.0, 120.0, 90.0, 250.0, 200.0, 300.0
	weightN := massKg * 9.80665
	body := mounts.Body{Mounts: four(geom.Vec{kx, ky, kz}), MassKg: massKg, CG: geom.Vec{1000, 0, 100}, Pivot: geom.Vec{1000, 0, 100}}
	low := body // hangs 80 mm below the mounts' plane: braking pitches it, and a shift of the pivot follows
	low.CG, low.Pivot = geom.Vec{1000, 0, 20}, geom.Vec{1000, 0, 20}
	brakeRad := -80 * -weightN / (4 * kz * a * a) // (r × F) about Y, with r = [0, 0, −80] and F = [−W, 0, 0]
	for _, c := range []struct {
		name        string
		body        mounts.Body
		load        mounts.Load
		shift, turn geom.Vec
	}{
		{"hangs", body, mounts.Load{G: geom.Vec{0, 0, -1}}, geom.Vec{0, 0, -weightN / (4 * kz)}, geom.Vec{}},
		{"pothole", body, mounts.Load{G: geom.Vec{0, 0, -3}}, geom.Vec{0, 0, -3 * weightN / (4 * kz)}, geom.Vec{}},
		{"corner and brake", body, mounts.Load{G: geom.Vec{-0.5, 1, 0}}, geom.Vec{-0.5 * weightN / (4 * kx), weightN / (4 * ky), 0}, geom.Vec{}},
		{"roll torque", body, mounts.Load{TorqueNm: geom.Vec{900, 0, 0}}, geom.Vec{}, geom.Vec{900e3 / (4 * kz * b * b), 0, 0}},
		{"pitch torque", body, mounts.Load{TorqueNm: geom.Vec{0, -900, 0}}, geom.Vec{}, geom.Vec{0, -900e3 / (4 * kz * a * a), 0}},
		{"yaw torque", body, mounts.Load{TorqueNm: geom.Vec{0, 0, 700}}, geom.Vec{}, geom.Vec{0, 0, 700e3 / (4 * (kx*b*b + ky*a*a))}},
		{"brake below the mounts", low, mounts.Load{G: geom.Vec{-1, 0, 0}}, geom.Vec{-weightN/(4*kx) - 80*brakeRad, 0, 0}, geom.Vec{0, brakeRad, 0}},
		{"nothing", low, mounts.Load{}, geom.Vec{}, geom.Vec{}},
	} {
		got, err := c.body.Under(c.load)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		// 1e-11: some hundred rounded operations on numbers of order 10.
		if got.ShiftMM.Sub(c.shift).Len() > 1e-11 || got.TurnRad.Sub(c.turn).Len() > 1e-13 {
			t.Errorf("%s: shift %v turn %v, want %v, %v", c.name, got.ShiftMM, got.TurnRad, c.shift, c.turn)
		}
	}
}

// TestEquilibrium: for any mounts and loads the mounts' forces carry the load
// and its moment, about any point; the shift of one pivot follows from that of
// another; and twice the load gives twice the shift.
func TestEquilibrium(t *testing.T) {
	rng := rand.New(rand.NewPCG(32, 1))
	random := func(most float64) geom.Vec {
		return geom.Vec{most * (2*rng.Float64() - 1), most * (2*rng.Float64() - 1), most * (2*rng.Float64() - 1)}
	}
	for range 200 {
		b := mounts.Body{MassKg: 100 + 300*rng.Float64(), CG: random(300).Add(geom.Vec{2000}), Pivot: random(500).Add(geom.Vec{2000})}
		for range 3 + rng.IntN(3) {
			k := random(200)
			b.Mounts = append(b.Mounts, mounts.Mount{
				At: random(400).Add(geom.Vec{2000}), Stiffness: geom.Vec{250 + k[0], 250 + k[1], 250 + k[2]},
			})
		}
		l := mounts.Load{G: random(1), TorqueNm: random(200)}
		got, err := b.Under(l)
		if errors.Is(err, mounts.ErrFar) {
			continue // three mounts nearly in line
		}
		if err != nil {
			t.Fatal(err)
		}
		forceN := l.G.Mul(b.MassKg * mounts.GravityMS2)
		momentNMM := l.TorqueNm.Mul(1000).Add(b.CG.Cross(forceN))
		for i, m := range b.Mounts {
			back := geom.Vec{m.Stiffness[0] * got.Travel[i][0], m.Stiffness[1] * got.Travel[i][1], m.Stiffness[2] * got.Travel[i][2]}
			forceN, momentNMM = forceN.Sub(back), momentNMM.Sub(m.At.Cross(back))
			if want := got.ShiftMM.Add(got.TurnRad.Cross(m.At.Sub(b.Pivot))); want.Sub(got.Travel[i]).Len() > 1e-9 {
				t.Errorf("the mount travels %v, the body there %v", got.Travel[i], want)
			}
		}
		if forceN.Len() > 1e-7 || momentNMM.Len() > 1e-3 { // of thousands of N at two metres
			t.Errorf("left over: %v N, %v N·mm", forceN, momentNMM)
		}
		if twice, err := b.Under(mounts.Load{G: l.G.Mul(0.5), TorqueNm: l.TorqueNm.Mul(0.5)}); err != nil ||
			twice.ShiftMM.Mul(2).Sub(got.ShiftMM).Len() > 1e-9 {
			t.Errorf("half the load gives %v, %v of %v", twice.ShiftMM, err, got.ShiftMM)
		}
	}
}

// TestFreeFreedomsAreNamed: what no mount holds is an error that says so, even
// when the load does not drive it.
func TestFreeFreedomsAreNamed(t *testing.T) {
	full := geom.Vec{100, 100, 100}
	at := func(places ...geom.Vec) []mounts.Mount {
		var list []mounts.Mount
		for _, p := range places {
			list = append(list, mounts.Mount{At: p, Stiffness: full})
		}
		return list
	}
	for _, c := range []struct {
		name   string
		mounts []mounts.Mount
		want   string
	}{
		{"one spring", at(geom.Vec{2000, 10, 300}), "nothing holds roll (about X), pitch (about Y), yaw (about Z)"},
		{"two across", at(geom.Vec{2000, -300, 300}, geom.Vec{2000, 300, 300}), "nothing holds pitch (about Y)"},
		{"two along", at(geom.Vec{1800, 0, 300}, geom.Vec{2400, 0, 300}), "nothing holds roll (about X)"},
		{"two aslant", at(geom.Vec{2000, -300, 300}, geom.Vec{2400, 0, 300}), "nothing holds the turn about the axis [0.8, 0.6, 0]"},
		{"three in line", at(geom.Vec{2000, 0, 0}, geom.Vec{2000, 0, 100}, geom.Vec{2000, 0, 700}), "nothing holds yaw (about Z)"},
		{"no side stiffness", four(geom.Vec{100, 0, 100}), "nothing holds the shift along Y"},
		{"upright springs only", four(geom.Vec{0, 0, 100}), "nothing holds the shift along X, the shift along Y, yaw (about Z)"},
		{"none", nil, "the mounts leave the group free: nothing holds the shift along X, the shift along Y, the shift along Z, roll"},
	} {
		b := mounts.Body{Mounts: c.mounts, MassKg: 200, CG: geom.Vec{2100, 0, 400}}
		_, err := b.Under(mounts.Load{G: geom.Vec{0, 0, -1}})
		if !errors.Is(err, mounts.ErrFree) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
	}
}

func TestTooFar(t *testing.T) {
	soft := mounts.Body{Mounts: four(geom.Vec{0.2, 0.2, 0.2}), MassKg: 200, CG: geom.Vec{1000, 0, 100}} // N/m read as N/mm
	if _, err := soft.Under(mounts.Load{G: geom.Vec{0, 0, -1}}); !errors.Is(err, mounts.ErrFar) || !strings.Contains(err.Error(), "travels 2.45e+03 mm") {
		t.Errorf("got %v", err)
	}
	if _, err := soft.Under(mounts.Load{TorqueNm: geom.Vec{100}}); !errors.Is(err, mounts.ErrFar) || !strings.Contains(err.Error(), "degrees") {
		t.Errorf("got %v", err)
	}
}

// TestPositions: loads count from the load that the parts are drawn under.
func TestPositions(t *testing.T) {
	g := group()
	list, err := mounts.Positions(&g)
	if err != nil || len(list) != 3 {
		t.Fatalf("%v, %v", list, err)
	}
	if list[0].Name != "at rest" || list[0].ShiftMM != (geom.Vec{}) || list[0].TurnDeg != (geom.Vec{}) {
		t.Errorf("at rest it stays where it is drawn: %+v", list[0])
	}
	sagMM := 200 * 9.80665 / (4 * 250) // of one g on four mounts of 250 N/mm
	if !near(list[1].ShiftMM[2], -2*sagMM, 1e-12) {
		t.Errorf("three g against one drawn: %v, want %g down", list[1].ShiftMM, 2*sagMM)
	}
	if want := 180 / math.Pi * 600e3 / (4 * 250 * 300 * 300); !near(list[2].TurnDeg[0], want, 1e-12) {
		t.Errorf("torque: %v, want %g° of roll", list[2].TurnDeg, want)
	}
	g.DrawnG = &geom.Vec{}
	if list, err = mounts.Positions(&g); err != nil || !near(list[0].ShiftMM[2], -sagMM, 1e-12) {
		t.Errorf("drawn unloaded, at rest it hangs: %+v, %v", list[0], err)
	}
}

// TestCases: what the mounts carry is the whole load, counted from none,
// whatever the parts are drawn under; the miss of the small turn is that of a
// circle's chord, r·√((1 − cos θ)² + (θ − sin θ)²), by hand.
func TestCases(t *testing.T) {
	g := group()
	g.Mounts[1].Name = "rear"
	cases, err := mounts.Cases(&g)
	if err != nil {
		t.Fatal(err)
	}
	weightN := 200 * 9.80665
	for i, timesG := range []float64{1, 3, 1} {
		var sumN geom.Vec
		for _, m := range cases[i].Mounts {
			sumN = sumN.Add(m.ForceN)
		}
		if sumN.Sub(geom.Vec{0, 0, timesG * weightN}).Len() > 1e-9 {
			t.Errorf("%s: the mounts carry %v N, want %g up", cases[i].Name, sumN, timesG*weightN)
		}
	}
	if m := cases[0].Mounts[0]; m.Name != "mount 1" || !near(m.Travel[2], -weightN/(4*250), 1e-12) || cases[0].Mounts[1].Name != "rear" {
		t.Errorf("at rest: %+v", cases[0].Mounts)
	}
	turnRad := 600e3 / (4 * 250 * 300 * 300)
	want := 300 * math.Hypot(1-math.Cos(turnRad), turnRad-math.Sin(turnRad))
	if got := cases[2].SmallTurnMM; !near(got, want, 1e-12) || cases[1].SmallTurnMM > 1e-12 {
		t.Errorf("small turn misses by %g and %g mm, want %g and 0", got, cases[1].SmallTurnMM, want)
	}
}

func TestPositionsFaults(t *testing.T) {
	g := group()
	g.Mounts = g.Mounts[:2]
	if _, err := mounts.Positions(&g); err == nil || err.Error() != "mounts: the mounts leave the group free: nothing holds pitch (about Y); add a mount or a stiffness there" {
		t.Errorf("got %v", err)
	}
	g = group()
	g.Loads[1].G = geom.Vec{0, 0, -900}
	if _, err := mounts.Positions(&g); err == nil || !strings.HasPrefix(err.Error(), `loads[1] "pothole": the load takes the group too far: a mount travels `) {
		t.Errorf("got %v", err)
	}
	if list, err := mounts.Positions(&layout.Group{Name: "g"}); list != nil || err != nil {
		t.Errorf("a group without loads: %v, %v", list, err)
	}
}

func group() layout.Group {
	g := layout.Group{
		Name: "powertrain", PivotMM: geom.Vec{1000, 0, 100}, MassKg: new(200.0), CgMM: &geom.Vec{1000, 0, 100}, DrawnG: &geom.Vec{0, 0, -1},
		Loads: []layout.Load{
			{Name: "at rest", G: geom.Vec{0, 0, -1}},
			{Name: "pothole", G: geom.Vec{0, 0, -3}},
			{Name: "first gear", G: geom.Vec{0, 0, -1}, TorqueNm: geom.Vec{600}},
		},
	}
	for _, m := range four(geom.Vec{120, 90, 250}) {
		g.Mounts = append(g.Mounts, layout.Spring{AtMM: m.At, KNMM: m.Stiffness})
	}
	return g
}

func near(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Max(1, math.Abs(want))
}
