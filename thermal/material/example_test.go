package material_test

import (
	"fmt"

	"aftbay/thermal/material"
)

func ExampleFind() {
	m, err := material.Find("Steel, oxidised")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("emissivity %.2f (%s), %.0f kg/m³ (%s)\n", m.Surface.TypicalEmissivity, m.Surface.Status, m.Solid.DensityKgM3, m.Solid.Status)
	_, err = material.Find("Stel, oxidised")
	fmt.Println(err)
	// Output:
	// emissivity 0.80 (seen), 7850 kg/m³ (memory; at 600 C take cp 750, k 33)
	// material "Stel, oxidised" is not in the table; the nearest entry is "Steel, oxidised"
}
