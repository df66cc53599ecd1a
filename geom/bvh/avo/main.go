package main

import (
	"github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
)

func main() {
	build.Package("aftbay/geom/bvh")
	slackAt := build.ConstData("slabUlps", operand.U32(slabUlps))
	newWalk("castWide", false, slackAt,
		"castWide finds the nearest hit of a shot, as shot.first does, by AVX2 and FMA.")
	newWalk("blockedWide", true, slackAt,
		"blockedWide finds out whether a shot meets anything, by AVX2 and FMA: s.tri",
		"is not negative then.")
	newVolley(slackAt)
	newAimer(slackAt)
	newOctetStep(slackAt)
	build.Generate()
}
