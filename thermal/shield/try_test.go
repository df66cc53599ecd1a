package shield

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// bay is a hot round pipe along Y beside a small box.
func bay(t testing.TB) *scene.Scene {
	t.Helper()
	dir := t.TempDir()
	pipe := plain.Sheet(48, 8, func(u, v float64) geom.Vec {
		s, c := math.Sincos(2 * math.Pi * math.Mod(u, 1))
		return geom.Vec{30 * s, 400 * (v - 0.5), 30 * c}
	})
	box := plain.Brick(geom.Vec{-25, -25, -25}, geom.Vec{25, 25, 25})
	doc := &layout.Document{Title: "test", Parts: []layout.Part{
		{Name: "pipe", Role: "exhaust", Mesh: "pipe.stl", Group: "engine", Emissivity: new(0.85), Thermal: &layout.Thermal{HeldDegC: new(650.0)}},
		{Name: "coil", Role: "coil", Mesh: "coil.stl", MoveMM: geom.Vec{0, 0, 130}, Emissivity: new(0.9), LimitDegC: &layout.Limit{ContinuousDegC: new(130.0)}},
	}, Heat: &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}}}
	for name, m := range map[string]*mesh.Mesh{"pipe.stl": pipe, "coil.stl": box} {
		f, err := os.Create(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := m.WriteSTL(f, name); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A shell and a plate both cool the box, run hotter than it, and stand at the
// offset: every corner of the shell about 15 mm off the pipe's surface.
func TestTryCoolsWhatItProtects(t *testing.T) {
	s := bay(t)
	for _, sh := range []layout.Shield{
		{Name: "shell", Over: "pipe", For: "coil"},
		{Name: "plate", Over: "pipe", For: "coil", Form: Plate},
	} {
		trial, err := Try(context.Background(), s, nil, &sh, balance.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		c := trial.Changes[0]
		if c.Part != "coil" || c.ByK > -15 || c.After.IrradiationWM2 > 0.8*c.Before.IrradiationWM2 {
			t.Errorf("%s: %+v", sh.Name, c)
		}
		if len(trial.Cuts) > 0 || trial.Itself[0].Temperature.NominalDegC < c.After.Temperature.NominalDegC {
			t.Errorf("%s: cuts %v, itself %+v", sh.Name, trial.Cuts, trial.Itself)
		}
		if !strings.Contains(trial.Sentence.String(), "coil in drive: ") || !strings.Contains(trial.Sentence.String(), "The shield itself runs at") {
			t.Errorf("%s", trial.Sentence)
		}
		for _, v := range trial.Mesh.Verts {
			if offMM := math.Hypot(v[0], v[2]) - 30; sh.Name == "shell" && math.Abs(offMM-15) > 0.2 {
				t.Fatalf("corner %v stands %.3f mm off", v, offMM)
			}
		}
		if trial.Part.Role != "shield" || trial.Part.Group != "engine" || trial.Part.InnerEmissivity == nil {
			t.Errorf("part to keep: %+v", trial.Part)
		}
	}
}

// The coil's figures without the shield are those of the plain study, and the
// sheet's far face keeps what it covers hotter than it was: a plate that covers
// nothing changes nothing.
func TestTryLeavesTheRestAlone(t *testing.T) {
	s := bay(t)
	sh := layout.Shield{Name: "far", Over: "pipe", For: "coil", Form: Plate, OffsetMM: new(20.0), WidthMM: new(0.5), HeightMM: new(0.5)}
	trial, err := Try(context.Background(), s, nil, &sh, balance.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range trial.Changes {
		if math.Abs(c.ByK) > 0.1 {
			t.Errorf("half a millimetre square changes %+v", c)
		}
	}
}

func TestTryIsTheSameForAnyWorkers(t *testing.T) {
	s := bay(t)
	var first string
	for _, workers := range []int{1, 2, 7} {
		trial, err := Try(context.Background(), s, nil, &layout.Shield{Name: "shell", Over: "pipe", For: "coil"}, balance.Options{Workers: workers}, nil)
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(trial)
		if err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = string(data)
		} else if first != string(data) {
			t.Errorf("%d workers give other bits", workers)
		}
	}
}

func TestTryRefuses(t *testing.T) {
	s := bay(t)
	for says, sh := range map[string]layout.Shield{
		"no part":          {Name: "a", Over: "pipes", For: "coil"},
		"another that":     {Name: "a", Over: "coil", For: "coil"},
		"above 0":          {Name: "a", Over: "pipe", For: "coil", OffsetMM: new(0.0)},
		`"shell"`:          {Name: "a", Over: "pipe", For: "coil", Form: "dome"},
		"give it another":  {Name: "coil", Over: "pipe", For: "coil"},
		"give lengths":     {Name: "a", Over: "pipe", For: "coil", Form: Plate, WidthMM: new(-1.0)},
		"not in the table": {Name: "a", Over: "pipe", For: "coil", Material: "Unobtainium", Emissivity: nil},
	} {
		if _, err := Try(context.Background(), s, nil, &sh, balance.Options{}, nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v: %v, want a word of %s", sh, err, says)
		}
	}
}
