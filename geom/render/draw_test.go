package render

import (
	"bytes"
	"context"
	"errors"
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

func draw(t testing.TB, s Scene, c Camera, o Options, wPx, hPx int) *Frame {
	t.Helper()
	f, err := Draw(context.Background(), s, c, o, wPx, hPx)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// busy is a scene with everything in it.
func busy(t testing.TB) (Scene, Camera, Options) {
	s := bay(t)
	for i := range s.Items {
		it := &s.Items[i]
		it.Ghost, it.Selected = i%9 == 4, i%13 == 5
		if i%3 == 0 {
			it.Field = make([]float32, len(it.Mesh.Tris))
			for k := range it.Field {
				a, _, _ := it.Mesh.Corners(k)
				it.Field[k] = float32(it.Pose.Point(a)[2])
			}
			it.Field[0] = float32(math.NaN())
		}
	}
	s.Overlay = Overlay{
		Witnesses: []Witness{{From: geom.Vec{-600, 0, 900}, To: geom.Vec{-200, 300, 500}, Text: "12.4 mm", Color: ShortColor}},
		Markers:   []Marker{{At: geom.Vec{-400, 200, 700}, Text: "3", Color: OkColor}},
		Labels:    []Label{{At: geom.Vec{-400, -200, 600}, Text: "head_left"}},
		Paths:     []Path{{Points: []geom.Vec{{300, 0, 0}, {300, 0, 900}, {-900, 0, 1000}}, Color: AccentColor}},
	}
	s.Overlay.Flows = []Flow{{From: geom.Vec{0, -500, 500}, To: geom.Vec{-600, -500, 300}, Text: "45 %", Color: AccentColor, Share: 0.45}}
	c := NewCamera().FitPoints(s.Corners(), 320, 240)
	o := Options{
		Triad: true, Ground: &Ground{}, Field: &FieldScale{
			Title: "Height\nover ground", Unit: "mm", Low: 0, High: 1000,
			Marks: []ScaleMark{{Value: 620, Text: "limit 620"}}, Foot: "up to 1240",
		},
		Cuts: []Cut{{Point: geom.Vec{-200, 0, 0}, Normal: geom.Vec{1, 0.2, 0}}},
	}
	return s, c, o
}

func TestSameBitsForAnyWorkers(t *testing.T) {
	s, c, o := busy(t)
	s.Items[4].Selected = true // see-through and selected at once
	for _, samples := range []int{1, 2} {
		o.Supersample = samples
		var first []byte
		for _, workers := range []int{1, 2, 7} {
			o.Workers = workers
			f := draw(t, s, c, o, 320, 240)
			if first == nil {
				first = f.Image.Pix
			}
			if !bytes.Equal(first, f.Image.Pix) {
				t.Errorf("%d workers, %d samples: another picture", workers, samples)
			}
		}
	}
}

func TestReusedMemoryChangesNothing(t *testing.T) {
	s, c, o := busy(t)
	fresh := draw(t, s, c, o, 320, 240)
	o.Reuse = draw(t, s, c.Look(ViewTop), o, 400, 300)
	again := draw(t, s, c, o, 320, 240)
	if !bytes.Equal(fresh.Image.Pix, again.Image.Pix) {
		t.Error("a reused frame shines through")
	}
	if _, ok := o.Reuse.Pick(10, 10); ok {
		t.Error("a frame given away must not answer")
	}
}

func TestAskedInVain(t *testing.T) {
	s := Scene{Items: []Item{{Mesh: mesh1(), Pose: geom.Identity()}}}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Draw(ctx, s, NewCamera(), Options{}, 10, 10); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	for _, size := range [][2]int{{0, 10}, {10, -1}, {20000, 10}} {
		if _, err := Draw(context.Background(), s, NewCamera(), Options{}, size[0], size[1]); err == nil {
			t.Errorf("size %v must be refused", size)
		}
	}
}

func TestNothingToSee(t *testing.T) {
	for _, s := range []Scene{
		{},
		{Items: []Item{{Hidden: true}, {Mesh: &mesh.Mesh{}, Pose: geom.Identity(), Selected: true, Ghost: true}}},
		{Items: []Item{{Mesh: &mesh.Mesh{Verts: []geom.Vec{{1, 2, 3}}, Tris: [][3]int32{{0, 0, 0}}}, Pose: geom.Identity()}}},
	} {
		f := draw(t, s, NewCamera(), Options{Ground: &Ground{}, Triad: true, Cuts: []Cut{{Normal: geom.Vec{1, 0, 0}}}}, 40, 30)
		if _, ok := f.Pick(20, 15); ok {
			t.Error("picked something in an empty scene")
		}
	}
}

func TestCapIsTheCutFace(t *testing.T) {
	// A ball cut through its middle, seen square on: the cap is a disc. Its
	// 28-gon outline (sides of the ball's mesh) has the area below.
	const radius, n = 100.0, 14
	ballMesh := ball(radius, n)
	inner, _ := block(20, 20, 20)
	s := Scene{Items: []Item{
		{Mesh: ballMesh, Pose: geom.Identity(), Closed: true},
		{Mesh: inner, Pose: geom.Shift(geom.Vec{0, 0, 0}), Closed: true},
	}}
	for _, parallel := range []bool{true, false} {
		c := Camera{DistMM: 1000, FieldRad: 2 * math.Atan(0.12), Parallel: parallel}.Look(ViewTop)
		f := draw(t, s, c, Options{Cuts: []Cut{{Point: geom.Vec{}, Normal: geom.Vec{0, 0, 1}}}}, 240, 240)
		disc, both := 0, 0
		for y := range 240 {
			for x := range 240 {
				p, ok := f.Pick(x, y)
				if !ok {
					continue
				}
				if p.Triangle != -1 {
					t.Fatalf("(%d, %d): picked triangle %d of item %d, want the cap", x, y, p.Triangle, p.Item)
				}
				if !near(p.Point[2], 0, 1e-9) {
					t.Fatalf("(%d, %d): cap at height %v", x, y, p.Point[2])
				}
				disc++
				if f.buf.twice[y*240+x] {
					both++
				}
			}
		}
		// 1 px is 1 mm; the outline's pixels may fall either way: ± half the rim.
		want := n * radius * radius * math.Sin(math.Pi/n)
		if !near(float64(disc), want, 100) {
			t.Errorf("parallel %v: cap of %d px, want %.0f", parallel, disc, want)
		}
		if !near(float64(both), 40*40, 80) {
			t.Errorf("parallel %v: overlap of %d px, want 1600", parallel, both)
		}
	}
}

func TestHollowAndFarSideHaveNoCap(t *testing.T) {
	// A shell: outer box outward, inner box turned inside out.
	outer, _ := block(50, 50, 50)
	in, _ := block(30, 30, 30)
	shell := &mesh.Mesh{Verts: append(append([]geom.Vec{}, outer.Verts...), in.Verts...), Tris: append([][3]int32{}, outer.Tris...)}
	for _, tri := range in.Tris {
		shell.Tris = append(shell.Tris, [3]int32{tri[0] + 8, tri[2] + 8, tri[1] + 8})
	}
	s := Scene{Items: []Item{{Mesh: shell, Pose: geom.Identity(), Closed: true}}}
	c := Camera{DistMM: 1000, FieldRad: 2 * math.Atan(0.06), Parallel: true}.Look(ViewTop)
	cut := Options{Cuts: []Cut{{Normal: geom.Vec{0, 0, 1}}}}
	f := draw(t, s, c, cut, 120, 120)
	if p, ok := f.Pick(60, 60); !ok || p.Triangle < 12 || !near(p.Point[2], -30, 1e-6) {
		t.Errorf("the hollow shows %v %v, want its floor", p, ok)
	}
	if p, ok := f.Pick(60, 20); !ok || p.Triangle != -1 {
		t.Errorf("the wall shows %v %v, want a cap", p, ok)
	}
	f = draw(t, s, c.Look(ViewBottom), cut, 120, 120)
	if p, ok := f.Pick(60, 60); !ok || p.Triangle < 0 || !near(p.Point[2], -50, 1e-6) {
		t.Errorf("from below: %v %v, want the outer floor", p, ok)
	}
}

func TestGhostsArePickedLast(t *testing.T) {
	front, _ := block(10, 100, 100)
	back, _ := block(10, 30, 30)
	s := Scene{Items: []Item{
		{Mesh: front, Pose: geom.Shift(geom.Vec{200, 0, 0}), Closed: true, Ghost: true},
		{Mesh: back, Pose: geom.Identity(), Closed: true},
	}}
	c := Camera{DistMM: 1000, FieldRad: 0.5}.Look(ViewRear)
	f := draw(t, s, c, Options{}, 200, 200)
	if p, ok := f.Pick(100, 100); !ok || p.Item != 1 {
		t.Errorf("middle: %v %v, want the solid behind the see-through one", p, ok)
	}
	if p, ok := f.Pick(100, 70); !ok || p.Item != 0 || !near(p.Point[0], 210, 1e-6) {
		t.Errorf("beside it: %v %v, want the see-through one", p, ok)
	}
}

func TestFieldColours(t *testing.T) {
	m := mesh1()
	it := Item{Mesh: m, Pose: geom.Identity(), Closed: true, Field: make([]float32, len(m.Tris))}
	for i := range it.Field {
		it.Field[i] = float32(i)
	}
	o := Options{NoEdges: true, NoOutlines: true, Field: &FieldScale{Low: 0, High: 11}}
	f := draw(t, Scene{Items: []Item{it}}, NewCamera(), o, 400, 300)
	p, ok := f.Pick(200, 150)
	if !ok {
		t.Fatal("nothing in the middle")
	}
	i := f.Image.PixOffset(200, 150)
	got, want := f.Image.Pix[i:i+3], ScaleColor(float64(p.Triangle)/11)
	// Shading scales all channels of light alike: hue stays, brightness by no
	// more than a quarter.
	for k, w := range []uint8{want.R, want.G, want.B} {
		ratio := linear(float64(got[k])/255) / linear(float64(w)/255)
		if ratio < 0.7 || ratio > 1.15 {
			t.Errorf("channel %d is %d, scale says %d", k, got[k], w)
		}
	}
}

func TestOverlayIsDrawnWhereItBelongs(t *testing.T) {
	c := Camera{DistMM: 1000, FieldRad: 2 * math.Atan(0.1)}.Look(ViewRear) // 1 px = 1 mm
	red := RGB{255, 0, 0}
	s := Scene{Overlay: Overlay{
		Markers:   []Marker{{At: geom.Vec{0, 50, 50}, Color: red}},
		Witnesses: []Witness{{From: geom.Vec{0, -60, -40}, To: geom.Vec{0, 60, -40}, Color: red}},
	}}
	f := draw(t, s, c, Options{}, 200, 200)
	is := func(x, y int) bool {
		p := f.Image.RGBAAt(x, y)
		return p.R > 240 && p.G < 20
	}
	for _, q := range []struct {
		x, y int
		want bool
	}{{150, 50, true}, {150 + 8, 50, true}, {150 + 16, 50, false}, {100, 139, true}, {100, 133, false}, {45, 140, true}, {32, 140, false}} {
		if is(q.x, q.y) != q.want {
			t.Errorf("pixel (%d, %d) red: %v, want %v", q.x, q.y, !q.want, q.want)
		}
	}
}

func TestFlatSurfacesSeenEdgeOnHaveNoOutlinesInside(t *testing.T) {
	// A plate at 4°: neighbouring rows are far apart in depth, yet it is one plane.
	plate, _ := block(500, 500, 1)
	s := Scene{Items: []Item{{Mesh: plate, Pose: geom.Identity(), Closed: true, Color: Swatch(1)}}}
	for _, parallel := range []bool{false, true} {
		c := Camera{DistMM: 3000, FieldRad: 0.5, ElevationRad: 4 * math.Pi / 180, Parallel: parallel}
		with, without := draw(t, s, c, Options{}, 200, 200), draw(t, s, c, Options{NoOutlines: true}, 200, 200)
		inside := func(x, y int) bool {
			for _, d := range [][2]int{{0, 0}, {1, 0}, {0, 1}} {
				if _, ok := with.Pick(x+d[0], y+d[1]); !ok {
					return false
				}
			}
			return true
		}
		n := 0
		for y := range 200 {
			for x := range 200 {
				if !inside(x, y) {
					continue
				}
				n++
				if with.Image.RGBAAt(x, y) != without.Image.RGBAAt(x, y) {
					t.Fatalf("parallel %v: outline inside at (%d, %d)", parallel, x, y)
				}
			}
		}
		if n < 300 {
			t.Fatalf("only %d pixels inside", n)
		}
	}
}

// Lines of a picture drawn at half size, to be stretched, are half as wide.
func TestLinesOfAHalfPicture(t *testing.T) {
	s := Scene{Items: []Item{{Mesh: mesh1(), Pose: geom.Identity()}}}
	s.Overlay.Paths = []Path{{Points: []geom.Vec{{0, -500, 0}, {0, 500, 0}}, WidthPx: 8}}
	c := Camera{DistMM: 1000, FieldRad: 0.8, Parallel: true}.Look(ViewRear)
	covered := func(o Options) (rows int) {
		f := draw(t, s, c, o, 60, 60)
		plain := draw(t, Scene{Items: s.Items}, c, o, 60, 60)
		for y := range 60 {
			if i := f.Image.PixOffset(10, y); f.Image.Pix[i] != plain.Image.Pix[i] {
				rows++
			}
		}
		return rows
	}
	whole, half := covered(Options{}), covered(Options{LineShare: 0.5})
	if whole < 8 || whole > 9 || half < 4 || half > 5 {
		t.Errorf("a line of 8 pixels covers %d rows, half of it %d", whole, half)
	}
}
