package main

import "github.com/mmcloughlin/avo/build"

// main writes what asks the processor.
func main() {
	askCPU()
	build.Generate()
}
