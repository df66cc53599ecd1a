package drop

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// Limits of crank against input where the layout names none: total indicator
// readings of a flywheel housing, and the bore of size 3 at which the face is
// read.
//
// Source: bore and face 0.20 mm (0.008 in) for housing sizes 1 to 3 and the bore
// 409.58 to 409.70 mm of size 3, service table of a heavy diesel (second-hand);
// face 0.008 in, US Army TM 10-3930-664-24 p. 3-41 (seen).
const (
	boreRunoutMM     = 0.20
	faceRunoutMM     = 0.20
	faceDiameterMM   = 409.6
	publishedRunouts = "bore and face 0.20 mm of total reading: service table of flywheel housings, sizes 1 to 3; face also US Army TM 10-3930-664-24 p. 3-41"
)

// shaftLine is one crank and input; each follows the drop or stands.
type shaftLine struct {
	layout.ShaftLine
	crankFollows, inputFollows bool
}

// LineReading is how far a crank and an input are off, and what an indicator
// would read.
type LineReading struct {
	Name         string  `json:"name"`
	OffsetMM     float64 `json:"offset_mm"`
	AngleDeg     float64 `json:"angle_deg"`
	BoreRunoutMM float64 `json:"bore_runout_mm"` // total reading: twice the offset
	FaceRunoutMM float64 `json:"face_runout_mm"` // total reading at the face diameter
}

// Runout returns offset and angle of two axes from the total indicator readings
// of bore and face at a diameter: half the one, the arc tangent of the other.
func Runout(boreMM, faceMM, diameterMM float64) (offsetMM, angleRad float64) {
	return boreMM / 2, math.Atan2(faceMM, diameterMM)
}

func (l *shaftLine) mostMM() (boreMM, faceMM, diameterMM float64) {
	or := func(givenMM *float64, elseMM float64) float64 {
		if givenMM != nil {
			return *givenMM
		}
		return elseMM
	}
	return or(l.BoreRunoutMM, boreRunoutMM), or(l.FaceRunoutMM, faceRunoutMM), or(l.FaceDiameterMM, faceDiameterMM)
}

func (l *shaftLine) source() say.Text {
	switch {
	case l.Source != "":
		return say.Name(l.Source)
	case l.BoreRunoutMM != nil || l.FaceRunoutMM != nil:
		return say.Of("layout file, shaft lines")
	}
	return say.Of(publishedRunouts)
}

// across returns the part of the way from crank to input that is square to the
// crank's axis, at no drop, and how it changes with each mm of the shift.
func (l *shaftLine) across(shift geom.Vec) geom.Vec {
	way := l.InputMM.Sub(l.CrankMM)
	if l.inputFollows {
		way = way.Add(shift)
	}
	if l.crankFollows {
		way = way.Sub(shift)
	}
	axis := axisOr(l.CrankAxis, geom.Vec{1, 0, 0})
	return way.Sub(axis.Mul(way.Dot(axis)))
}

func (l *shaftLine) reading(shift geom.Vec) LineReading {
	r := LineReading{Name: l.Name, OffsetMM: l.across(shift).Len()}
	angleRad := l.angleRad()
	_, _, diameterMM := l.mostMM()
	r.AngleDeg, r.BoreRunoutMM, r.FaceRunoutMM = units.Deg(angleRad), 2*r.OffsetMM, diameterMM*math.Tan(angleRad)
	return r
}

// angleRad returns the angle between the axes, whichever way they point.
func (l *shaftLine) angleRad() float64 {
	a, b := axisOr(l.CrankAxis, geom.Vec{1, 0, 0}), axisOr(l.InputAxis, geom.Vec{1, 0, 0})
	return math.Atan2(a.Cross(b).Len(), math.Abs(a.Dot(b)))
}

// offsetWindow returns the drops at which the offset keeps to half the bore
// reading, for a shift that has the given fore-aft and tilt part besides.
func (l *shaftLine) offsetWindow(aside geom.Vec, within Window) []Window {
	boreMM, _, _ := l.mostMM()
	mostMM, _ := Runout(boreMM, 0, 1)
	const roundMM = 1e-9 // flush in numbers is flush
	start := l.across(aside)
	perMM := l.across(aside.Add(geom.Vec{0, 0, -1})).Sub(start)
	a, b, c := perMM.Dot(perMM), 2*start.Dot(perMM), start.Dot(start)-(mostMM+roundMM)*(mostMM+roundMM)
	return clipAll(notAbove(a, b, c), within)
}

// angleWindow is everything or nothing: going down turns no axis.
func (l *shaftLine) angleWindow(within Window) []Window {
	_, faceMM, diameterMM := l.mostMM()
	const roundRad = 1e-9 // parallel in numbers is parallel
	if _, mostRad := Runout(0, faceMM, diameterMM); l.angleRad() > mostRad+roundRad {
		return nil
	}
	return []Window{within}
}

// axisOr returns an axis of unit length: the given one, or another.
func axisOr(given *geom.Vec, other geom.Vec) geom.Vec {
	if given == nil {
		return other
	}
	return given.Normalize()
}

// notAbove returns where a·q² + b·q + c ≤ 0, as windows without end.
// Bare numbers: coefficients of a quadratic in q, mm.
func notAbove(a, b, c float64) []Window {
	inf := math.Inf(1)
	switch {
	case a == 0 && b == 0:
		if c <= 0 {
			return []Window{{-inf, inf}}
		}
		return nil
	case a == 0 && b > 0:
		return []Window{{-inf, -c / b}}
	case a == 0:
		return []Window{{-c / b, inf}}
	}
	disc := b*b - 4*a*c
	if disc < 0 {
		if a < 0 {
			return []Window{{-inf, inf}}
		}
		return nil
	}
	// The root of larger size first, the other from the product of both.
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	lo, hi := q/a, 0.0
	if q != 0 {
		hi = c / q
	}
	if lo > hi {
		lo, hi = hi, lo
	}
	if a > 0 {
		return []Window{{lo, hi}}
	}
	return []Window{{-inf, lo}, {hi, inf}}
}
