package window

import (
	"bytes"
	"runtime"
)

// onLoop returns do with a guard: what it is given runs on the goroutine that
// calls onLoop, which is the toolkit's, or not at all. Once the toolkit has
// stopped, its own way would run it right where it is asked for, beside, with
// widgets that are gone; a signal stops it at any time.
//
// Waiting for the loop on the loop would never end: onLoopNow runs what is asked
// for there at once.
func onLoop(do func(run func())) func(run func()) {
	loop := goroutine()
	return func(run func()) {
		do(func() {
			if goroutine() == loop {
				run()
			}
		})
	}
}

func onLoopNow(doAndWait func(run func())) func(run func()) {
	loop, other := goroutine(), onLoop(doAndWait)
	return func(run func()) {
		if goroutine() == loop {
			run()
			return
		}
		other(run)
	}
}

// goroutine returns the name of the goroutine that calls: "goroutine 7", as a
// stack trace begins (package runtime, func Stack). Cost: some microseconds, more
// the deeper the calls.
func goroutine() string {
	var head [40]byte // "goroutine ", up to 20 digits, " ["
	line := head[:runtime.Stack(head[:], false)]
	if end := bytes.IndexByte(line, '['); end >= 0 {
		line = line[:end]
	}
	return string(bytes.TrimSpace(line))
}
