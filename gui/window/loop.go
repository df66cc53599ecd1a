package window

import (
	"bytes"
	"runtime"
	"sync"
	"time"
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

const (
	// heavy is how long something may run on the loop for the next to follow at
	// once; pause is what else is waited for it: the loop takes input every 1/60 s,
	// and comes to that in between. Common practice, no source.
	heavy = 8 * time.Millisecond
	pause = 25 * time.Millisecond
)

// oneByOne returns now with manners: of those beside the loop one has something
// run there at a time, and after something heavy the loop is left to input and
// drawing for a moment. Else the work of several adds up while input waits.
func oneByOne(now func(run func())) func(run func()) {
	loop := goroutine()
	var turn sync.Mutex
	return func(run func()) {
		if goroutine() == loop { // it waits for nobody beside
			run()
			return
		}
		turn.Lock()
		defer turn.Unlock()
		var took time.Duration
		now(func() {
			began := time.Now()
			run()
			took = time.Since(began)
		})
		if took > heavy {
			time.Sleep(pause)
		}
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
