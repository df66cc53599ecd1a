package rearview_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/rearview"
	"aftbay/geom/scene"
)

// crestScene is a deck whose crest stands in the view, in a folder of its own.
func crestScene(dir string) (*scene.Scene, error) {
	f, err := os.Create(filepath.Join(dir, "deck.stl"))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if err := plain.Brick(geom.Vec{2900, -800, 600}, geom.Vec{3000, 800, 1168}).WriteSTL(f, "deck"); err != nil {
		return nil, err
	}
	doc := &layout.Document{
		Format: layout.Format, Version: layout.Version, Title: "crest",
		Parts: []layout.Part{{Name: "deck", Role: "deck", Mesh: "deck.stl"}},
		RearView: &layout.RearView{
			EyesMM: []geom.Vec{{1500, -32.5, 1210}, {1500, 32.5, 1210}},
			Mirror: &layout.Mirror{CentreMM: geom.Vec{981, 0, 1210}, WidthMM: 240, HeightMM: 60, Aim: &geom.Vec{1, 0, 0}},
		},
	}
	if err := layout.Save(dir, doc); err != nil {
		return nil, err
	}
	read, folder, err := layout.Open(dir)
	if err != nil {
		return nil, err
	}
	defer folder.Close()
	return scene.Build(context.Background(), read, folder, nil, scene.Options{})
}

// Who takes how much of the field, and how far it must come down.
func ExampleRun() {
	dir, err := os.MkdirTemp("", "view")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	s, err := crestScene(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := rearview.Run(context.Background(), s, rearview.Options{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("either eye sees %.2f %%, met: %v\n", 100*r.Seen.EitherShare, r.Required.Met)
	h := r.HighestAllowedMM["deck"]
	fmt.Printf("deck: top at %.0f, no loss up to %.2f, allowed up to %.2f mm\n", h.NowMM, *h.NoLossMM, *h.AtAllowanceMM)
	// Output:
	// either eye sees 69.69 %, met: false
	// deck: top at 1168, no loss up to 1159.69, allowed up to 1163.61 mm
}
