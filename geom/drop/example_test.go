package drop_test

import (
	"fmt"

	"aftbay/geom/drop"
)

// The departure angle of a diffuser edge 820 mm behind the axle and 180 mm over
// the road, by the tyre tangent and from the contact point.
func ExampleTangentRad() {
	const deg = 57.29577951308232
	fmt.Printf("%.2f° %.2f°\n", drop.TangentRad(325, 820, 180)*deg, drop.ContactRad(820, 180)*deg)
	// Output: 12.94° 12.38°
}

// What a flywheel housing's total indicator readings allow: half a bore reading
// as offset, a face reading over its diameter as angle.
func ExampleRunout() {
	offsetMM, angleRad := drop.Runout(0.20, 0.20, 409.6)
	fmt.Printf("%.2f mm, %.3f mrad\n", offsetMM, angleRad*1000)
	// Output: 0.10 mm, 0.488 mrad
}
