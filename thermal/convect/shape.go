package convect

import "math"

// Outline is what the choice needs to know of a part: the edges of its box
// along its own axes, how they stand, and its whole surface and volume.
type Outline struct {
	EdgesM   [3]float64 // box edges along the part's own axes
	UpCos    [3]float64 // how far each axis points up or down, |cosine| to the vertical
	AreaM2   float64
	VolumeM3 float64 // 0 for open sheets
	GivenM   float64 // characteristic length from the layout; 0 when absent
}

const (
	// flatShare: a box whose least edge is below this share of the middle one
	// is a plate. Common practice, no source.
	flatShare = 0.2
	// longShare: a round body longer than this many diameters stands or lies.
	// Common practice, no source.
	longShare = 3
	// pipeShare: a body whose surface and volume make a rod longer than this
	// many diameters is a pipe, bent or straight; a cube gives 4.3, a bar of
	// 1:1:3 gives 6.1, and both are told by their boxes.
	pipeShare = 8
	// thinShare: a rod's box is nowhere thinner than about its diameter; a
	// plate's is about half of 4V/A. The limit stands between.
	thinShare = 0.8
	// upright: above this |cosine| an axis stands rather than lies (45°).
	upright = math.Sqrt2 / 2
)

// Choose returns the plain shape that stands for a part: a pipe where volume
// and surface say so, a plate where the box is flat, else a round body across
// the flow with the diameter of the two shorter edges.
func Choose(o Outline) Body {
	short, middle, long := o.order()
	b := o.round(short, middle, long)
	if d := o.pipeM(short); d > 0 {
		b = Body{Kind: Cylinder, LengthM: d}
		if o.UpCos[long] > upright && o.EdgesM[long] > longShare*o.EdgesM[middle] {
			b = Body{Kind: UprightColumn, LengthM: o.EdgesM[long], FlowM: d}
		}
	} else if o.EdgesM[short] < flatShare*o.EdgesM[middle] {
		b = o.plate(short, middle, long)
	}
	if o.GivenM > 0 {
		b.LengthM, b.FlowM = o.GivenM, o.GivenM
	}
	b.LengthM = math.Max(b.LengthM, leastLengthM)
	return b
}

// leastLengthM keeps the film of a part without extent finite.
const leastLengthM = 1e-4

// order returns the axes by edge, shortest first.
func (o Outline) order() (short, middle, long int) {
	short, middle, long = 0, 1, 2
	if o.EdgesM[short] > o.EdgesM[middle] {
		short, middle = middle, short
	}
	if o.EdgesM[middle] > o.EdgesM[long] {
		middle, long = long, middle
	}
	if o.EdgesM[short] > o.EdgesM[middle] {
		short, middle = middle, short
	}
	return short, middle, long
}

// pipeM returns the diameter of the rod that has the part's volume and surface,
// 0 where the part is no rod: 4V/A of a long cylinder, bent or straight.
func (o Outline) pipeM(short int) float64 {
	if o.VolumeM3 <= 0 || o.AreaM2 <= 0 {
		return 0
	}
	diameterM := 4 * o.VolumeM3 / o.AreaM2
	lengthM := o.AreaM2 / (math.Pi * diameterM)
	if lengthM < pipeShare*diameterM || o.EdgesM[short] < thinShare*diameterM {
		return 0
	}
	return diameterM
}

func (o Outline) plate(short, middle, long int) Body {
	a, b := o.EdgesM[middle], o.EdgesM[long]
	if o.UpCos[short] > upright {
		return Body{Kind: LevelPlate, LengthM: a * b / (2 * (a + b)), FlowM: math.Sqrt(a * b)}
	}
	heightM := a
	if o.UpCos[long] > o.UpCos[middle] {
		heightM = b
	}
	return Body{Kind: UprightPlate, LengthM: heightM, FlowM: math.Sqrt(a * b)}
}

func (o Outline) round(short, middle, long int) Body {
	diameterM := math.Sqrt(o.EdgesM[short] * o.EdgesM[middle])
	if o.UpCos[long] > upright && o.EdgesM[long] > longShare*o.EdgesM[middle] {
		return Body{Kind: UprightColumn, LengthM: o.EdgesM[long], FlowM: diameterM}
	}
	return Body{Kind: Cylinder, LengthM: diameterM}
}
