package mesh_test

import (
	"fmt"
	"os"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// An envelope of 100 x 90 x 80 mm with a hollow of 80 x 70 x 60 mm is read, judged, measured and cut through its middle.
func Example() {
	data, err := os.ReadFile("../../testdata/meshes/shapes_open/hollow_box.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := mesh.ReadSTL(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, said := mesh.Mended(m)
	fmt.Println("closed:", mesh.Inspect(m).Closed, "mended:", len(said))
	fmt.Printf("volume: %.0f mm³\n", mesh.Measure(m).VolumeMM3)
	up := geom.Vec{0, 0, 1}
	for _, line := range mesh.Section(m, geom.Identity(), mesh.Plane{Normal: up}) {
		fmt.Printf("outline of %.0f mm²\n", mesh.OutlineAreaMM2(line, up))
	}
	// Output:
	// closed: true mended: 0
	// volume: 384000 mm³
	// outline of 9000 mm²
	// outline of -5600 mm²
}
