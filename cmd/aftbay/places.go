package main

import (
	"runtime"

	"aftbay/geom"
)

// spare is how many goroutines may run beside those that fill the processors:
// the toolkit's, the two that bring changes to the screen, and one more. Without
// them the toolkit's waits behind the workers for tens of milliseconds each time
// it comes back from the display. The system shares the processors out then, and
// the workers give way (gui/patient). Measured; common practice, no source.
const spare = 4

// makeRoom lets more goroutines run at a time than there are processors, and
// returns for how many the work shall be split.
func makeRoom() (workers int) {
	workers = geom.Processors()
	runtime.GOMAXPROCS(workers + spare)
	return workers
}
