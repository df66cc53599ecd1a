package convect

import "math"

// Outline is what the choice needs to know of a part: the edges of its box
// along its own axes, how they stand, its whole surface and volume, and how flat
// it is.
type Outline struct {
	EdgesM    [3]float64 // box edges along the part's own axes
	UpCos     [3]float64 // how far each axis points up or down, |cosine| to the vertical
	HeightM   float64    // vertical extent as it stands
	AreaM2    float64
	VolumeM3  float64 // 0 for open sheets
	FlatShare float64 // largest share of the surface that faces along one line, 1/3..1
	FlatUpCos float64 // how far that line points up or down, |cosine|
	GivenM    float64 // characteristic length from the layout; 0 when absent
}

// What tells one shape from another. Common practice, no source.
const (
	// plateShare: a part whose surface faces one line for this share or more is
	// a plate: a flat box of 1:1:0.2 has 0.71, a straight pipe 0.5, a cube 1/3.
	plateShare = 0.7
	// longShare: a round body longer than this many diameters stands or lies.
	longShare = 3
	// pipeShare: a body whose surface and volume make a rod longer than this
	// many diameters is a pipe, bent or straight; a cube gives 4.3, a bar of
	// 1:1:3 gives 6.1, and both are told by their boxes.
	pipeShare = 8
	// thinShare: a rod's box is nowhere thinner than about its diameter; a
	// plate's is about half of 4V/A. The limit stands between.
	thinShare = 0.8
	// bentShare: a bent pipe is no longer than this many times the sum of its
	// box edges; a thin shell makes a far longer rod.
	bentShare = 2
	// upright: above this |cosine| an axis stands rather than lies (45°).
	upright = math.Sqrt2 / 2
)

// Choose returns the plain shape that stands for a part: a plate where most of
// the surface faces one line, a pipe where volume and surface say so, else a
// round body across the flow with the diameter of the two shorter edges.
func Choose(o Outline) Body {
	short, middle, long := o.order()
	b := o.round(short, middle, long)
	if o.FlatShare >= plateShare {
		b = o.plate()
	} else if d := o.pipeM(short); d > 0 {
		b = Body{Kind: Cylinder, LengthM: d}
		if o.UpCos[long] > upright && o.EdgesM[long] > longShare*o.EdgesM[middle] {
			b = Body{Kind: UprightColumn, LengthM: o.EdgesM[long], FlowM: d}
		}
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
	sumM := o.EdgesM[0] + o.EdgesM[1] + o.EdgesM[2]
	if lengthM < pipeShare*diameterM || lengthM > bentShare*sumM || o.EdgesM[short] < thinShare*diameterM {
		return 0
	}
	return diameterM
}

// plate returns the plate that has the part's surface: level where it faces up
// or down, else upright with the height at which it stands. A level one's
// length is that of a square, a quarter of its edge.
func (o Outline) plate() Body {
	sideM2 := o.AreaM2
	if o.VolumeM3 > 0 {
		sideM2 /= 2
	}
	edgeM := math.Sqrt(sideM2)
	if o.FlatUpCos > upright {
		return Body{Kind: LevelPlate, LengthM: edgeM / 4, FlowM: edgeM}
	}
	return Body{Kind: UprightPlate, LengthM: o.HeightM, FlowM: edgeM}
}

func (o Outline) round(short, middle, long int) Body {
	diameterM := math.Sqrt(o.EdgesM[short] * o.EdgesM[middle])
	if o.UpCos[long] > upright && o.EdgesM[long] > longShare*o.EdgesM[middle] {
		return Body{Kind: UprightColumn, LengthM: o.EdgesM[long], FlowM: diameterM}
	}
	return Body{Kind: Cylinder, LengthM: diameterM}
}
