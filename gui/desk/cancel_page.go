package desk

import (
	"errors"

	"aftbay/geom/say"
)

// ErrCancelled stands in for an answer that the reader did not wait for.
var ErrCancelled = say.New("cancelled: press Compute to go on")

// Cancel ends what is being computed, or the opening of a layout. What is still wanted stays without an
// answer until Resume or the next change.
func (d *Desk) Cancel() {
	d.mu.Lock()
	if d.stopComing != nil {
		d.stopComing()
		d.mu.Unlock()
		return
	}
	a := &d.answers
	cancel(&a.Fit)
	cancel(&a.Drop)
	cancel(&a.Heat)
	cancel(&a.Spots)
	if d.trial != nil {
		cancel(&a.Shield)
	}
	if len(shieldsOf(d.doc)) > 0 {
		cancel(&a.Shields)
	}
	if d.stopJob != nil {
		d.stopJob()
	}
	d.mu.Unlock()
	d.listener()
}

// Resume computes what was cancelled.
func (d *Desk) Resume() {
	d.mu.Lock()
	a := &d.answers
	resume(&a.Fit)
	resume(&a.Drop)
	resume(&a.Heat)
	resume(&a.Spots)
	resume(&a.Shield)
	resume(&a.Shields)
	select {
	case d.wake <- struct{}{}:
	default: // already woken
	}
	d.mu.Unlock()
	d.listener()
}

func cancel[T any](a *Answer[T]) {
	if a.pending() {
		a.Err = ErrCancelled
	}
}

func resume[T any](a *Answer[T]) {
	if errors.Is(a.Err, ErrCancelled) {
		a.Err = nil
	}
}

// Job tells what is being computed, in words with how far it is; "" if nothing.
func (s *State) Job() string {
	a := &s.Answers
	for i, j := range []Job{a.Fit.Job, a.Drop.Job, a.Heat.Job, a.Spots.Job, a.Shield.Job, a.Shields.Job} {
		if j.Running {
			return [...]string{"clearances", "drop", "temperatures", "places", "shield", "shields"}[i] + ": " + busyText(j)
		}
	}
	return ""
}

// Share returns how far the running job is, 0..1, and whether one runs.
func (s *State) Share() (share float64, running bool) {
	if s.Coming != nil {
		return s.Coming.Share(), true
	}
	a := &s.Answers
	for _, j := range []Job{a.Fit.Job, a.Drop.Job, a.Heat.Job, a.Spots.Job, a.Shield.Job, a.Shields.Job} {
		if j.Running {
			return float64(j.Done) / float64(max(1, j.Total)), true
		}
	}
	return 0, false
}

// Cancelled reports whether an answer is missing because of Cancel.
func (s *State) Cancelled() bool {
	a := &s.Answers
	return errors.Is(a.Fit.Err, ErrCancelled) || errors.Is(a.Drop.Err, ErrCancelled) ||
		errors.Is(a.Heat.Err, ErrCancelled) || errors.Is(a.Spots.Err, ErrCancelled) || errors.Is(a.Shield.Err, ErrCancelled) || errors.Is(a.Shields.Err, ErrCancelled)
}
