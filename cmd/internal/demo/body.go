package demo

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// The driver's view to the rear, mm.
const (
	eyeAboveRMM   = 635.0 // ocular points over the R point: UN R46
	roadBehindMM  = 60000.0
	halfRoadMM    = 10000.0
	rearEndXMM    = 3200.0
	deckCrestZMM  = 955.0
	deckSheetMM   = 6.0
	firewallRearX = 1471.0 // Bare numbers: mm
)

// Driver and mirror. Read-only.
var (
	rPoint       = geom.Vec{1250, -360, 285}
	mirrorCentre = geom.Vec{760, 0, 985}
	mirrorAim    = geom.Vec{1, 0, -0.008}
	rearGlass    = []geom.Vec{{1400, -420, 1085}, {1400, 420, 1085}, {1560, 460, 962}, {1560, -460, 962}}
)

// imageEye returns the middle of the eyes as the mirror shows it: as far
// before the mirror as the eyes are behind it, against the aim.
func imageEye() geom.Vec {
	eye := rPoint.Add(geom.Vec{0, 0, eyeAboveRMM})
	return mirrorCentre.Sub(mirrorAim.Normalize().Mul(eye.Sub(mirrorCentre).Len()))
}

// sightZ returns the height of the line from the image eye to the road 60 m
// behind the eyes, at x.
func sightZ(xMM float64) float64 { // Bare numbers: mm
	e := imageEye()
	return e[2] * (1 - (xMM-e[0])/(rPoint[0]+roadBehindMM-e[0]))
}

// sightHalfY returns how far to each side the 20 m strip reaches at x.
func sightHalfY(xMM float64) float64 { // Bare numbers: mm
	e := imageEye()
	return halfRoadMM * (xMM - e[0]) / (rPoint[0] + roadBehindMM - e[0])
}

func (c *car) body() {
	skin := func(name, role string, massKg float64, outline []point2, halfMM float64) *layout.Part {
		return of(c.add(name, role, "", prism(axisY, -halfMM, halfMM, outline)), sheet, massKg)
	}
	skin("firewall", "firewall", 14, []point2{{1468, 150}, {firewallRearX, 150}, {firewallRearX, 948}, {1468, 948}}, 640)
	// The earlier layout needs a higher lid over its plenum.
	liftMM := 0.0
	if c.variant == BrambleA {
		liftMM = 10
	}
	deck := skin("deck lid", "deck", 15, strip([]point2{
		{1576, deckCrestZMM - 2.5 + liftMM}, {1750, deckCrestZMM - 0.5 + liftMM}, {1900, deckCrestZMM + liftMM}, {2100, deckCrestZMM - 4 + liftMM}, {2400, 938}, {2750, 908},
	}, deckSheetMM), 600)
	stands(deck, 140, 160, "painted lid: common practice, no source")
	tail := skin("tail deck", "body", 9, strip([]point2{{2762, 906}, {3136, 872}}, 4), 946)
	stands(tail, 120, 140, "painted sheet: common practice, no source")
	rear := of(c.add("rear panel", "body", "", box(geom.Vec{3134, -946, 690}, geom.Vec{3140, 946, 868})), sheet, 8)
	stands(rear, 120, 140, "painted sheet: common practice, no source")
	skin("undertray", "body", 9, strip([]point2{{1475, 110}, {2900, 110}, {3010, 124}}, 4), 600)
	skin("roof", "body", 11, strip([]point2{{788, 1090}, {1100, 1102}, {1402, 1089}}, 6), 520)
	skin("windscreen", "glass", 13, strip([]point2{{440, 790}, {794, 1088}}, 5), 540)
	skin("rear glass", "glass", 6, strip([]point2{{1400, 1085}, {1560, 962}}, 4), 460)
	skin("nose", "body", 60, []point2{{-760, 240}, {-700, 440}, {250, 700}, {430, 786}, {560, 786}, {640, 160}, {-640, 150}}, 560)
	skin("cabin floor", "body", 22, []point2{{646, 110}, {1460, 110}, {1460, 114}, {646, 114}}, 700)
	c.join("tail deck", "rear panel")
	c.join("rear glass", "roof")
	c.join("windscreen", "roof", "nose")
	for _, s := range sides {
		name := "quarter panel " + s.name
		of(c.add(name, "body", "", s.box(geom.Vec{1480, 612, 894}, geom.Vec{2758, 946, 898})), sheet, 5)
		flank := "body side " + s.name
		of(c.add(flank, "body", "", prism(axisY, s.sign*946, s.sign*950, flankOutline())), sheet, 16)
		c.join(flank, name, "tail deck", "rear panel")
	}
	c.keepOut()
}

// keepOut is the wedge behind the rear glass that must stay free for the view.
func (c *car) keepOut() {
	face := func(xMM float64) [4]geom.Vec {
		y, low, high := sightHalfY(xMM), sightZ(xMM), imageEye()[2]+20
		return [4]geom.Vec{{xMM, -y, low}, {xMM, y, low}, {xMM, y, high}, {xMM, -y, high}}
	}
	p := c.add("sight line", "sightline", "", wedge(face(1572), face(3300)))
	p.Notes = "What the driver sees in the mirror from 60 m behind the eyes to the horizon, 20 m wide: UN R46 class I, para 15.2.4.1."
}

// flankOutline is the side of the body, with two wheel arches.
func flankOutline() []point2 {
	const sillMM = 160.0
	out := []point2{{-740, 300}, {-690, 440}, {-300, 700}, {250, 735}, {640, 775}, {1480, 885}, {2758, 896}, {3136, 868}, {3136, 430}, {2990, 200}}
	for _, axleMM := range []float64{rearAxleMM, 0} {
		const archMM, steps = 362.0, 16
		begin := math.Asin((sillMM - wheelZMM) / archMM)
		for k := range steps + 1 {
			sin, cos := math.Sincos(begin + (math.Pi-2*begin)*float64(k)/steps)
			out = append(out, point2{axleMM + archMM*cos, wheelZMM + archMM*sin})
		}
	}
	return out
}
