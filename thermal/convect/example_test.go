package convect_test

import (
	"fmt"

	"aftbay/thermal/convect"
)

// A coil body in moving air.
func ExampleBody_FilmWM2K() {
	coil := convect.Body{Kind: convect.Cylinder, LengthM: 0.05}
	for _, speedMS := range []float64{0, 2} {
		fmt.Printf("%.1f m/s: %.0f W/m²K\n", speedMS, coil.FilmWM2K(convect.Stream{SurfaceK: 380, AirK: 340, SpeedMS: speedMS}))
	}
	// Output:
	// 0.0 m/s: 6 W/m²K
	// 2.0 m/s: 22 W/m²K
}
