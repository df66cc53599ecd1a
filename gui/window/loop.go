package window

import (
	"bytes"
	"runtime"
)

// onLoop returns do with a guard: what it is given runs on the goroutine that
// calls onLoop, which is the toolkit's, or not at all. Once the toolkit has
// stopped, its own way would run it right where it is asked for, beside, with
// widgets that are gone; a signal stops it at any time.
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

// goroutine returns the name of the goroutine that calls: "goroutine 7", as a
// stack trace begins (package runtime, func Stack). Cost: a microsecond.
func goroutine() string {
	var head [40]byte // "goroutine ", up to 20 digits, " ["
	line := head[:runtime.Stack(head[:], false)]
	if end := bytes.IndexByte(line, '['); end >= 0 {
		line = line[:end]
	}
	return string(bytes.TrimSpace(line))
}
