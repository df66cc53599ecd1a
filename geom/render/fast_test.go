package render

import (
	"bytes"
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// TestRunMeetsFill draws triangles of about a pixel, most with one pixel centre
// in their box or none, by the run and one by one with fill: same samples.
func TestRunMeetsFill(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	m := &mesh.Mesh{}
	for range 20_000 {
		at := geom.Vec{rng.Float64()*200 - 100, rng.Float64()*200 - 100, rng.Float64()*200 - 100}
		for range 3 {
			m.Verts = append(m.Verts, at.Add(geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}))
		}
		n := int32(len(m.Verts))
		m.Tris = append(m.Tris, [3]int32{n - 3, n - 2, n - 1})
	}
	for _, closed := range []bool{false, true} {
		s := Scene{Items: []Item{{Mesh: m, Pose: geom.Identity(), Color: Swatch(0), Closed: closed}}}
		c := NewCamera().Fit(s.Box(), 150, 110)
		c.DistMM *= 0.7 // some are off the picture
		f := draw(t, s, c, Options{Workers: 1}, 150, 110)
		want := make([]uint64, f.w*f.h)
		for k, tri := range m.Tris {
			a, b, d := f.buf.corner[tri[0]], f.buf.corner[tri[1]], f.buf.corner[tri[2]]
			if a.out|b.out|d.out == 0 && !(closed && facing(a, b, d) < 0) {
				fill(want, f.w, f.h, uint32(k+1), a, b, d)
			}
		}
		if !slices.Equal(f.buf.vis, want) {
			t.Errorf("closed %v: the run differs from fill", closed)
		}
	}
}

// TestOutlinesMeetRule compares the outlines with the plain rule, asked of every
// sample: it is another item, or a jump in depth.
func TestOutlinesMeetRule(t *testing.T) {
	s := bay(t)
	s.Items = append(s.Items, Item{Mesh: ball(300, 20), Pose: geom.Identity(), Color: Swatch(3), Closed: true})
	for _, parallel := range []bool{false, true} {
		for _, cuts := range [][]Cut{nil, {{Point: s.Box().Center(), Normal: geom.Vec{1, 0, 0}}}} {
			c := NewCamera()
			c.Parallel = parallel
			c = c.FitPoints(s.Corners(), 320, 200)
			o := Options{NoEdges: true, Workers: 1, Cuts: cuts}
			got := draw(t, s, c, o, 320, 200)
			o.NoOutlines = true
			p := newPainter(context.Background(), s, c, o, 320, 200, 1)
			p.f = draw(t, s, c, o, 320, 200)
			want, vis, who := p.f.Image.Pix, p.f.buf.vis, &teller{f: p.f}
			lines := 0
			for k, v := range vis {
				x, y := k%320, k/320
				at := func(on bool, off int) uint64 { // the neighbour, where there is one
					if on {
						return vis[k+off]
					}
					return v
				}
				before, above := uint64(0), uint64(0)
				if x > 0 {
					before = vis[k-1]
				}
				if y > 0 {
					above = vis[k-320]
				}
				next, under := at(x < 319, 1), at(y < 199, 320)
				if uint32(v) != uint32(next) && p.parts(who, before, v, next) || uint32(v) != uint32(under) && p.parts(who, above, v, under) {
					blend(want[4*k:4*k+4], tonesOf(false).line.packed(), outlineShare)
					lines++
				}
			}
			if lines == 0 || !bytes.Equal(got.Image.Pix, want) {
				t.Errorf("parallel %v, %d cuts: the outlines differ from the rule (%d of them)", parallel, len(cuts), lines)
			}
		}
	}
}

// TestAverageFour meets the plain mean of four, rounded half up.
func TestAverageFour(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2))
	upper, lower, out := make([]uint8, 8*500), make([]uint8, 8*500), make([]uint8, 4*500)
	for i := range upper {
		upper[i], lower[i] = uint8(rng.Uint32()), uint8(rng.Uint32())
		if i < 800 { // the ends of the range
			upper[i], lower[i] = 255*(upper[i]&1), 255*(lower[i]&1)
		}
	}
	averageFour(out, upper, lower)
	for i, got := range out {
		a := i/4*8 + i%4
		want := uint8((int(upper[a]) + int(upper[a+4]) + int(lower[a]) + int(lower[a+4]) + 2) / 4)
		if i%4 == 3 {
			want = 255
		}
		if got != want {
			t.Fatalf("byte %d: %d, want %d", i, got, want)
		}
	}
}
