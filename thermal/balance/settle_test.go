package balance

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"aftbay/thermal"
)

type refCase struct {
	ID, Kind, Title string
	P               map[string]any
	Expected        map[string]any
}

func readCases(t *testing.T, kinds ...string) []refCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID, Kind, Title  string
			Params, Expected map[string]any
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	var out []refCase
	for _, c := range file.Cases {
		for _, kind := range kinds {
			if c.Kind == kind {
				book.Ran(c.ID)
				out = append(out, refCase{c.ID, c.Kind, c.Title, c.Params, c.Expected})
			}
		}
	}
	if len(out) == 0 {
		t.Fatalf("no cases of %v", kinds)
	}
	return out
}

func (c refCase) n(key string) float64 {
	v, _ := c.P[key].(float64) // an absent key is 0, as the file means it
	return v
}

func (c refCase) want(t *testing.T, key string, got float64) {
	t.Helper()
	want, ok := c.Expected[key].(float64)
	if !ok {
		t.Fatalf("%s has no %s", c.ID, key)
	}
	// The file's own tolerance.
	if math.Abs(got-want) > 1e-6*math.Abs(want) {
		t.Errorf("%s (%s): %s = %.10g, want %.10g", c.ID, c.Title, key, got, want)
	}
}

func constant(filmWM2K float64) func(_, _ float64) float64 {
	return func(_, _ float64) float64 { return filmWM2K }
}

// link joins two nodes by an exchange area.
func link(n *thermal.Network, i, j int, areaM2 float64) {
	n.FromM2[i][j] += areaM2
	n.FromM2[j][i] += areaM2
	n.EmitM2[i] += areaM2
	n.EmitM2[j] += areaM2
}

func network(nodes ...thermal.Node) *thermal.Network {
	n := &thermal.Network{Nodes: nodes, FromAroundM2: make([]float64, len(nodes)), EmitM2: make([]float64, len(nodes))}
	for range nodes {
		n.FromM2 = append(n.FromM2, make([]float64, len(nodes)))
	}
	return n
}

func settle(t *testing.T, n *thermal.Network, startK []float64, around thermal.Ambient) []float64 {
	t.Helper()
	out, err := Settle(context.Background(), n, startK, around)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// One body between air and walls; the sources stand in the file. The cases that
// ask for the gas temperature are run backwards: with the expected gas the
// couple must show the given reading.
func TestSingleBodies(t *testing.T) {
	for _, c := range readCases(t, "body_equil", "tc_error") {
		n := network(thermal.Node{FilmAreaM2: 1, Film: constant(c.n("h"))})
		n.FromAroundM2[0], n.EmitM2[0] = c.n("eps"), c.n("eps")
		if c.Kind == "body_equil" {
			out := settle(t, n, []float64{300}, thermal.Ambient{AirK: c.n("Ta"), SurroundingsK: c.n("Tw")})
			c.want(t, "T", out[0])
			continue
		}
		gasK := c.Expected["Tg"].(float64)
		out := settle(t, n, []float64{300}, thermal.Ambient{AirK: gasK, SurroundingsK: c.n("Tw")})
		if math.Abs(out[0]-c.n("Tt")) > 1e-6*c.n("Tt") {
			t.Errorf("%s: the couple shows %.9g K, want %g", c.ID, out[0], c.n("Tt"))
		}
	}
}

func TestReceivers(t *testing.T) {
	for _, c := range readCases(t, "receiver") {
		f, es, er := c.n("F"), c.n("es"), c.n("er")
		onWM2 := f*(es*thermal.EmissiveWM2(c.n("Ts"))+(1-es)*thermal.EmissiveWM2(c.n("Te"))) + (1-f)*thermal.EmissiveWM2(c.n("Te"))
		c.want(t, "irradiation", onWM2)
		n := network(thermal.Node{FilmAreaM2: 1, Film: constant(c.n("h"))}, thermal.Node{Held: true}, thermal.Node{Held: true})
		link(n, 0, 1, er*f*es)
		n.EmitM2[0], n.FromAroundM2[0] = er, er*(1-f*es)
		n.MountWK = [][]float64{{0, 0, c.n("g")}, {0, 0, 0}, {c.n("g"), 0, 0}}
		around := thermal.Ambient{AirK: c.n("Ta"), SurroundingsK: c.n("Te")}
		out := settle(t, n, []float64{300, c.n("Ts"), c.n("Tm")}, around)
		c.want(t, "T", out[0])
		c.want(t, "q_abs_net", n.Flows(0, out, around).RadiativeW)
	}
}

// Plates with shields: the exchange area of two facing faces is
// 1/(1/e₁ + 1/e₂ − 1) per m².
func TestShields(t *testing.T) {
	facing := func(a, b float64) float64 { return 1 / (1/a + 1/b - 1) }
	for _, c := range readCases(t, "plates", "plates_shields") {
		var nodes []thermal.Node
		startK := []float64{c.n("T1")}
		faces := []float64{c.n("e1")} // right and left faces in order
		nodes = append(nodes, thermal.Node{Held: true})
		if list, ok := c.P["shields"].([]any); ok {
			for _, s := range list {
				pair := s.([]any)
				faces = append(faces, pair[0].(float64), pair[1].(float64))
				nodes, startK = append(nodes, thermal.Node{}), append(startK, 500)
			}
		}
		nodes, startK, faces = append(nodes, thermal.Node{Held: true}), append(startK, c.n("T2")), append(faces, c.n("e2"))
		n := network(nodes...)
		for k := range len(nodes) - 1 {
			link(n, k, k+1, facing(faces[2*k], faces[2*k+1]))
		}
		around := thermal.Ambient{AirK: 300}
		out := settle(t, n, startK, around)
		c.want(t, "q", -n.Flows(0, out, around).NetW())
		if want, ok := c.Expected["T_shields"].([]any); ok {
			for k := range want {
				if math.Abs(out[k+1]-want[k].(float64)) > 1e-6*out[k+1] {
					t.Errorf("%s: shield %d at %.9g K, want %v", c.ID, k, out[k+1], want[k])
				}
			}
		}
	}
	for _, c := range readCases(t, "receiver_shielded") {
		n := network(thermal.Node{Held: true}, thermal.Node{FilmAreaM2: 2, Film: constant(c.n("hs"))}, thermal.Node{FilmAreaM2: 1, Film: constant(c.n("hr"))})
		link(n, 0, 1, facing(c.n("e1"), c.n("e2h")))
		link(n, 1, 2, facing(c.n("e2c"), c.n("e3")))
		out := settle(t, n, []float64{c.n("T1"), 400, 400}, thermal.Ambient{AirK: c.n("Ta")})
		c.want(t, "T_shield", out[1])
		c.want(t, "T_receiver", out[2])
	}
	for _, c := range readCases(t, "tc_shield_simple") {
		// The couple faces the shield alone, the shield the wall.
		n := network(thermal.Node{FilmAreaM2: 1, Film: constant(c.n("h"))}, thermal.Node{}, thermal.Node{Held: true})
		link(n, 0, 1, facing(c.n("et"), c.n("es")))
		link(n, 1, 2, facing(c.n("es"), 1))
		around := thermal.Ambient{AirK: c.Expected["Tg"].(float64)}
		out := settle(t, n, []float64{400, 400, c.n("Tw")}, around)
		if math.Abs(out[0]-c.n("Tt")) > 1e-6*c.n("Tt") {
			t.Errorf("%s: the couple shows %.9g K, want %g", c.ID, out[0], c.n("Tt"))
		}
		c.want(t, "q", -n.Flows(0, out, around).RadiativeW)
	}
}

// A node without any heat path rests at the air's temperature.
func TestNodeWithoutPaths(t *testing.T) {
	out := settle(t, network(thermal.Node{}), []float64{500}, thermal.Ambient{AirK: 320, SurroundingsK: 300})
	if math.Abs(out[0]-320) > 1e-6 {
		t.Errorf("%g K", out[0])
	}
}

// Strong powers and natural convection must still settle, from anywhere.
func TestSettleFromAfar(t *testing.T) {
	film := func(surfaceK, airK float64) float64 { return 1.4 * math.Pow(math.Abs(surfaceK-airK), 0.25) }
	for _, startK := range []float64{50, 300, 5000} {
		n := network(thermal.Node{PowerW: 5000, FilmAreaM2: 0.1, Film: film}, thermal.Node{FilmAreaM2: 0.2, Film: film})
		link(n, 0, 1, 0.05)
		n.FromAroundM2[1], n.EmitM2[1] = 0.1, n.EmitM2[1]+0.1
		around := thermal.Ambient{AirK: 300, SurroundingsK: 300}
		out := settle(t, n, []float64{startK, startK}, around)
		for i := range out {
			if w := n.Flows(i, out, around).NetW(); math.Abs(w) > 1e-4 {
				t.Errorf("from %g K: node %d at %g K keeps %g W", startK, i, out[i], w)
			}
		}
	}
}
