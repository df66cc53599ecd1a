package mounts_test

import (
	"fmt"

	"aftbay/geom"
	"aftbay/geom/mounts"
)

// A powertrain of 240 kg on two mounts before and one behind its weight, in a
// pothole of three g.
func Example() {
	soft := geom.Vec{150, 120, 250}
	b := mounts.Body{
		MassKg: 240, CG: geom.Vec{2000, 0, 400}, Pivot: geom.Vec{2000, 0, 400},
		Mounts: []mounts.Mount{
			{At: geom.Vec{1800, -250, 400}, Stiffness: soft},
			{At: geom.Vec{1800, 250, 400}, Stiffness: soft},
			{At: geom.Vec{2400, 0, 400}, Stiffness: soft},
		},
	}
	s, err := b.Under(mounts.Load{G: geom.Vec{0, 0, -3}})
	fmt.Printf("%.2f mm, %v\n", s.ShiftMM[2], err)
	_, err = mounts.Body{Mounts: b.Mounts[:2], MassKg: 240}.Under(mounts.Load{})
	fmt.Println(err)
	// Output:
	// -9.41 mm, <nil>
	// the mounts leave the group free: nothing holds pitch (about Y)
}
