package balance_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// square writes a sheet of 200 mm in the plane z, facing up or down.
func square(path string, z float64, up bool) error {
	m := &mesh.Mesh{Verts: []geom.Vec{{0, 0, z}, {200, 0, z}, {200, 200, z}, {0, 200, z}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	if !up {
		m.Tris = [][3]int32{{0, 2, 1}, {0, 3, 2}}
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return m.WriteSTL(f, "square")
}

// A cover 100 mm above a hot plate.
func ExampleRun() {
	if err := runExample(); err != nil {
		fmt.Println(err)
	}
	// Output:
	// cover: over its limit of 150 °C, most from plate
}

func runExample() error {
	dir, err := os.MkdirTemp("", "layout")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := square(filepath.Join(dir, "plate.stl"), 0, true); err != nil {
		return err
	}
	if err := square(filepath.Join(dir, "cover.stl"), 100, false); err != nil {
		return err
	}
	doc := &layout.Document{Title: "cover", Parts: []layout.Part{
		{Name: "plate", Role: "exhaust", Mesh: "plate.stl", Material: "Steel, oxidised", Thermal: &layout.Thermal{HeldDegC: new(600.0)}},
		{Name: "cover", Role: "body", Mesh: "cover.stl", Emissivity: new(0.9), LimitDegC: &layout.Limit{ContinuousDegC: new(150.0)}},
	}, Heat: &layout.Heat{Cases: []layout.HeatCase{{Name: "drive", AirDegC: new(60.0), AirSpeedMS: new(2.0)}}}}
	if err := layout.Save(dir, doc); err != nil {
		return err
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		return err
	}
	defer folder.Close()
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		return err
	}
	r, err := balance.Run(context.Background(), s, balance.Options{}, nil)
	if err != nil {
		return err
	}
	cover := r.Cases[0].Parts[1]
	fmt.Printf("%s: %s its limit of %.0f °C, most from %s\n", cover.Name, cover.Verdict, *cover.LimitDegC, cover.From[0].Part)
	return nil
}
