package soak

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"aftbay/thermal"
)

// number reads a plain key of a case's parameters.
func number(t *testing.T, raw json.RawMessage, key string) float64 {
	t.Helper()
	var all map[string]json.RawMessage
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	var v float64
	if err := json.Unmarshal(all[key], &v); err != nil {
		t.Fatalf("%s: %v", key, err)
	}
	return v
}

func constant(around thermal.Ambient) func(float64) thermal.Ambient {
	return func(float64) thermal.Ambient { return around }
}

// precise is the step error for checks against closed forms.
const precise = 1e-7

func run(t *testing.T, c Case) *Curve {
	t.Helper()
	curve, err := Run(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return curve
}

// One node, in the kinds of the reference file; sources stand there.
func TestSingleNodes(t *testing.T) {
	for _, r := range readRaw(t) {
		p := r.Params
		n := func(key string) float64 { return number(t, p, key) }
		node := thermal.Node{Name: r.ID}
		var c Case
		switch r.Kind {
		case "lumped":
			node.CapacityJK, node.FilmAreaM2, node.Film = n("C"), n("A"), film(n("h"), 0)
			c = Case{StartK: []float64{n("Ti")}, EndS: n("t"), Around: constant(thermal.Ambient{AirK: n("Ta")})}
		case "lumped_time": // °C in the file: only differences count
			node.CapacityJK, node.FilmAreaM2, node.Film = n("C"), n("A"), film(n("h"), 0)
			c = Case{StartK: []float64{n("Ti")}, EndS: 2 * r.Expected["t"], Around: constant(thermal.Ambient{AirK: n("Ta")})}
		case "lumped_rad":
			node.CapacityJK = n("C")
			c = Case{StartK: []float64{n("Ti")}, EndS: n("t"), Around: constant(thermal.Ambient{SurroundingsK: n("Ts")})}
			c.Network = &thermal.Network{FromM2: [][]float64{{0}}, FromAroundM2: []float64{n("eps") * n("A")}, EmitM2: []float64{n("eps") * n("A")}}
		case "lumped_power":
			node.CapacityJK, node.FilmAreaM2, node.Film = n("C"), n("A"), film(n("c"), n("n"))
			c = Case{StartK: []float64{n("Ti")}, EndS: n("t"), Around: constant(thermal.Ambient{AirK: n("Ta")})}
		default:
			continue
		}
		if c.Network == nil {
			c.Network = &thermal.Network{}
		}
		c.Network.Nodes = []thermal.Node{node}
		c.StepErrorK = precise
		curve := run(t, c)
		book.Ran(r.ID)
		if want, ok := r.Expected["T"]; ok {
			if got := curve.AtK(0, c.EndS); math.Abs(got-want) > 1e-6*want {
				t.Errorf("%s: %.9g K, want %.9g", r.ID, got, want)
			}
			continue
		}
		want := r.Expected["t"]
		if got := curve.AboveS(0, n("T")); math.Abs(got-want) > 1e-5*want {
			t.Errorf("%s: cooled after %.9g s, want %.9g", r.ID, got, want)
		}
	}
}

// film returns the film coefficient c·ΔTⁿ. Bare numbers: c in W/m²K^(1+n).
func film(c, n float64) func(surfaceK, airK float64) float64 {
	return func(surfaceK, airK float64) float64 { return c * math.Pow(math.Abs(surfaceK-airK), n) }
}

type rawCase struct {
	ID, Kind, Title string
	Params          json.RawMessage
	Expected        map[string]float64
	Ends            []float64
}

func readRaw(t *testing.T) []rawCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			ID, Kind, Title  string
			Params, Expected json.RawMessage
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	var out []rawCase
	for _, c := range file.Cases {
		if !strings.HasPrefix(c.ID, "O-TR") {
			continue
		}
		r := rawCase{ID: c.ID, Kind: c.Kind, Title: c.Title, Params: c.Params, Expected: map[string]float64{}}
		var parts map[string]json.RawMessage
		if err := json.Unmarshal(c.Expected, &parts); err != nil {
			t.Fatal(err)
		}
		for key, value := range parts {
			var v float64
			if key == "T_end" {
				if err := json.Unmarshal(value, &r.Ends); err != nil {
					t.Fatal(err)
				}
			} else if err := json.Unmarshal(value, &v); err != nil {
				t.Fatal(err)
			} else {
				r.Expected[key] = v
			}
		}
		out = append(out, r)
	}
	if len(out) != 7 {
		t.Fatalf("%d transient cases, want 7", len(out))
	}
	return out
}

func TestTwoBodies(t *testing.T) {
	for _, r := range readRaw(t) {
		if r.Kind != "two_body" {
			continue
		}
		book.Ran(r.ID)
		n := func(key string) float64 { return number(t, r.Params, key) }
		net := &thermal.Network{
			Nodes:   []thermal.Node{{CapacityJK: n("C1")}, {CapacityJK: n("C2")}},
			MountWK: [][]float64{{0, n("G")}, {n("G"), 0}},
		}
		curve := run(t, Case{Network: net, StartK: []float64{n("T1"), n("T2")}, EndS: n("t"), Around: constant(thermal.Ambient{}), StepErrorK: precise})
		for i, key := range []string{"T1", "T2"} {
			if got, want := curve.AtK(i, n("t")), r.Expected[key]; math.Abs(got-want) > 1e-6*want {
				t.Errorf("%s: %s = %.9g K, want %.9g", r.ID, key, got, want)
			}
		}
	}
}

// network makes the network of a soak case and its air.
func network(t *testing.T, r rawCase) (Case, int) {
	t.Helper()
	var p struct {
		Nodes     []string
		C, T0, HA []float64
		G, R      [][]float64
		Re        []float64
		Te, Ta0   float64
		Watch     int
		TaInf     float64 `json:"Ta_inf"`
		TauAir    float64 `json:"tau_air"`
		TEnd      float64 `json:"t_end"`
	}
	if err := json.Unmarshal(r.Params, &p); err != nil {
		t.Fatal(err)
	}
	net := &thermal.Network{FromM2: p.R, FromAroundM2: p.Re, MountWK: p.G}
	for i, name := range p.Nodes {
		net.Nodes = append(net.Nodes, thermal.Node{Name: name, CapacityJK: p.C[i], FilmAreaM2: p.HA[i], Film: film(1, 0)})
		emitM2 := p.Re[i]
		for _, m2 := range p.R[i] {
			emitM2 += m2
		}
		net.EmitM2 = append(net.EmitM2, emitM2)
	}
	around := func(timeS float64) thermal.Ambient {
		return thermal.Ambient{AirK: p.TaInf + (p.Ta0-p.TaInf)*math.Exp(-timeS/p.TauAir), SurroundingsK: p.Te}
	}
	return Case{Network: net, StartK: p.T0, EndS: p.TEnd, Around: around}, p.Watch
}

func TestHotSoaks(t *testing.T) {
	count := 0
	for _, r := range readRaw(t) {
		if r.Kind != "soak" {
			continue
		}
		book.Ran(r.ID)
		count++
		c, watch := network(t, r)
		loose := run(t, c)
		c.StepErrorK = 1e-6
		curve := run(t, c)
		peak := curve.Peak(watch)
		if want := r.Expected["T_peak"]; math.Abs(peak.TempK-want) > 1e-6*want {
			t.Errorf("%s: peak %.9g K, want %.9g", r.ID, peak.TempK, want)
		}
		// The top is flat: 1e-6 of the value is 1e-3 of the time.
		if want := r.Expected["t_peak"]; math.Abs(peak.TimeS-want) > 1e-3*want {
			t.Errorf("%s: peak at %.6g s, want %.6g", r.ID, peak.TimeS, want)
		}
		for i, want := range r.Ends {
			if got := curve.AtK(i, c.EndS); math.Abs(got-want) > 1e-6*want {
				t.Errorf("%s: node %d ends at %.9g K, want %.9g", r.ID, i, got, want)
			}
		}
		// The default steps must do for reading: within 0.1 K.
		if got := loose.Peak(watch); math.Abs(got.TempK-peak.TempK) > 0.1 {
			t.Errorf("%s: default steps give a peak of %g K, small steps %g", r.ID, got.TempK, peak.TempK)
		}
		if n := len(loose.TimesS); n > 200 {
			t.Errorf("%s: %d steps", r.ID, n)
		}
		t.Logf("%s: %d steps by default, %d for 1e-6 K", r.ID, len(loose.TimesS), len(curve.TimesS))
	}
	if count != 2 {
		t.Errorf("%d soak cases", count)
	}
}

func TestBadCases(t *testing.T) {
	good := Case{Network: &thermal.Network{Nodes: []thermal.Node{{Name: "coil", CapacityJK: 90}}}, StartK: []float64{300}, EndS: 10, Around: constant(thermal.Ambient{})}
	if _, err := Run(context.Background(), good); err != nil {
		t.Fatal(err)
	}
	bare := good
	bare.Network = &thermal.Network{Nodes: []thermal.Node{{Name: "coil"}}}
	if _, err := Run(context.Background(), bare); err == nil || !strings.Contains(err.Error(), "coil") {
		t.Errorf("no heat capacity: %v", err)
	}
	wild := good
	wild.Network = &thermal.Network{Nodes: []thermal.Node{{Name: "coil", CapacityJK: 90, PowerW: math.Inf(1)}}}
	if _, err := Run(context.Background(), wild); err == nil {
		t.Error("an endless power passed")
	}
	short := good
	short.EndS = 0
	if _, err := Run(context.Background(), short); err == nil {
		t.Error("no time passed")
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(ctx, good); err == nil {
		t.Error("a cancelled run gave a curve")
	}
}
