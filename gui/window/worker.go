package window

import "sync"

// worker runs jobs one after the other, beside whoever asks. A job that waits
// is replaced by a newer one with the same key; "" never is.
type worker struct {
	start func(run func()) // how to run beside
	guard func(run func()) // around each job

	mu      sync.Mutex
	waiting []job
	running bool
	at      string // key of the job that runs
}

type job struct {
	key string
	run func()
}

func newWorker(start, guard func(run func())) *worker { return &worker{start: start, guard: guard} }

// beside runs on a goroutine of its own.
func beside(run func()) { go run() }

// do asks for a job.
func (w *worker) do(key string, run func()) {
	w.mu.Lock()
	replaced := false
	for i := range w.waiting {
		if key != "" && w.waiting[i].key == key {
			w.waiting[i].run, replaced = run, true
		}
	}
	if !replaced {
		w.waiting = append(w.waiting, job{key, run})
	}
	begins := !w.running
	w.running = true
	w.mu.Unlock()
	if begins {
		w.start(w.work)
	}
}

// work runs what waits until nothing does.
func (w *worker) work() {
	for {
		w.mu.Lock()
		if len(w.waiting) == 0 {
			w.running, w.at, w.waiting = false, "", nil // what ran last holds nothing any more
			w.mu.Unlock()
			return
		}
		next := w.waiting[0]
		w.waiting, w.at = w.waiting[1:], next.key
		w.mu.Unlock()
		w.guard(next.run)
	}
}

// waits reports whether a job of that key runs or is still to run.
func (w *worker) waits(key string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.at == key {
		return true
	}
	for _, j := range w.waiting {
		if j.key == key {
			return true
		}
	}
	return false
}
