package rearview

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// TestForwardPlate: a plate before a line on the road, by similar triangles: a
// plate of width p at d hides p·D/d of a line at D from one eye, and from both
// eyes, b apart, b·(D/d - 1) less. It begins to hide at h·(1 - d/D).
func TestForwardPlate(t *testing.T) {
	const distMM, plateMM, wideMM, lineMM = 10000.0, 2500.0, 400.0, 6000.0
	view := flatMirror()
	view.Forward = &layout.Forward{TargetMM: []geom.Vec{{1500 - distMM, -lineMM / 2, 0}, {1500 - distMM, lineMM / 2, 0}}}
	at := func(topMM float64) *Forward {
		m := block(geom.Vec{1500 - plateMM, -wideMM / 2, -10}, geom.Vec{1501 - plateMM, wideMM / 2, topMM})
		m.Tris = m.Tris[8:10]
		return answer(t, build(t, view, piece{name: "plate", mesh: m})).Forward
	}
	f := at(1000)
	const scale, apartMM = distMM / plateMM, 65.0
	one, two := wideMM*scale/lineMM, (wideMM*scale-apartMM*(scale-1))/lineMM
	near(t, "left", f.Seen.LeftShare, 1-one)
	near(t, "right", f.Seen.RightShare, 1-one)
	near(t, "either", f.Seen.EitherShare, 1-two)
	if f.Met || len(f.LostBy) != 1 || !strings.Contains(f.Sentence.String(), "plate takes") {
		t.Errorf("%+v", f)
	}
	near(t, "lost", f.LostBy[0].Share, two)
	near(t, "gained", f.LostBy[0].GainedShare, two)
	if h := f.Highest["plate"]; h.NoLossMM == nil || math.Abs(*h.NoLossMM-1210*(1-plateMM/distMM)) > 2e-6 {
		t.Errorf("height %+v", h)
	}
	if low := at(900); !low.Met || len(low.LostBy) != 0 || math.Abs(*low.Highest["plate"].NoLossMM-907.5) > 2e-6 {
		t.Errorf("under the line of sight: %+v", low)
	}
	// Beyond the target nothing counts.
	far := build(t, view, piece{name: "wall", mesh: block(geom.Vec{-9000, -5000, 0}, geom.Vec{1499 - distMM, 5000, 3000})})
	if f := answer(t, far).Forward; f.Seen.EitherShare != 1 {
		t.Errorf("a wall beyond the target: %+v", f)
	}
}

// TestForwardAgreesWithRays: slanted targets over lumps, through a dented pane.
func TestForwardAgreesWithRays(t *testing.T) {
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 3))
		between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
		view := &layout.RearView{
			RPointMM: &geom.Vec{1250, -360, 285},
			Mirror:   &layout.Mirror{CentreMM: geom.Vec{760, 0, 985}, WidthMM: 240, HeightMM: 60},
			Forward: &layout.Forward{
				TargetMM: []geom.Vec{{between(-9000, -4000), -3000, between(0, 800)}, {between(-9000, -4000), 2500, between(0, 800)}},
				GlassMM:  []geom.Vec{{440, -600, 700}, {440, 600, 700}, {440, 600, 1100}, {440, 0, 950}, {440, -600, 1100}},
			},
		}
		var pieces []piece
		for _, name := range []string{"a", "b", "c"} {
			pieces = append(pieces, piece{name: name, mesh: bump(rng, geom.Vec{between(-1500, 300), between(-900, 300), between(500, 750)}, between(60, 250), 8)})
		}
		sc := build(t, view, pieces...)
		f := answer(t, sc).Forward
		g, err := readGiven(sc.Doc)
		if err != nil {
			t.Fatal(err)
		}
		v := &rayView{st: &study{scene: sc, sight: &sight{glass: view.Forward.GlassMM}}}
		for i := range sc.Parts {
			v.toOwn = append(v.toOwn, sc.Parts[i].Pose.Inverse())
		}
		const n = 20000
		var seen [2]int
		either := 0
		for i := range n {
			at := view.Forward.TargetMM[0].Add(view.Forward.TargetMM[1].Sub(view.Forward.TargetMM[0]).Mul((float64(i) + 0.5) / n))
			any := false
			for k := range seen {
				if v.throughGlass(g.eyes[k], at) && !v.hit(g.eyes[k], at) {
					seen[k]++
					any = true
				}
			}
			either += ones(any)
		}
		// A few ends of pieces, each off by at most one sample.
		for _, c := range []struct{ got, want float64 }{{float64(seen[0]), f.Seen.LeftShare}, {float64(seen[1]), f.Seen.RightShare}, {float64(either), f.Seen.EitherShare}} {
			if math.Abs(c.got/n-c.want) > 20.0/n {
				t.Errorf("seed %d: rays %.5f, exact %.5f", seed, c.got/n, c.want)
			}
		}
	}
}

// TestForwardRefuses what cannot be a target.
func TestForwardRefuses(t *testing.T) {
	for want, target := range map[string][]geom.Vec{
		"behind the eyes": {{2000, -500, 0}, {2000, 500, 0}},
		"side by side":    {{-3000, -32.5, 1210}, {-9000, -32.5, 1210}},
		"two points":      {{-3000, 0, 0}},
	} {
		view := flatMirror()
		sc := build(t, view)
		sc.Doc.RearView.Forward = &layout.Forward{TargetMM: target}
		if _, err := Run(t.Context(), sc, Options{}, nil); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "rear_view.forward.target_mm") {
			t.Errorf("error %v does not say %q", err, want)
		}
	}
}
