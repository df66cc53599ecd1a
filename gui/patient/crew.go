package patient

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"time"

	"aftbay/geom"
)

// restFor is how long a thread without work waits for more before it ends: a job
// has hundreds of loops, and a thread costs some 50 µs to make. Common practice,
// no source.
const restFor = 5 * time.Second

// Crew runs work on patient threads: as many as are asked for at a time. The
// zero value is not of use: see NewCrew.
type Crew struct{ idle chan func() }

// NewCrew returns a crew without threads: they are made as they are needed, and
// end when they have had nothing to do for a while.
func NewCrew() *Crew { return &Crew{idle: make(chan func())} }

// Go runs something beside, at once, on a patient thread. A panic of it ends the
// program, as that of any goroutine.
func (c *Crew) Go(run func()) {
	select {
	case c.idle <- run:
	default: // all have work
		go c.work(run)
	}
}

// Do is Go and waits for the end. A panic is carried to the caller with its stack.
func (c *Crew) Do(run func()) {
	done := make(chan struct{})
	var panicked any
	c.Go(func() {
		defer close(done)
		defer func() {
			if r := recover(); r != nil {
				panicked = fmt.Sprintf("%v\n%s", r, debug.Stack())
			}
		}()
		run()
	})
	<-done
	if panicked != nil {
		panic(panicked)
	}
}

// Context returns a context whose work loops run on patient threads.
func (c *Crew) Context(ctx context.Context) context.Context { return geom.On(ctx, c.Go) }

// work runs what it is given, then what comes until nothing does. The thread is
// never unlocked, so that it ends with the goroutine: one that gives way must not
// serve others.
func (c *Crew) work(run func()) {
	runtime.LockOSThread()
	giveWay()
	rest := time.NewTimer(restFor)
	defer rest.Stop()
	for {
		run()
		rest.Reset(restFor)
		select {
		case run = <-c.idle:
		case <-rest.C:
			return
		}
	}
}
