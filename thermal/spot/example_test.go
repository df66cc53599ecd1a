package spot_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/spot"
)

// A sensor looks for a place on a plate whose rear half has a low ceiling above
// and a floor right below.
func ExampleSearch() {
	s, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := spot.Search(context.Background(), s, nil, spot.Options{Most: 3}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, one := range r.Spots {
		fmt.Printf("%d. on %s, in front of the ceiling: %t\n", one.Rank, one.Host, one.PointMM[0] < 2100)
	}
	for _, f := range r.Refused {
		if f.Reason == spot.Overlap {
			fmt.Println("some are refused:", f.Reason)
		}
	}
	// Output:
	// 1. on plate, in front of the ceiling: true
	// 2. on plate, in front of the ceiling: true
	// 3. on plate, in front of the ceiling: true
	// some are refused: overlaps a part
}

// bench makes the example's scene in a folder of its own.
func bench() (*scene.Scene, error) {
	dir, err := os.MkdirTemp("", "spots")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	for name, box := range map[string]geom.Box{
		"plate.stl":   {Min: geom.Vec{2000, 0, 400}, Max: geom.Vec{2200, 100, 410}},
		"ceiling.stl": {Min: geom.Vec{2100, -50, 0}, Max: geom.Vec{2300, 150, 50}},
		"sensor.stl":  {Min: geom.Vec{-10, -10, 0}, Max: geom.Vec{10, 10, 30}},
	} {
		if err := writeBox(filepath.Join(dir, name), box); err != nil {
			return nil, err
		}
	}
	err = layout.Save(dir, &layout.Document{
		Title: "bench",
		Parts: []layout.Part{
			{Name: "plate", Role: "engine", Mesh: "plate.stl"},
			{Name: "floor", Role: "body", Mesh: "ceiling.stl", MoveMM: geom.Vec{0, 0, 340}},
			{Name: "ceiling", Role: "body", Mesh: "ceiling.stl", MoveMM: geom.Vec{0, 0, 420}},
		},
		Spots: []layout.Spot{{Name: "sensor", Role: "sensor", Mesh: "sensor.stl", Hosts: []string{"part:plate"}}},
	})
	if err != nil {
		return nil, err
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		return nil, err
	}
	defer folder.Close()
	return scene.Build(context.Background(), doc, folder, nil, scene.Options{})
}

func writeBox(path string, box geom.Box) error {
	corners := box.Corners()
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close()
	return (&mesh.Mesh{Verts: corners[:], Tris: [][3]int32{
		{0, 2, 1},
		{1, 2, 3},
		{4, 5, 6},
		{5, 7, 6},
		{0, 1, 4},
		{1, 5, 4},
		{2, 6, 3},
		{3, 6, 7},
		{0, 4, 2},
		{2, 4, 6},
		{1, 3, 5},
		{3, 7, 5},
	}}).WriteSTL(file, "box")
}
