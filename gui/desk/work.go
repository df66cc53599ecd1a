package desk

import (
	"context"
	"time"

	"aftbay/geom"
)

const (
	// restingAfter is how long after the last preview the longer jobs start: a
	// hand on the slider pauses less than this.
	restingAfter = 250 * time.Millisecond
	// progressEvery is how often a running job tells the listener.
	progressEvery = 100 * time.Millisecond
)

// work runs the jobs one after the other until ctx ends.
func (d *Desk) work(ctx context.Context) {
	timer := time.NewTimer(time.Hour)
	defer timer.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-d.wake:
		case <-timer.C:
		}
		for ctx.Err() == nil {
			wait, ran := d.one(ctx)
			if !ran {
				if wait > 0 {
					timer.Reset(wait)
				}
				break
			}
		}
	}
}

// one runs the most urgent job. Without one to run now it returns how long to
// wait for the hand to rest, 0 when nothing is wanted.
func (d *Desk) one(ctx context.Context) (wait time.Duration, ran bool) {
	d.mu.Lock()
	t, ok := d.next()
	if !ok {
		d.settled.Broadcast()
		d.mu.Unlock()
		return 0, false
	}
	if rest := restingAfter - time.Since(d.touched); !t.fit && rest > 0 {
		d.mu.Unlock()
		return rest, false
	}
	jobCtx, stop := context.WithCancel(ctx)
	d.stopJob, d.jobIsFit = stop, t.fit
	*t.job = Job{Running: true}
	follows := time.Since(d.touched) < restingAfter
	d.mu.Unlock()
	d.listener()
	run := func(ctx context.Context) { _ = t.run(ctx, d.progress(t.job)) } // kept with the answer
	if follows {                                                           // a hand waits for it
		run(jobCtx)
	} else {
		d.crew.Do(func() { run(d.crew.Context(jobCtx)) })
	}
	stop()
	d.mu.Lock()
	*t.job = Job{}
	d.stopJob = nil
	d.noteOpened()
	d.noteOlder()
	d.settled.Broadcast()
	d.mu.Unlock()
	d.listener()
	return 0, true
}

// progress notes how far a job is and tells the listener now and then.
func (d *Desk) progress(job *Job) geom.Progress {
	var told time.Time
	return func(done, total int) {
		if now := time.Now(); now.Sub(told) >= progressEvery {
			told = now
			d.mu.Lock()
			job.Done, job.Total = done, total
			d.mu.Unlock()
			d.listener()
		}
	}
}

// Wait returns once every answer is fresh or has failed, or ctx ends.
func (d *Desk) Wait(ctx context.Context) error {
	stop := context.AfterFunc(ctx, func() {
		d.mu.Lock()
		d.settled.Broadcast()
		d.mu.Unlock()
	})
	defer stop()
	d.mu.Lock()
	defer d.mu.Unlock()
	for ctx.Err() == nil && d.wanted() {
		d.settled.Wait()
	}
	return ctx.Err()
}

// wanted reports whether some answer is still to come; the lock is held.
func (d *Desk) wanted() bool {
	a := &d.answers
	return d.shown != nil && (a.Fit.pending() || a.Seen.pending() || a.Drop.pending() || a.Heat.pending() || a.Spots.pending() || d.wantsChanges() || d.wantsSwaps() || d.wantsMap() || d.wantsShield() || d.wantsShields() || a.Sound.pending() || d.wantsOutcomes())
}
