package sweep

import (
	"math"

	"aftbay/geom"
)

// Axes of a motion box, in the order of its ranges.
const (
	X = iota
	Y
	Z
	Roll
	Pitch
	Yaw
	axes
)

// Setting is one position of a group: x, y, z in mm, roll, pitch, yaw in rad.
type Setting [axes]float64

// Motion is where a group may be about its pivot. The zero value stays put.
type Motion struct {
	Pivot    geom.Vec
	Lo, Hi   Setting // ranges; Lo[k] <= Hi[k]
	Named    []Named // named positions, checked besides the box
	HasRange bool    // whether the box is part of the motion at all
}

// Named is a load case of a group.
type Named struct {
	Name string
	At   Setting
}

// Still reports whether the motion holds nothing but the rest position.
func (m Motion) Still() bool {
	return m.Lo == Setting{} && m.Hi == Setting{} && len(m.Named) == 0
}

// HoldsRest reports whether the rest position lies in the motion box.
func (m Motion) HoldsRest() bool {
	for k := range axes {
		if m.Lo[k] > 0 || m.Hi[k] < 0 {
			return false
		}
	}
	return m.HasRange || len(m.Named) == 0
}

// Pose returns where the setting puts the group: turned about the pivot, then
// shifted.
func (m Motion) Pose(at Setting) geom.Pose {
	turn := geom.Turn(geom.Vec{at[Roll], at[Pitch], at[Yaw]})
	return geom.About(m.Pivot, turn, geom.Vec{at[X], at[Y], at[Z]})
}

// Turned returns the pose of the setting's turn alone, without its shift.
func (m Motion) Turned(at Setting) geom.Pose {
	at[X], at[Y], at[Z] = 0, 0, 0
	return m.Pose(at)
}

// ShiftBox returns the box of all shifts, mm.
func (m Motion) ShiftBox() geom.Box {
	return geom.Box{
		Min: geom.Vec{m.Lo[X], m.Lo[Y], m.Lo[Z]},
		Max: geom.Vec{m.Hi[X], m.Hi[Y], m.Hi[Z]},
	}
}

// ReachMM returns a bound on how far any point of the box b (at rest) can move
// from its rest position, anywhere in the motion and its named positions.
func (m Motion) ReachMM(b geom.Box) float64 {
	reach := m.reachOf(b, m.Lo, m.Hi)
	for _, n := range m.Named {
		lo, hi := Setting{}, Setting{}
		for k, v := range n.At {
			lo[k], hi[k] = math.Min(v, 0), math.Max(v, 0)
		}
		reach = math.Max(reach, m.reachOf(b, lo, hi))
	}
	return reach
}

func (m Motion) reachOf(b geom.Box, lo, hi Setting) float64 {
	var shift geom.Vec
	var half Setting
	for k := range axes {
		most := math.Max(math.Abs(lo[k]), math.Abs(hi[k]))
		if k < Roll {
			shift[k] = most
		} else {
			half[k] = most
		}
	}
	return shift.Len() + NewArms(Motion{Pivot: m.Pivot, Lo: lo, Hi: hi}, b).StrayMM(half)
}
