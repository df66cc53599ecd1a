package demo

import (
	"context"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// TestCoarse: the first answer is rough, but it names the same parts as over their
// limit, and no temperature of a part with a limit is further off than a coarse
// answer may be: 8 K, less than the bands are wide. The fine answer follows within
// seconds.
func TestCoarse(t *testing.T) {
	t.Parallel()
	const offK = 8
	s := stage(t, BrambleB)
	run := func(coarse bool) *balance.Result {
		r, err := balance.Run(context.Background(), s, balance.Options{Coarse: coarse}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	fine, coarse := run(false), run(true)
	worstK := 0.0
	for k := range fine.Cases {
		for i := range fine.Cases[k].Parts {
			f, c := &fine.Cases[k].Parts[i], &coarse.Cases[k].Parts[i]
			if f.LimitDegC == nil {
				continue
			}
			byK := math.Max(math.Abs(f.Temperature.NominalDegC-c.Temperature.NominalDegC), math.Abs(f.Temperature.HighDegC-c.Temperature.HighDegC))
			worstK = math.Max(worstK, byK)
			if byK > offK || (f.Verdict == balance.Over) != (c.Verdict == balance.Over) {
				t.Errorf("%s, %s: %+v is %s, coarse %+v is %s", fine.Cases[k].Name, f.Name, f.Temperature, f.Verdict, c.Temperature, c.Verdict)
			}
		}
	}
	t.Logf("at most %.1f K off", worstK)
	movedIsCheap(t, s, fine)
}

// movedIsCheap: a coil that is nudged leaves all but few rays of the bay as they
// are, and the answer is that of the whole.
func movedIsCheap(t *testing.T, s *scene.Scene, before *balance.Result) {
	t.Helper()
	coil, _ := s.Index("coil 5")
	moved := s.Placed(coil, geom.Shift(geom.Vec{0, 0, 5}).After(s.Parts[coil].Pose))
	r, err := balance.Run(context.Background(), moved, balance.Options{Prev: before}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if share := float64(r.Traced) / float64(r.Rays); share > 0.03 || r.Traced == 0 {
		t.Errorf("a nudged coil has %.1f %% of the rays traced again", 100*share)
	}
}
