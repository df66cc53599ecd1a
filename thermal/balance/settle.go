package balance

import (
	"context"
	"math"

	"aftbay/geom/say"
	"aftbay/thermal"
)

const (
	// strawWK joins every free node to the air by a straw of heat, so that a
	// node without any path rests at the air's temperature; it carries less
	// than a microwatt.
	strawWK = 1e-9
	// settledK is the step at which Newton's method ends.
	settledK = 1e-8
	// mostStepK keeps Newton's method from leaping over the fourth power.
	mostStepK = 200
	// leastK keeps trial temperatures above absolute zero.
	leastK = 1
	// newtonSteps bounds the search; it usually takes under ten.
	newtonSteps = 200
)

// Settle returns the temperatures at which all flows into the free nodes
// vanish; held nodes keep those of startK. It fails when nothing settles or ctx
// ends.
func Settle(ctx context.Context, n *thermal.Network, startK []float64, around thermal.Ambient) ([]float64, error) {
	return settleTo(ctx, n, startK, around, settledK)
}

// settleTo is Settle that ends at a step of lastK.
func settleTo(ctx context.Context, n *thermal.Network, startK []float64, around thermal.Ambient, lastK float64) ([]float64, error) {
	var free []int
	for i := range n.Nodes {
		if !n.Nodes[i].Held {
			free = append(free, i)
		}
	}
	tempsK := append([]float64(nil), startK...)
	if len(free) == 0 {
		return tempsK, nil
	}
	s := &settler{n: n, around: around, free: free, equations: thermal.NewEquations(len(free))}
	s.slopesWK, s.netW, s.stepK = make([]float64, len(tempsK)), make([]float64, len(free)), make([]float64, len(free))
	for range newtonSteps {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		largestK, err := s.step(tempsK)
		if err != nil {
			return nil, err
		}
		if largestK < lastK {
			return tempsK, nil
		}
		if math.IsNaN(largestK) {
			break
		}
	}
	return nil, say.Errorf("the heat balance does not settle: check powers, films and mounts of %q and its neighbours", n.Nodes[s.worst()].Name)
}

// settler is the room for one search.
type settler struct {
	n                     *thermal.Network
	around                thermal.Ambient
	free                  []int
	equations             *thermal.Equations
	slopesWK, netW, stepK []float64
}

// residual writes the net flow into every free node and returns the sum of
// their sizes.
func (s *settler) residual(tempsK []float64) (sumW float64) {
	for a, i := range s.free {
		s.netW[a] = s.n.Flows(i, tempsK, s.around).NetW() + strawWK*(s.around.AirK-tempsK[i])
		sumW += math.Abs(s.netW[a])
	}
	return sumW
}

// step moves tempsK by one damped Newton step and returns the largest change of
// the full one: a step cut short is no sign of rest.
func (s *settler) step(tempsK []float64) (largestK float64, err error) {
	beforeW := s.residual(tempsK)
	for a, i := range s.free {
		s.n.SlopesWK(i, tempsK, s.around, s.slopesWK)
		row := s.equations.Row(a)
		for b, j := range s.free {
			row[b] = -s.slopesWK[j]
		}
		row[a] += strawWK
	}
	if err := s.equations.Factor(); err != nil {
		return 0, err
	}
	s.equations.Solve(s.netW, s.stepK)
	for _, k := range s.stepK {
		largestK = math.Max(largestK, math.Abs(k))
	}
	share := math.Min(1, mostStepK/math.Max(largestK, tinyK))
	old := append([]float64(nil), tempsK...)
	for range 30 {
		for a, i := range s.free {
			tempsK[i] = math.Max(leastK, old[i]+share*s.stepK[a])
		}
		// Near the end rounding rules; a full step is right then.
		if largestK < 1e-3 || s.residual(tempsK) <= beforeW {
			break
		}
		share /= 2
	}
	return largestK, nil
}

// tinyK keeps a division by a step of nothing finite.
const tinyK = 1e-300

// worst returns the node with the largest net flow.
func (s *settler) worst() int {
	best, at := -1.0, s.free[0]
	for a, i := range s.free {
		if w := math.Abs(s.netW[a]); w > best {
			best, at = w, i
		}
	}
	return at
}
