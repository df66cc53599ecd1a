package render

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

func TestGolden(t *testing.T) {
	for _, g := range goldens(t) {
		t.Run(g.name, func(t *testing.T) {
			meetGolden(t, g.name, draw(t, g.scene, g.cam, g.o, 240, 180).Image)
		})
	}
	// The same at other sizes: narrow, low, large.
	for _, size := range [][2]int{{90, 300}, {400, 60}, {640, 480}} {
		g := goldens(t)[2]
		name := fmt.Sprintf("%s_%dx%d", g.name, size[0], size[1])
		t.Run(name, func(t *testing.T) {
			meetGolden(t, name, draw(t, g.scene, g.cam.FitPoints(g.scene.Corners(), size[0], size[1]), g.o, size[0], size[1]).Image)
		})
	}
}

type golden struct {
	name  string
	scene Scene
	cam   Camera
	o     Options
}

func goldens(t *testing.T) []golden {
	plain := bay(t)
	plain.Items[0].Selected = true
	everything, c, all := busy(t)
	all.TextPx, all.Supersample, all.Soft = 9, 2, true
	ballMesh := ball(90, 12)
	inner, edges := block(30, 60, 25)
	solids := Scene{Items: []Item{
		{Mesh: ballMesh, Pose: geom.Identity(), Color: Swatch(1), Closed: true},
		{Mesh: inner, Edges: edges, Pose: geom.Pose{R: geom.Turn(geom.Vec{0.2, 0, 0.5}), T: geom.Vec{0, 60, 10}}, Color: Swatch(4), Closed: true},
	}}
	solids.Overlay.Witnesses = []Witness{{From: geom.Vec{0, -90, 0}, To: geom.Vec{0, 90, 0}, Text: "180.0 mm", Color: OkColor}}
	near := NewCamera().FitPoints(solids.Corners(), 240, 180)
	flat := near.Look(ViewRear)
	flat.Parallel = true
	corner := NewCamera().FitPoints(plain.Corners(), 240, 180)
	corner3 := Options{Supersample: 2, TextPx: 10, Triad: true, Cuts: []Cut{
		{Point: geom.Vec{10, 0, 0}, Normal: geom.Vec{1, 0, 0}, Grid: true},
		{Point: geom.Vec{0, 0, 20}, Normal: geom.Vec{0, 0, 1}},
		{Point: geom.Vec{0, 60, 0}, Normal: geom.Vec{0.3, 1, 0}},
	}}
	across := Options{TextPx: 10, Dark: true, Cuts: []Cut{{Point: geom.Vec{5, 0, 0}, Normal: geom.Vec{1, 0, 0}, Grid: true}}}
	return []golden{
		{"bay_light", plain, corner, Options{Triad: true, Ground: &Ground{}, TextPx: 9}},
		{"bay_dark", plain, corner.Look(ViewTop), Options{Dark: true, Triad: true, Supersample: 2, Soft: true, TextPx: 9}},
		{"everything", everything, c, all},
		{"cut", solids, near, Options{Supersample: 2, TextPx: 10, Cuts: []Cut{{Normal: geom.Vec{1, 0, 0}}}}},
		{"cuts", solids, near, corner3},
		{"grid", solids, flat, across},
		{"parallel", solids, flat, Options{TextPx: 10, Dark: true}},
	}
}

// meetGolden compares with the stored picture: no channel off by more than 4 of
// 255 and under 1 % of the values different. The slack is for processors that
// fuse products and sums.
func meetGolden(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		write(t, path, got)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (go test -update makes it; look at it)", err)
	}
	want, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if want.Bounds() != got.Rect {
		t.Fatalf("size %v, want %v", got.Rect, want.Bounds())
	}
	worst, differ := 0.0, 0
	diff := image.NewRGBA(got.Rect)
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			r, g, b, _ := want.At(x, y).RGBA()
			i := got.PixOffset(x, y)
			diff.Pix[i+3] = 255
			for k, w := range []uint32{r >> 8, g >> 8, b >> 8} {
				off := math.Abs(float64(got.Pix[i+k]) - float64(w))
				worst = max(worst, off)
				if off > 0 {
					differ++
				}
				diff.Pix[i+k] = uint8(min(255, 20*off))
			}
		}
	}
	if worst > 4 || differ*100 > 3*got.Rect.Dx()*got.Rect.Dy() {
		write(t, filepath.Join("testdata", "failed", name+".png"), got)
		write(t, filepath.Join("testdata", "failed", name+"_diff.png"), diff)
		t.Errorf("off by up to %v, %d values differ: see testdata/failed", worst, differ)
	}
}

func write(t *testing.T, path string, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
