package layout_test

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/layout"
)

func ExampleDecode() {
	_, err := layout.Decode([]byte(`{
  "format": "aftbay-layout", "version": 1, "title": "two slips",
  "parts": [
    {"name": "coil 1", "role": "coil", "mesh": "meshes/coil.stl", "massKg": 0.4},
    {"name": "coil 2", "role": "coil", "mesh": "../coil.stl"}
  ]
}`), "layout.json")
	fmt.Println(err)
	// Output:
	// layout.json:4: parts[0] "coil 1": unknown key "massKg"; did you mean "mass_kg"?
	// layout.json:5: parts[1] "coil 2", mesh: the path "../coil.stl" leaves the layout folder; put the file in the layout folder
}

func ExampleEncode() {
	data, err := layout.Encode(&layout.Document{
		Title: "one coil",
		Parts: []layout.Part{{Name: "coil 1", Role: "coil", Mesh: "meshes/coil.stl", MoveMM: geom.Vec{2100, -50.5, 640}}},
	})
	fmt.Print(string(data), err)
	// Output:
	// {
	//   "format": "aftbay-layout",
	//   "version": 1,
	//   "title": "one coil",
	//   "parts": [
	//     {
	//       "name": "coil 1",
	//       "role": "coil",
	//       "mesh": "meshes/coil.stl",
	//       "move_mm": [2100, -50.5, 640]
	//     }
	//   ]
	// }
	// <nil>
}
