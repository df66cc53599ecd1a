package render_test

import (
	"context"
	"fmt"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
)

func ExampleDraw() {
	plate := &mesh.Mesh{
		Verts: []geom.Vec{{0, -100, -100}, {0, 100, -100}, {0, 100, 100}, {0, -100, 100}},
		Tris:  [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	scene := render.Scene{Items: []render.Item{{Mesh: plate, Pose: geom.Identity(), Color: render.Swatch(0)}}}
	camera := render.NewCamera().Look(render.ViewRear).FitPoints(scene.Corners(), 200, 200)
	frame, err := render.Draw(context.Background(), scene, camera, render.Options{}, 200, 200)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, ok := frame.Pick(130, 60)
	fmt.Printf("%v, item %d, triangle %d, %.1f mm right, %.1f mm up\n", ok, p.Item, p.Triangle, p.Point[1], p.Point[2])
	// Output: true, item 0, triangle 1, 32.9 mm right, 42.7 mm up
}
