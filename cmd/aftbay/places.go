package main

import (
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

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

// trust tells the toolkit that its widgets are touched on its own goroutine
// alone. Else it asks at every refresh of every widget which goroutine it is on,
// by a stack trace: over a quarter of the time of that goroutine, measured while
// parts are dragged and pages switched. With threads "check" it goes on asking and
// complains where the promise is broken, as the tests of the real window want it.
func trust(a fyne.App, threads string) {
	if threads == "check" {
		return
	}
	about := a.Metadata()
	about.Migrations = map[string]bool{"fyneDo": true}
	app.SetMetadata(about)
}
