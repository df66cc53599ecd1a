package main

import (
	"os"

	"github.com/mmcloughlin/avo/build"
)

// main writes one file: with PART=cpu what asks the processor, with PART=near the
// bounds of eight boxes.
func main() {
	switch os.Getenv("PART") {
	case "cpu":
		askCPU()
	case "near":
		nearAhead()
	default:
		os.Stderr.WriteString("say PART=cpu or PART=near\n")
		os.Exit(2)
	}
	build.Generate()
}
