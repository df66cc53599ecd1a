package dist

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/say"
)

// ErrEmpty says that a body has no triangles, so it is nowhere.
var ErrEmpty = say.New("the mesh has no triangles: export the part again with at least one facet")

// ErrPose says that a pose holds a number that is not finite.
var ErrPose = say.New("the pose holds a number that is not finite: enter plain numbers")

// ErrCoordinates says that a mesh holds a number that is not finite.
var ErrCoordinates = say.New("the mesh holds a coordinate that is not finite: export the part again")

// Body is one mesh standing in the vehicle.
type Body struct {
	Tree   *bvh.Tree
	Pose   geom.Pose
	Closed bool // the mesh bounds a solid; only then has inside a meaning
}

// Options says how much is wanted.
type Options struct {
	// EnoughMM ends the search as soon as the gap is known to be at least this
	// much; 0 asks for the exact gap.
	EnoughMM float64
	// Overlap asks for depth, shared volume and the way out as well; DepthOnly
	// leaves out the latter two, which take most of the time.
	Overlap, DepthOnly bool
}

// Result is what is known of a pair.
type Result struct {
	GapMM   float64 // least distance; 0 when they touch or overlap
	ErrorMM float64 // bound on the rounding error of GapMM and of the points
	// InputErrorMM is what the float32 numbers of STL files can hide on top: half
	// a step of each coordinate of both bodies, at their furthest corners.
	InputErrorMM float64

	AtLeast bool // GapMM is only a lower bound (see Options.EnoughMM), points unset

	PointA, PointB geom.Vec // nearest points, vehicle frame; see Between for overlaps
	TriA, TriB     int      // triangles they lie on

	Overlap      bool      // solids share space, or surfaces cross
	DepthMM      float64   // see Between; 0 unless asked for and overlapping
	DepthErrorMM float64   // the true depth is DepthMM .. DepthMM + DepthErrorMM
	VolumeMM3    *float64  // shared volume; nil unless asked for, both closed, and neither holding something twice that may be shared
	MoveOutMM    *geom.Vec // a shift of b that ends the overlap; nil if none was found
}

// roundingSteps bounds the rounding of one answer in units of 2^-53 times the
// largest coordinate: a pose (about 8), a difference, a segment or face foot
// (about 20) and the way back to the vehicle frame.
const roundingSteps = 64

// errorMM bounds the rounding error of a distance between a and b.
func errorMM(a, b Body) float64 {
	reach := func(x Body) float64 {
		return x.Pose.T.Len() + x.Tree.Origin().Len() + x.Tree.Box().DiagonalMM()
	}
	return roundingSteps * 0x1p-53 * (reach(a) + reach(b))
}

// inputErrorMM bounds how far a corner of b can stand from where it was before
// it was written as float32 (half a step is 2^-24 of the number).
func (b Body) inputErrorMM() float64 {
	box := b.Tree.Box()
	var sum float64
	for k := range 3 {
		halfStepMM := 0x1p-24 * max(math.Abs(box.Min[k]), math.Abs(box.Max[k]))
		sum += halfStepMM * halfStepMM
	}
	return math.Sqrt(sum)
}

func (b Body) validate() error {
	if b.Tree.Len() == 0 {
		return ErrEmpty
	}
	if box := b.Tree.Box(); !geom.IsFinite(box.Min) || !geom.IsFinite(box.Max) {
		return ErrCoordinates
	}
	if !geom.IsFinite(b.Pose.T) || !geom.IsFinite(b.Pose.R.Mul3x1(geom.Vec{1, 1, 1})) {
		return ErrPose
	}
	return nil
}

// box returns the vehicle box of b, from the posed box of the part.
func (b Body) box() geom.Box {
	out := geom.EmptyBox()
	for _, c := range b.Tree.Box().Corners() {
		out = out.Grow(b.Pose.Point(c))
	}
	return out
}

// vehicle returns the vehicle point of a point relative to the tree's origin.
func (b Body) vehicle(local geom.Vec) geom.Vec {
	return b.Pose.Point(local.Add(b.Tree.Origin()))
}
