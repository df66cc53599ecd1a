package main

import (
	"os"

	"github.com/mmcloughlin/avo/build"
)

// main writes one file: with PART=cpu what asks the processor, with PART=near the
// bounds of eight boxes, with PART=bins the sorting of triangles into slices.
func main() {
	switch os.Getenv("PART") {
	case "cpu":
		askCPU()
	case "near":
		nearAhead()
	case "bins":
		fillBins()
	default:
		os.Stderr.WriteString("say PART=cpu, PART=near or PART=bins\n")
		os.Exit(2)
	}
	build.Generate()
}
