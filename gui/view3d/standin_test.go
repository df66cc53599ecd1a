package view3d

import (
	"math"
	"testing"

	"fyne.io/fyne/v2/driver/desktop"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
)

// ball returns a closed ball of triangles by latitude and longitude.
func ball(radiusMM float64, rings, sides int32) *mesh.Mesh {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, radiusMM}, {0, 0, -radiusMM}}}
	for r := range rings - 1 {
		for s := range sides {
			sinT, cosT := math.Sincos(math.Pi * float64(r+1) / float64(rings))
			sinP, cosP := math.Sincos(2 * math.Pi * float64(s) / float64(sides))
			m.Verts = append(m.Verts, geom.Vec{sinT * cosP, sinT * sinP, cosT}.Mul(radiusMM))
		}
	}
	at := func(r, s int32) int32 { return 2 + r*sides + s%sides }
	for s := range sides {
		m.Tris = append(m.Tris, [3]int32{0, at(0, s), at(0, s+1)}, [3]int32{1, at(rings-2, s+1), at(rings-2, s)})
		for r := range rings - 2 {
			m.Tris = append(m.Tris, [3]int32{at(r, s), at(r+1, s), at(r+1, s+1)}, [3]int32{at(r, s), at(r+1, s+1), at(r, s+1)})
		}
	}
	return m
}

// TestCoarseOnlyWhileMoving: a slow scene is drawn with coarse meshes while it
// is dragged, and never at rest.
func TestCoarseOnlyWhileMoving(t *testing.T) {
	b := newBench(t)
	fine := ball(150, 30, 40)
	b.coarse.from = 1000
	items := []render.Item{{Mesh: fine, Pose: geom.Identity(), Closed: true}, {Mesh: fine, Pose: geom.Identity(), Closed: true, Field: make([]float32, len(fine.Tris))}}
	b.SetScene(items)
	for _, job := range b.jobs {
		job()
	}
	made := b.coarse.of[fine]
	if made.mesh == nil || len(made.mesh.Tris) >= len(fine.Tris) || len(b.coarse.of) != 1 {
		t.Fatalf("no coarse mesh was made: %v", b.coarse.of)
	}
	b.jobs = nil
	b.SetScene(items)
	if b.coarse.of[fine].mesh != made.mesh || len(b.jobs) != 0 {
		t.Error("the same scene again makes the coarse meshes anew")
	}
	b.paint.tookS = 1 // as if drawing were slow
	b.press(300, 200, desktop.MouseButtonPrimary, 0)
	b.hand.dragging = true
	b.cam.DistMM = 1000
	b.changed()
	if s, rough := b.moving(b.paint.hPx / 2); !rough || s.Items[0].Mesh != made.mesh || s.Items[1].Mesh != fine {
		t.Error("while moving: the coarse mesh does not stand in for the plain part alone")
	}
	if b.current() == nil || !b.paint.quickRough {
		t.Error("the picture while dragging is not the coarse one")
	}
	b.hand.dragging = false
	if b.current() == nil || b.paint.quickRough || b.current().Image.Rect.Dx() != b.paint.wPx {
		t.Error("the picture at rest is still the coarse one")
	}
	b.cam.DistMM = 1 // a pixel is now less than the coarse mesh may lie off
	if _, rough := b.moving(b.paint.hPx); rough {
		t.Error("drawn from near, coarse meshes are used")
	}
	b.SetScene(nil)
	if len(b.coarse.of) != 0 {
		t.Error("meshes no longer shown are kept")
	}
}
