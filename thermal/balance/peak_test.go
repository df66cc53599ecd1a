package balance

import (
	"math"
	"slices"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/thermal"
)

// The peak under a black sphere of radius r whose middle stands h over a large
// black plate is that of an element facing it: F = (r/h)². Source: sphere to an
// element, Howell's catalog B-44 (from memory; it follows from the projection of
// a ball on the unit sphere). The bay is at 274 K, which adds next to nothing.
// Few rays a patch and large patches do: the place is looked from by itself.
// Its skin is the root of the plate's balance with that irradiation, worked out
// here by bisection.
func TestPeakUnderASphere(t *testing.T) {
	const rMM, hMM, filmWM2K = 30, 75, 10
	for _, at := range []geom.Vec{{0, 0, hMM}, {13, 7, hMM}, {-41, 60, hMM}} {
		heat := &layout.Heat{Rays: new(256), Spread: noSpread(), Cases: []layout.HeatCase{{Name: "drive", AirDegC: celsius(300), SurroundingsDegC: celsius(274), FilmWM2K: new(float64(filmWM2K))}}}
		r := solve(t, stand(t, heat,
			body{layout.Part{Name: "ball", Emissivity: new(1.0), MoveMM: at, Thermal: &layout.Thermal{HeldDegC: celsius(900)}}, sphere(rMM)},
			body{layout.Part{Name: "plate", Emissivity: new(1.0), Thermal: &layout.Thermal{ThicknessMM: new(50.0)}, Material: "PA66 33 percent glass", MoveMM: geom.Vec{0, 0, -5}}, brick(geom.Vec{300, 300, 10})}))
		p := find(t, &r.Cases[0], "plate")
		share := math.Pow(float64(rMM)/hMM, 2)
		wantWM2 := share*thermal.EmissiveWM2(900) + (1-share)*thermal.EmissiveWM2(274)
		// Facets take 2 % off the sphere's outline, rays and the place 2 % more.
		if off := p.Irradiation.PeakWM2/wantWM2 - 1; off < -0.05 || off > 0.02 {
			t.Errorf("ball at %v: peak %.0f W/m², want %.0f: %+.1f %%", at, p.Irradiation.PeakWM2, wantWM2, 100*off)
		}
		flat := geom.Vec{at[0], at[1], p.Irradiation.PeakAtMM[2]}
		if away := p.Irradiation.PeakAtMM.Sub(flat).Len(); away > 15 {
			t.Errorf("ball at %v: the peak lies at %v", at, p.Irradiation.PeakAtMM)
		}
		part, _ := r.study.partOf("plate")
		coupleWM2K, bulkK := r.study.parts[part].coupleWM2K(), thermal.Kelvin(p.Temperature.NominalDegC)
		low, high := 274.0, 900.0
		for range 60 {
			mid := (low + high) / 2
			if p.Irradiation.PeakWM2-thermal.EmissiveWM2(mid)+filmWM2K*(300-mid)+coupleWM2K*(bulkK-mid) > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		if got := thermal.Kelvin(p.Skin.PeakDegC); math.Abs(got-low) > 0.01 {
			t.Errorf("ball at %v: skin %.2f K, want %.2f", at, got, low)
		}
	}
}

// The peak no longer depends on how many rays a patch has, beyond what the place
// is known to.
func TestPeakIsSteady(t *testing.T) {
	var peaks []float64
	for _, rays := range []int{64, 256, 1024} {
		heat := bayHeat()
		heat.Rays = &rays
		r := solve(t, stand(t, heat, bay(t)...))
		peaks = append(peaks, find(t, &r.Cases[0], "coil").Irradiation.PeakWM2)
	}
	if most, least := slices.Max(peaks), slices.Min(peaks); most > 1.05*least {
		t.Errorf("peaks %v W/m²", peaks)
	}
}
