package thermal

import (
	"math"
	"testing"
)

// A black node in black surroundings: net flow A·σ·(Ts⁴ − T⁴), by hand.
func TestFlowsOfOneNode(t *testing.T) {
	n := &Network{
		Nodes:  []Node{{PowerW: 5, FilmAreaM2: 2, Film: func(_, _ float64) float64 { return 10 }}},
		FromM2: [][]float64{{0}}, FromAroundM2: []float64{0.5}, EmitM2: []float64{0.5},
	}
	f := n.Flows(0, []float64{300}, Ambient{AirK: 310, SurroundingsK: 400})
	if want := 0.5 * StefanBoltzmannWM2K4 * (400*400*400*400 - 300*300*300*300.0); math.Abs(f.RadiativeW-want) > 1e-9 {
		t.Errorf("radiative %g W, want %g", f.RadiativeW, want)
	}
	if f.ConvectiveW != 200 || f.PowerW != 5 || f.ConductedW != 0 {
		t.Errorf("flows %+v", f)
	}
}

// SlopesWK must be the derivative of Flows, found here by central differences.
func TestSlopesMatchDifferences(t *testing.T) {
	film := func(surfaceK, airK float64) float64 { return 2 + 0.3*math.Sqrt(math.Abs(surfaceK-airK)+1) }
	n := &Network{
		Nodes:        []Node{{FilmAreaM2: 0.1, Film: film}, {FilmAreaM2: 0.3, Film: film}, {}},
		FromM2:       [][]float64{{0.01, 0.02, 0.03}, {0.02, 0, 0.01}, {0.03, 0.01, 0}},
		FromAroundM2: []float64{0.1, 0.2, 0.3}, EmitM2: []float64{0.16, 0.23, 0.34},
		MountWK: [][]float64{{0, 1, 0}, {1, 0, 2}, {0, 2, 0}},
	}
	temps, around := []float64{500, 400, 350}, Ambient{AirK: 330, SurroundingsK: 320}
	row := make([]float64, 3)
	for i := range temps {
		n.SlopesWK(i, temps, around, row)
		for j := range temps {
			const stepK = 0.05
			moved := append([]float64(nil), temps...)
			moved[j] += stepK
			up := n.Flows(i, moved, around).NetW()
			moved[j] -= 2 * stepK
			down := n.Flows(i, moved, around).NetW()
			if want := (up - down) / (2 * stepK); math.Abs(row[j]-want) > 1e-4 {
				t.Errorf("∂%d/∂%d = %g W/K, want %g", i, j, row[j], want)
			}
		}
	}
	if n.FilmWM2K(2, 400, 300) != 0 || n.FilmWM2K(0, 330, 330) != 2.3 {
		t.Error("film coefficient")
	}
}

func TestCelsius(t *testing.T) {
	if Kelvin(Celsius(300)) != 300 || Kelvin(0) != 273.15 {
		t.Error("degrees Celsius")
	}
}
