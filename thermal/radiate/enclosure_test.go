package radiate

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/thermal"
)

// plainCase is a case whose figures are single numbers.
type plainCase struct {
	ID, Kind, Title  string
	Params, Expected map[string]float64
}

func readPlain(t *testing.T, kind string) plainCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var raw struct{ Cases []json.RawMessage }
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatal(err)
	}
	for _, r := range raw.Cases {
		var head struct{ Kind string }
		if err := json.Unmarshal(r, &head); err != nil {
			t.Fatal(err)
		}
		if head.Kind != kind {
			continue
		}
		var c plainCase
		if err := json.Unmarshal(r, &c); err != nil {
			t.Fatal(err)
		}
		book.Ran(c.ID)
		return c
	}
	t.Fatalf("no case of kind %s", kind)
	return plainCase{}
}

func (c plainCase) want(t *testing.T, key string, got float64) {
	t.Helper()
	want, ok := c.Expected[key]
	if !ok {
		t.Fatalf("%s has no %s", c.ID, key)
	}
	// The file's own tolerance.
	if math.Abs(got-want) > 1e-6*math.Abs(want) {
		t.Errorf("%s (%s): %s = %.10g, want %.10g", c.ID, c.Title, key, got, want)
	}
}

// enclosedM2 returns the exchange area of a convex body and the surface round
// it, from the exchange of radiation between both: what the body absorbs per
// σT⁴ of the other.
func enclosedM2(t *testing.T, innerM2, outerM2, innerEmissivity, outerEmissivity float64) float64 {
	t.Helper()
	share := innerM2 / outerM2
	f := plainly([]float64{innerM2, outerM2}, [][]float64{{0, 1}, {share, 1 - share}})
	r, err := Exchange(context.Background(), f, emission(f, []float64{innerEmissivity, outerEmissivity}), 1)
	if err != nil {
		t.Fatal(err)
	}
	return Absorb(r).FromM2[0][1]
}

// Bodies inside bodies; sources stand in the file.
func TestEnclosures(t *testing.T) {
	black := thermal.EmissiveWM2
	c := readPlain(t, "conc_cyl_rad")
	p := c.Params
	c.want(t, "q", enclosedM2(t, math.Pi*p["d1"], math.Pi*p["d2"], p["e1"], p["e2"])*(black(p["T1"])-black(p["T2"])))

	c = readPlain(t, "conc_sph_rad")
	p = c.Params
	c.want(t, "Q", enclosedM2(t, math.Pi*p["d1"]*p["d1"], math.Pi*p["d2"]*p["d2"], p["e1"], p["e2"])*(black(p["T1"])-black(p["T2"])))

	c = readPlain(t, "small_body")
	p = c.Params
	c.want(t, "Q", enclosedM2(t, p["A"], 1e8*p["A"], p["eps"], 0.5)*(black(p["T1"])-black(p["T2"])))

	c = readPlain(t, "conc_cyl_shield_large")
	p = c.Params
	const large = 1e8 // the chamber beside the line
	lineM2, shieldM2 := math.Pi*p["d1"], math.Pi*p["ds"]
	bareM2 := enclosedM2(t, lineM2, large*lineM2, p["e1"], 0.5)
	inM2, outM2 := enclosedM2(t, lineM2, shieldM2, p["e1"], p["es"]), enclosedM2(t, shieldM2, large*shieldM2, p["es"], 0.5)
	c.want(t, "q_bare", bareM2*(black(p["T1"])-black(p["Te"])))
	shield := (inM2*black(p["T1"]) + outM2*black(p["Te"])) / (inM2 + outM2) // σT⁴ at which it settles
	c.want(t, "T_shield", math.Pow(shield/thermal.StefanBoltzmannWM2K4, 0.25))
	c.want(t, "q_shield", inM2*(black(p["T1"])-shield))
	c.want(t, "reduction", 1-inM2*(black(p["T1"])-shield)/(bareM2*(black(p["T1"])-black(p["Te"]))))
}
