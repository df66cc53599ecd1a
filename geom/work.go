package geom

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Progress is told how much of a job is done. It may be nil and is never
// called from two goroutines at once.
type Progress func(done, total int)

// Each runs do(i) for every i in [0, n) on the given number of workers (0 means
// one per processor) and waits for all of them. do must write only slot i, so
// that the result does not depend on the number of workers.
//
// The first error by index wins; a cancelled ctx returns its error. A panic in
// do is carried to the caller's goroutine with its stack.
func Each(ctx context.Context, workers, n int, progress Progress, do func(i int) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	w := &crew{n: n, progress: progress, do: do, firstErr: n}
	var wg sync.WaitGroup
	for range min(workers, n) {
		wg.Go(func() { w.run(ctx) })
	}
	wg.Wait()
	if w.panicked != nil {
		panic(fmt.Sprintf("%v\n%s", w.panicked, w.stack))
	}
	if w.err != nil {
		return w.err
	}
	return ctx.Err()
}

// crew is the state that the goroutines of one Each share.
type crew struct {
	n        int
	next     atomic.Int64
	stop     atomic.Bool
	progress Progress
	do       func(i int) error

	mu       sync.Mutex // guards what follows
	done     int
	err      error
	firstErr int
	panicked any
	stack    []byte
}

func (w *crew) run(ctx context.Context) {
	defer func() {
		if r := recover(); r != nil {
			w.mu.Lock()
			w.panicked, w.stack = r, debug.Stack()
			w.mu.Unlock()
			w.stop.Store(true)
		}
	}()
	for !w.stop.Load() && ctx.Err() == nil {
		i := int(w.next.Add(1)) - 1
		if i >= w.n {
			return
		}
		w.finish(i, w.do(i))
	}
}

func (w *crew) finish(i int, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if err != nil {
		w.stop.Store(true)
		if i < w.firstErr {
			w.err, w.firstErr = err, i
		}
		return
	}
	w.done++
	if w.progress != nil {
		w.progress(w.done, w.n)
	}
}
