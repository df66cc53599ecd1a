package soak

import (
	"context"
	"math"

	"aftbay/geom/say"
	"aftbay/thermal"
)

// Case is one network left to itself.
type Case struct {
	Network *thermal.Network // every node with a heat capacity; Held is ignored
	StartK  []float64        // one temperature per node
	EndS    float64
	// Around returns the surroundings at a time after key-off.
	Around func(timeS float64) thermal.Ambient
	// StepErrorK is the error allowed in one step; 0.01 where 0.
	StepErrorK float64
}

const (
	// defaultErrorK keeps the sum of all steps' errors well under the 1 K that
	// anyone reads off a soak curve.
	defaultErrorK = 0.01
	firstStepS    = 0.05
	// leastStepShare of the whole time: a step that small means the inputs
	// jump or are not finite.
	leastStepShare = 1e-12
	mostSteps      = 1_000_000
)

// The modified Rosenbrock pair: d = 1/(2+√2), e = 6+√2.
const (
	rosenbrockShare = 1 / (2 + math.Sqrt2)
	rosenbrockError = 6 + math.Sqrt2
)

// Run steps the network from StartK to EndS. The curve is the same whatever
// runs beside it. It fails when a node has no heat capacity, when the inputs
// are not finite, or when ctx ends.
func Run(ctx context.Context, c Case) (*Curve, error) {
	for i := range c.Network.Nodes {
		if node := &c.Network.Nodes[i]; !(node.CapacityJK > 0) {
			return nil, say.Errorf("part %q: heat capacity %g J/K: give one above 0", node.Name, node.CapacityJK)
		}
	}
	if !(c.EndS > 0) {
		return nil, say.Errorf("soak of %g s: give a time above 0", c.EndS)
	}
	if c.StepErrorK == 0 {
		c.StepErrorK = defaultErrorK
	}
	return newStepper(c).run(ctx)
}

// stepper holds the state and the room for one run.
type stepper struct {
	Case
	timeS, stepS float64
	nowK, nextK  []float64
	// Slopes at the start, middle and end of the step, with time, and the
	// stages, K/s.
	f0KPerS, f1KPerS, f2KPerS, driftKPerS []float64
	k1KPerS, k2KPerS, k3KPerS             []float64
	right                                 []float64 // Bare numbers: room for right sides
	slopesWK                              [][]float64
	equations                             *thermal.Equations
	curve                                 *Curve
}

func newStepper(c Case) *stepper {
	n := len(c.StartK)
	s := &stepper{Case: c, stepS: math.Min(firstStepS, c.EndS), equations: thermal.NewEquations(n), curve: &Curve{}}
	for _, p := range []*[]float64{&s.nowK, &s.nextK, &s.f0KPerS, &s.f1KPerS, &s.f2KPerS, &s.driftKPerS, &s.k1KPerS, &s.k2KPerS, &s.k3KPerS, &s.right} {
		*p = make([]float64, n)
	}
	s.slopesWK = make([][]float64, n)
	for i := range s.slopesWK {
		s.slopesWK[i] = make([]float64, n)
	}
	copy(s.nowK, c.StartK)
	return s
}

func (s *stepper) run(ctx context.Context) (*Curve, error) {
	s.rates(0, s.nowK, s.f0KPerS)
	s.curve.add(0, s.nowK, s.f0KPerS)
	fresh := true // the slopes belong to the present state
	for range mostSteps {
		if s.timeS >= s.EndS {
			return s.curve, nil
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if fresh {
			s.linearise()
		}
		s.stepS = math.Min(s.stepS, s.EndS-s.timeS)
		errorK, err := s.try()
		if err != nil {
			return nil, err
		}
		fresh = errorK <= s.StepErrorK
		if fresh {
			s.accept()
		}
		growth := 5.0
		if errorK > 0 {
			growth = math.Min(5, math.Max(0.2, 0.8*math.Cbrt(s.StepErrorK/errorK)))
		}
		if math.IsNaN(errorK) {
			growth = 0.2
		}
		s.stepS *= growth
		if s.stepS < leastStepShare*s.EndS && s.timeS < s.EndS {
			return nil, say.Errorf("soak: no step is small enough at %.3g s: check powers, capacities and air", s.timeS)
		}
	}
	return nil, say.Errorf("soak: more than %d steps", mostSteps)
}

// rates writes dT/dt of every node.
func (s *stepper) rates(timeS float64, tempsK, outKPerS []float64) {
	around := s.Around(timeS)
	for i := range outKPerS {
		outKPerS[i] = s.Network.Flows(i, tempsK, around).NetW() / s.Network.Nodes[i].CapacityJK
	}
}

// linearise finds the slopes of the rates with temperature and with time.
func (s *stepper) linearise() {
	around := s.Around(s.timeS)
	for i := range s.slopesWK {
		s.Network.SlopesWK(i, s.nowK, around, s.slopesWK[i])
	}
	dS := 1e-3 * math.Min(1, s.EndS)
	s.rates(s.timeS+dS, s.nowK, s.driftKPerS)
	for i := range s.driftKPerS {
		s.driftKPerS[i] = (s.driftKPerS[i] - s.f0KPerS[i]) / dS // K/s²
	}
}

// try makes one step into nextK and returns its error.
func (s *stepper) try() (errorK float64, err error) {
	h, d := s.stepS, rosenbrockShare
	for i := range s.nowK {
		row := s.equations.Row(i)
		for j, wk := range s.slopesWK[i] {
			row[j] = -h * d * wk / s.Network.Nodes[i].CapacityJK
		}
		row[i]++
	}
	if err := s.equations.Factor(); err != nil {
		return 0, err
	}
	for i := range s.right {
		s.right[i] = s.f0KPerS[i] + h*d*s.driftKPerS[i]
	}
	s.equations.Solve(s.right, s.k1KPerS)
	for i := range s.nextK {
		s.nextK[i] = s.nowK[i] + h/2*s.k1KPerS[i]
	}
	s.rates(s.timeS+h/2, s.nextK, s.f1KPerS)
	for i := range s.right {
		s.right[i] = s.f1KPerS[i] - s.k1KPerS[i]
	}
	s.equations.Solve(s.right, s.k2KPerS)
	for i := range s.nextK {
		s.k2KPerS[i] += s.k1KPerS[i]
		s.nextK[i] = s.nowK[i] + h*s.k2KPerS[i]
	}
	s.rates(s.timeS+h, s.nextK, s.f2KPerS)
	for i := range s.right {
		s.right[i] = s.f2KPerS[i] - rosenbrockError*(s.k2KPerS[i]-s.f1KPerS[i]) - 2*(s.k1KPerS[i]-s.f0KPerS[i]) + h*d*s.driftKPerS[i]
	}
	s.equations.Solve(s.right, s.k3KPerS)
	for i := range s.k3KPerS {
		e := math.Abs(h / 6 * (s.k1KPerS[i] - 2*s.k2KPerS[i] + s.k3KPerS[i]))
		if !(e <= errorK) {
			errorK = e
		}
	}
	return errorK, nil
}

// accept moves on to the end of the step.
func (s *stepper) accept() {
	s.timeS += s.stepS
	if s.EndS-s.timeS < leastStepShare*s.EndS {
		s.timeS = s.EndS
	}
	s.nowK, s.nextK = s.nextK, s.nowK
	s.f0KPerS, s.f2KPerS = s.f2KPerS, s.f0KPerS
	s.curve.add(s.timeS, s.nowK, s.f0KPerS)
}
