package desk

import (
	"errors"

	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// ErrCancelled stands in for an answer that the reader did not wait for.
var ErrCancelled = say.New("cancelled: press Compute to go on")

// lane is what all answers have in common: the job that makes each, and whether
// the reader gave it up.
type lane interface {
	running() Job
	cancel()
	resume()
	cancelled() bool
}

func (a *Answer[T]) running() Job    { return a.Job }
func (a *Answer[T]) cancelled() bool { return errors.Is(a.Err, ErrCancelled) }

func (a *Answer[T]) cancel() {
	if a.pending() {
		a.Err = ErrCancelled
	}
}

func (a *Answer[T]) resume() {
	if a.cancelled() {
		a.Err = nil
	}
}

// named is a lane with what it makes.
type named struct {
	what string
	lane
}

// lanes lists every answer that a job makes.
func (a *Answers) lanes() []named {
	return []named{
		{phrase.Of("clearances"), &a.Fit},
		{phrase.Of("rear view"), &a.Seen},
		{phrase.Of("drop"), &a.Drop},
		{phrase.Of("alternatives"), &a.Swaps},
		{phrase.Of("map"), &a.Map},
		{phrase.Of("temperatures"), &a.Heat},
		{phrase.Of("shield"), &a.Shield},
		{phrase.Of("shields"), &a.Shields},
		{phrase.Of("places"), &a.Spots},
		{phrase.Of("meshes"), &a.Sound},
		{phrase.Of("what changed"), &a.Changes},
		{phrase.Of("what became of the answers"), &a.Outcomes},
	}
}

// Cancel ends what is being computed, or the opening of a layout. What is still
// wanted stays without an answer until Resume or the next change. What is only wanted once another answer
// is there is not reached without that one; a map in the making is given up.
func (d *Desk) Cancel() {
	d.mu.Lock()
	if d.stopComing != nil {
		d.stopComing()
		d.mu.Unlock()
		return
	}
	a := &d.answers
	for _, l := range []lane{&a.Fit, &a.Seen, &a.Drop, &a.Heat, &a.Spots, &a.Sound} {
		l.cancel()
	}
	for _, l := range []struct {
		wanted bool
		lane
	}{
		{d.trial != nil, &a.Shield},
		{len(shieldsOf(d.doc)) > 0, &a.Shields},
		{d.shown != nil && d.wantsChanges(), &a.Changes},
		{d.shown != nil && d.wantsOutcomes(), &a.Outcomes},
		{d.shown != nil && d.wantsSwaps(), &a.Swaps},
	} {
		if l.wanted {
			l.cancel()
		}
	}
	d.mapped = false
	if d.stopJob != nil {
		d.stopJob()
	}
	d.mu.Unlock()
	d.listener()
}

// Resume computes what was cancelled.
func (d *Desk) Resume() {
	d.mu.Lock()
	for _, l := range d.answers.lanes() {
		l.resume()
	}
	d.wakeUp()
	d.mu.Unlock()
	d.listener()
}

// Job tells what is being computed, in words with how far it is; "" if nothing.
func (s *State) Job() string {
	for _, l := range s.Answers.lanes() {
		if j := l.running(); j.Running {
			return l.what + ": " + busyText(j)
		}
	}
	return ""
}

// Share returns how far the running job is, 0..1, and whether one runs.
func (s *State) Share() (share float64, running bool) {
	if s.Coming != nil {
		return s.Coming.Share(), true
	}
	for _, l := range s.Answers.lanes() {
		if j := l.running(); j.Running {
			return float64(j.Done) / float64(max(1, j.Total)), true
		}
	}
	return 0, false
}

// Cancelled reports whether an answer is missing because of Cancel.
func (s *State) Cancelled() bool {
	for _, l := range s.Answers.lanes() {
		if l.cancelled() {
			return true
		}
	}
	return false
}
