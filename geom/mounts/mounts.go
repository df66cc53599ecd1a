package mounts

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// GravityMS2 is standard gravity, the unit of Load.G.
//
// Source: 3rd General Conference on Weights and Measures, 1901: 9.80665 m/s²,
// by definition.
const GravityMS2 = 9.80665

// Beyond these the answer is not worth having: at 10° the sine is off by 0.5 %
// and the cosine by 1.5 %, and no rubber mount of a car travels 100 mm, so that
// a stiffness in another unit is the likely cause. Common practice, no source.
const (
	MostTurnRad = 10 * math.Pi / 180
	MostShiftMM = 100
)

// ErrFree is what a group without enough mounts meets: errors.Is tells.
var ErrFree = say.New("the mounts leave the group free")

// ErrFar is what a load too large for the mounts meets: errors.Is tells.
var ErrFar = say.New("the load takes the group too far")

// Mount is one elastic mount.
type Mount struct {
	At        geom.Vec
	Stiffness geom.Vec // along X, Y, Z, N/mm, none negative
}

// Body is a rigid group on its mounts.
type Body struct {
	Mounts []Mount
	MassKg float64
	CG     geom.Vec
	Pivot  geom.Vec // the point whose shift is wanted
}

// Load is what acts on a body beyond the load it is drawn under.
type Load struct {
	G        geom.Vec // force on the mass over mass times standard gravity: [0, 0, −1] hangs
	TorqueNm geom.Vec // on the body
}

// Shift is where a load takes the body.
type Shift struct {
	ShiftMM geom.Vec   // of the pivot
	TurnRad geom.Vec   // about the X, Y and Z axes; to first order these are roll, pitch and yaw
	Travel  []geom.Vec // of each mount, mm
}

// Under returns the shift of the body under a load. It is an error that wraps
// ErrFree if some freedom is held by no mount, whether or not the load drives
// it, and ErrFar beyond MostTurnRad and MostShiftMM.
func (b Body) Under(l Load) (Shift, error) {
	s := b.spring()
	modes, err := s.modes()
	if err != nil {
		return Shift{}, err
	}
	forceN := l.G.Mul(b.MassKg * GravityMS2)
	momentNMM := l.TorqueNm.Mul(1000).Add(b.CG.Sub(s.centre).Cross(forceN)) // 1 N·m is 1000 N·mm
	q := modes.solve(vector{
		forceN[0], forceN[1], forceN[2],
		momentNMM[0] / s.spreadMM, momentNMM[1] / s.spreadMM, momentNMM[2] / s.spreadMM,
	})
	atCentre := geom.Vec{q[0], q[1], q[2]}
	out := Shift{TurnRad: geom.Vec{q[3], q[4], q[5]}.Mul(1 / s.spreadMM)}
	out.ShiftMM = atCentre.Add(out.TurnRad.Cross(b.Pivot.Sub(s.centre)))
	for _, m := range b.Mounts {
		out.Travel = append(out.Travel, atCentre.Add(out.TurnRad.Cross(m.At.Sub(s.centre))))
	}
	return out, out.tooFar()
}

// tooFar returns ErrFar in words if the shift is beyond what can be trusted.
func (s Shift) tooFar() error {
	if turnRad := s.TurnRad.Len(); !(turnRad <= MostTurnRad) {
		return say.Errorf("%w: it turns by %.3g degrees, and above %.3g the small turns that are assumed no longer hold", ErrFar, units.Deg(turnRad), units.Deg(MostTurnRad))
	}
	for _, travel := range s.Travel {
		if mm := travel.Len(); !(mm <= MostShiftMM) {
			return say.Errorf("%w: a mount travels %.3g mm, more than %g", ErrFar, mm, float64(MostShiftMM))
		}
	}
	return nil
}
