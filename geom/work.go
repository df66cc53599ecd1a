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
// that the result does not depend on the number of workers. The workers run
// where ctx says (On), else on goroutines of their own.
//
// The first error by index wins; a cancelled ctx returns its error. A panic in
// do is carried to the caller's goroutine with its stack.
func Each(ctx context.Context, workers, n int, progress Progress, do func(i int) error) error {
	if workers <= 0 {
		workers = Processors()
	}
	w := &crew{n: n, progress: progress, do: do, firstErr: n}
	var wg sync.WaitGroup
	if workers = min(workers, n); workers == 1 {
		w.run(ctx)
		workers = 0
	}
	for range workers {
		wg.Add(1)
		Go(ctx, func() {
			defer wg.Done()
			w.run(ctx)
		})
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

// Processors returns how many processors work may use: those of the machine, or
// fewer where the runtime was given fewer. The runtime may have been given more
// than there are, so that what must not wait finds a place.
func Processors() int { return min(runtime.NumCPU(), runtime.GOMAXPROCS(0)) }

// startKey is the key of how the workers of an Each are started.
type startKey struct{}

// On returns a context whose work loops start their workers by start, which must
// run what it is given beside, at once and to its end: a loop within a loop waits
// for its own workers.
func On(ctx context.Context, start func(run func())) context.Context {
	return context.WithValue(ctx, startKey{}, start)
}

// Go runs something beside: where ctx says (On), else on a goroutine of its own.
func Go(ctx context.Context, run func()) {
	if start, ok := ctx.Value(startKey{}).(func(run func())); ok {
		start(run)
		return
	}
	go run()
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
