package patch_test

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/thermal/patch"
)

// A sheet has patches on both sides.
func ExampleBuild() {
	sheet := &mesh.Mesh{Verts: []geom.Vec{{}, {200, 0, 0}, {200, 100, 0}, {0, 100, 0}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	set, err := patch.Build([]patch.Body{{Name: "sheet", Mesh: sheet, Pose: geom.Identity()}}, patch.Options{EdgeMM: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	var areaM2 float64
	for _, p := range set.Patches {
		areaM2 += p.AreaM2
	}
	fmt.Printf("%d patches, %.3f m²\n", len(set.Patches), areaM2)
	// Output:
	// 16 patches, 0.040 m²
}
