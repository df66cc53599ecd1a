package render

import (
	"context"
	"math"
	"testing"
)

// The camera's own projection agrees with that of a picture it draws, and the
// line of sight through a place leads to the point shown there.
func TestSightAgreesWithThePicture(t *testing.T) {
	s := bay(t)
	for _, parallel := range []bool{false, true} {
		c := NewCamera().FitPoints(s.Corners(), 320, 240)
		c.Parallel = parallel
		f, err := Draw(context.Background(), s, c, Options{Workers: 1}, 320, 240)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range s.Corners() {
			x, y, ok := f.Project(p)
			gotX, gotY, got := c.Project(p, 320, 240)
			if !ok || !got || math.Hypot(gotX-x, gotY-y) > 1e-6 {
				t.Fatalf("parallel %v: %v is at (%v, %v) %v, want (%v, %v) %v", parallel, p, gotX, gotY, got, x, y, ok)
			}
			from, dir := c.Sight(gotX, gotY, 320, 240)
			if off := p.Sub(from).Cross(dir).Len(); off > 1e-6 || math.Abs(dir.Len()-1) > 1e-12 || p.Sub(from).Dot(dir) <= 0 {
				t.Errorf("parallel %v: the sight through %v passes it at %v mm", parallel, p, off)
			}
			across, _, _ := c.basis()
			unitMM := c.SizeMM(p, 240)
			nextX, _, _ := c.Project(p.Add(across.Mul(unitMM)), 320, 240)
			if math.Abs(nextX-gotX-1) > 1e-9 {
				t.Errorf("parallel %v: %v mm at %v are %v units, want 1", parallel, unitMM, p, nextX-gotX)
			}
		}
	}
	if _, _, ok := NewCamera().Project(NewCamera().Eye().Mul(2), 10, 10); ok {
		t.Error("a point behind the eye is shown")
	}
}
