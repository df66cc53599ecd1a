package scene_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
)

func Example() {
	dir, err := os.MkdirTemp("", "layout")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	const triangle = "solid t\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 10 0 0\nvertex 0 10 0\nendloop\nendfacet\nendsolid t\n"
	doc := &layout.Document{Title: "one sheet", Parts: []layout.Part{
		{Name: "shield", Role: "shield", Mesh: "sheet.stl", Group: "powertrain", MoveMM: geom.Vec{2000, 0, 300}},
	}}
	if err := os.WriteFile(filepath.Join(dir, "sheet.stl"), []byte(triangle), 0o644); err != nil {
		fmt.Println(err)
		return
	}
	if err := layout.Save(dir, doc); err != nil {
		fmt.Println(err)
		return
	}

	doc, folder, err := layout.Open(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer folder.Close()
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	low := s.Moved("powertrain", geom.Shift(geom.Vec{0, 0, -25}))
	fmt.Println("closed:", s.Parts[0].Closed)
	fmt.Println("stands at", s.Parts[0].Box.Min, "and 25 mm lower at", low.Parts[0].Box.Min)
	// Output:
	// closed: false
	// stands at [2000 0 300] and 25 mm lower at [2000 0 275]
}
