package sweep

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/geom"
)

// caseTolMM is what testdata/reference/vehicle_open.json states for its cases,
// absolute and relative; all figures here are below 100 mm.
const caseTolMM = 1e-6

// TestEqualLinks: case VO-28, ten equal links.
func TestEqualLinks(t *testing.T) {
	var in struct{ Tol []float64 }
	var out struct {
		Worst float64 `json:"worst_case"`
		RSS   float64
	}
	readCase(t, "VO-28", &in, &out)
	s := StackOf(in.Tol...)
	if len(in.Tol) != 10 || math.Abs(s.WorstMM-out.Worst) > caseTolMM || math.Abs(s.RSSMM-out.RSS) > caseTolMM {
		t.Errorf("%d links: %+v, want %+v", len(in.Tol), s, out)
	}
}

// TestRollTowardsWall: case VO-31, a pipe beside a wall before and after a roll.
func TestRollTowardsWall(t *testing.T) {
	var in struct {
		P           geom.Vec
		AxisPoint   geom.Vec `json:"axis_point"`
		AxisDir     geom.Vec `json:"axis_dir"`
		AngleDeg    float64  `json:"angle_deg"`
		PlanePoint  geom.Vec `json:"plane_point"`
		PlaneNormal geom.Vec `json:"plane_normal"`
		Radius      float64
	}
	var out struct {
		Before float64 `json:"gap_before"`
		After  float64 `json:"gap_after"`
	}
	readCase(t, "VO-31", &in, &out)
	if in.AxisDir != (geom.Vec{1, 0, 0}) {
		t.Fatalf("the case turns about %v, not about the roll axis", in.AxisDir)
	}
	m := Motion{Pivot: in.AxisPoint}
	gapMM := func(rollDeg float64) float64 {
		at := m.Pose(Setting{Roll: rollDeg * math.Pi / 180}).Point(in.P)
		return at.Sub(in.PlanePoint).Dot(in.PlaneNormal) - in.Radius
	}
	if before, after := gapMM(0), gapMM(in.AngleDeg); math.Abs(before-out.Before) > caseTolMM || math.Abs(after-out.After) > caseTolMM {
		t.Errorf("gap %.9f, after the roll %.9f, want %+v", before, after, out)
	}
}

// TestGapBudget: case VO-33, what motion, heat and tolerances leave of a gap.
func TestGapBudget(t *testing.T) {
	var in struct {
		Static  float64
		Moves   []float64
		Thermal float64
		Tol     []float64
	}
	var out struct {
		Worst float64 `json:"gap_worst"`
		RSS   float64 `json:"gap_rss"`
	}
	readCase(t, "VO-33", &in, &out)
	// A point that moves and grows straight towards a wall.
	m := Motion{HasRange: true}
	for _, moveMM := range in.Moves {
		m.Hi[Y] += moveMM
	}
	grown := Growth{Scale: 1 + in.Thermal/100}.Pose(geom.Identity())
	at := m.Pose(m.Hi).After(grown).Point(geom.Vec{0, 100, 0}.Mul(1 + in.Thermal/100))
	leftMM := 100 + in.Static - at[1]
	s := StackOf(in.Tol...)
	if math.Abs(leftMM-s.WorstMM-out.Worst) > caseTolMM || math.Abs(leftMM-s.RSSMM-out.RSS) > caseTolMM {
		t.Errorf("left %.9f, worst %.9f, root sum square %.9f, want %+v", leftMM, leftMM-s.WorstMM, leftMM-s.RSSMM, out)
	}
}

func readCase(t *testing.T, id string, in, out any) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID               string
			Inputs, Expected json.RawMessage
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID != id {
			continue
		}
		if err := json.Unmarshal(c.Inputs, in); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(c.Expected, out); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Fatalf("no case %s", id)
}
