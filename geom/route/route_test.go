package route

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// referenceCase is the part of a reference check that this package answers.
type referenceCase struct {
	ID     string `json:"id"`
	Inputs struct {
		Points []geom.Vec `json:"points"`
		ClrMM  float64    `json:"clr"`
		OdMM   float64    `json:"od"`
		Factor float64    `json:"factor"`
	} `json:"inputs"`
	Expected struct {
		LengthMM      float64   `json:"length"`
		BendsDeg      []float64 `json:"bends_deg"`
		MinStraightMM float64   `json:"min_straight"`
		MinRadiusMM   float64   `json:"min_radius"`
		TurnWidthMM   float64   `json:"u_turn_width"`
		TurnLengthMM  float64   `json:"u_turn_length"`
	} `json:"expected"`
}

func reference(t *testing.T, id string) referenceCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/vehicle_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []json.RawMessage `json:"cases"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, raw := range file.Cases {
		var name struct {
			ID string `json:"id"`
		}
		if json.Unmarshal(raw, &name) == nil && name.ID == id {
			var c referenceCase
			if err := json.Unmarshal(raw, &c); err != nil {
				t.Fatal(err)
			}
			return c
		}
	}
	t.Fatalf("no case %s", id)
	return referenceCase{}
}

// near allows 1e-6 relative, the tolerance the reference file states.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-6*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: got %.9g, want %.9g", what, got, want)
	}
}

// Source: reference case VO-35 (developed length and set-back of tube bending).
func TestPrimaryWithTwoBends(t *testing.T) {
	c := reference(t, "VO-35")
	_, l, err := Tube(c.Inputs.Points, 22, c.Inputs.ClrMM, 24)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "length", l.DevelopedMM, c.Expected.LengthMM)
	near(t, "shortest straight", l.ShortestStraightMM, c.Expected.MinStraightMM)
	if len(l.BendsRad) != len(c.Expected.BendsDeg) {
		t.Fatalf("bends: got %v, want %v degrees", l.BendsRad, c.Expected.BendsDeg)
	}
	for i, want := range c.Expected.BendsDeg {
		near(t, "bend", l.BendsRad[i]*180/math.Pi, want)
	}
	m, err := Measure(c.Inputs.Points, c.Inputs.ClrMM)
	if err != nil || m.DevelopedMM != l.DevelopedMM {
		t.Errorf("Measure: %v, %v; want the length of Tube, %v", m.DevelopedMM, err, l.DevelopedMM)
	}
}

// Source: reference case VO-36 (10 x diameter rule, US Army TM 1-1500-204-23-4).
func TestBundleBend(t *testing.T) {
	c := reference(t, "VO-36")
	r, w, l := LeastBundleBend(c.Inputs.OdMM, c.Inputs.Factor)
	near(t, "radius", r, c.Expected.MinRadiusMM)
	near(t, "U-turn width", w, c.Expected.TurnWidthMM)
	near(t, "U-turn length", l, c.Expected.TurnLengthMM)
}

// The volume of a tube is section x developed length (Pappus); with n sides the
// section is the inscribed n-gon's. The chords of the bends take a little more.
func TestTubeIsAClosedSolidOfKnownVolume(t *testing.T) {
	cases := []struct {
		name   string
		points []geom.Vec
		bendMM float64
	}{
		{"straight", []geom.Vec{{0, 0, 0}, {0, 0, 300}}, 0},
		{"one bend in space", []geom.Vec{{0, 0, 0}, {200, 10, 0}, {220, 260, 130}}, 60},
		{"point on a straight", []geom.Vec{{0, 0, 0}, {100, 0, 0}, {200, 0, 0}}, 60},
		{"bends that meet", []geom.Vec{{0, 0, 0}, {60, 0, 0}, {60, 120, 0}, {120, 120, 0}}, 60},
		{"mitred", []geom.Vec{{0, 0, 0}, {200, 0, 0}, {200, 150, 0}, {200, 150, 300}}, 0},
	}
	for _, c := range cases {
		const radiusMM, sides = 20.0, 48
		m, l, err := Tube(c.points, radiusMM, c.bendMM, sides)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if h := mesh.Inspect(m); !h.Closed || h.Flipped != 0 || h.Degenerate != 0 || h.Duplicate != 0 {
			t.Errorf("%s: not a clean solid: %+v", c.name, h)
		}
		want := sides / 2.0 * radiusMM * radiusMM * math.Sin(2*math.Pi/sides) * l.DevelopedMM
		got := mesh.Measure(m).VolumeMM3
		// 0.3 %: a bend cut in steps of at most 2·acos(1 − sideError/outer) = 3.8°
		// is shorter than its arc by 1 − sinc(1.9°) = 0.02 %; the rest is slack.
		if math.Abs(got-want) > 0.003*want {
			t.Errorf("%s: volume %.0f, want %.0f mm³", c.name, got, want)
		}
	}
}

// No vertex, edge midpoint or facet centre may be farther off the true surface
// than ChordMM, and every ring vertex must lie on it.
func TestChordErrorIsKept(t *testing.T) {
	points := []geom.Vec{{0, 0, 0}, {180, 0, 0}, {180, 220, 0}, {100, 300, -260}}
	for _, sides := range []int{5, 8, 16, 40} {
		m, l, err := Tube(points, 22, 66, sides)
		if err != nil {
			t.Fatal(err)
		}
		line, _ := newLine(points, 22, 66)
		random := rand.New(rand.NewPCG(1, uint64(sides)))
		for i, tri := range m.Tris[:len(m.Tris)-2*sides] {
			a, b, c := m.Verts[tri[0]], m.Verts[tri[1]], m.Verts[tri[2]]
			if off := math.Abs(line.distMM(a) - 22); off > 1e-9 {
				t.Fatalf("%d sides, facet %d: vertex %.3g mm off the tube", sides, i, off)
			}
			for range 8 {
				u, v := random.Float64(), random.Float64()
				if u+v > 1 {
					u, v = 1-u, 1-v
				}
				p := a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v))
				if off := math.Abs(line.distMM(p) - 22); off > l.ChordMM+1e-9 {
					t.Fatalf("%d sides, facet %d: %.4f mm off, ChordMM is %.4f", sides, i, off, l.ChordMM)
				}
			}
		}
	}
}

// distMM is the plain oracle: distance to the rounded centre line, piece by piece.
func (l *line) distMM(p geom.Vec) float64 {
	best := math.Inf(1)
	for i, dir := range l.dirs {
		from, to := l.backMM[i], l.legsMM[i]-l.backMM[i+1]
		s := math.Min(math.Max(p.Sub(l.points[i]).Dot(dir), from), to)
		best = math.Min(best, p.Sub(l.points[i].Add(dir.Mul(s))).Len())
	}
	for i, angle := range l.turnRad {
		if angle == 0 {
			continue
		}
		in, out := l.dirs[i-1], l.dirs[i]
		axis := in.Cross(out).Normalize()
		middle := l.points[i].Sub(in.Mul(l.backMM[i])).Add(axis.Cross(in).Mul(l.radiusMM))
		arm := p.Sub(middle)
		flat := arm.Sub(axis.Mul(arm.Dot(axis)))
		outward := axis.Cross(in).Mul(-1)
		at := math.Atan2(flat.Dot(in), flat.Dot(outward))
		if at >= 0 && at <= angle {
			best = math.Min(best, arm.Sub(flat.Normalize().Mul(l.radiusMM)).Len())
		}
	}
	return best
}

func TestBadRoutesNameThePlace(t *testing.T) {
	nan := math.NaN()
	cases := []struct {
		name   string
		points []geom.Vec
		r, clr float64
		sides  int
		want   string
	}{
		{"legs too short", []geom.Vec{{0, 0, 0}, {180, 0, 0}, {180, 100, 0}, {280, 100, 0}}, 22, 66, 16, "corner at point 2 (180, 0, 0): the leg from point 2 to point 3 is 100 mm"},
		{"mitre too short", []geom.Vec{{0, 0, 0}, {10, 0, 0}, {10, 300, 0}}, 22, 0, 16, "corner at point 2"},
		{"straight back", []geom.Vec{{0, 0, 0}, {100, 0, 0}, {0, 0, 0}}, 5, 10, 16, "turns straight back"},
		{"same point", []geom.Vec{{0, 0, 0}, {0, 0, 0}, {1, 0, 0}}, 5, 10, 16, "points 1 and 2 are the same"},
		{"one point", []geom.Vec{{0, 0, 0}}, 5, 10, 16, "needs at least 2"},
		{"not finite", []geom.Vec{{0, 0, 0}, {nan, 0, 0}}, 5, 10, 16, "point 2 is not a finite point"},
		{"folded bend", []geom.Vec{{0, 0, 0}, {100, 0, 0}, {100, 100, 0}}, 20, 10, 16, "less than the tube radius"},
		{"negative bend", []geom.Vec{{0, 0, 0}, {100, 0, 0}}, 20, -1, 16, "bend radius -1 mm"},
		{"no radius", []geom.Vec{{0, 0, 0}, {100, 0, 0}}, nan, 10, 16, "tube radius NaN mm"},
		{"two sides", []geom.Vec{{0, 0, 0}, {100, 0, 0}}, 20, 30, 2, "at least 3"},
	}
	for _, c := range cases {
		m, _, err := Tube(c.points, c.r, c.clr, c.sides)
		if err == nil || m != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", c.name, err, c.want)
		}
	}
}

func ExampleTube() {
	points := []geom.Vec{{0, 0, 0}, {180, 0, 0}, {180, 220, 0}}
	_, l, err := Tube(points, 22, 66, 24)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mm long, bends %.0f°, shortest straight %.0f mm, facets within %.2f mm\n",
		l.DevelopedMM, l.BendsRad[0]*180/math.Pi, l.ShortestStraightMM, l.ChordMM)
	// Output: 371.67 mm long, bends 90°, shortest straight 114 mm, facets within 0.35 mm
}
