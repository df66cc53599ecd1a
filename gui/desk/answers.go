package desk

import (
	"context"
	"runtime/debug"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/drop"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
	"aftbay/thermal/outcome"
	"aftbay/thermal/shield"
	"aftbay/thermal/spot"
)

// Answers are the results at hand. A value that is not Fresh belongs to an
// earlier state of the layout and must be shown as such; nil: none yet.
type Answers struct {
	Fit   Answer[clearance.Result]
	Drop  Answer[drop.Result]
	Heat  Answer[balance.Result]
	Spots Answer[spot.Result]
	Sound Answer[Sound] // of the meshes
	Seen  Answer[Seen]
	Swaps Answer[Swaps] // what exchanges of parts would change of the drop
	Map   Answer[drop.Map]
	// Shield is what the shield on trial does, without one empty.
	Shield Answer[shield.Trial]
	// Shields is what each shield of the layout would do.
	Shields Answer[Shields]
	// Changes is what changed since Against, Outcomes what became of the answers
	// beside clearance.
	Changes  Answer[compare.Result]
	Outcomes Answer[outcome.Result]
}

// Answer is one result and how far it can be trusted.
type Answer[T any] struct {
	Value *T
	Fresh bool
	Rough bool  // of the present state, but a first, coarse one: a fresh one follows
	Err   error // why there is none for the present state; nil while it runs
	Job   Job
	scene *scene.Scene // Value is of this scene
	says  []said       // of Value, made once; see the kinds below
}

// said is one line about a value with its verdict.
type said struct{ answer, verdict string }

// What an answer about clearances says; the other answers say one thing.
const (
	saysFit = iota
	saysSight
	saysStatus
)

// Job tells how far a running computation is.
type Job struct {
	Running     bool
	Done, Total int
}

// stale marks every answer as of an earlier state and wakes the jobs; the lock
// is held.
func (d *Desk) stale() {
	d.answers.Drop.lapse()
	d.answers.Sound.lapse()
	d.answers.Swaps.lapse()
	d.answers.Map.lapse()
	d.mapped = false
	d.stalePose()
}

// stalePose is stale for what depends on the previewed drop.
func (d *Desk) stalePose() {
	d.answers.Fit.lapse()
	d.answers.Changes.lapse()
	d.answers.Outcomes.lapse()
	d.answers.Seen.lapse()
	d.answers.Heat.lapse()
	d.answers.Spots.lapse()
	d.answers.Shield.lapse()
	d.answers.Shields.lapse()
	if d.stopJob != nil && !d.jobIsFit {
		d.stopJob()
	}
	d.wakeUp()
}

// wakeUp tells the worker that something is wanted.
func (d *Desk) wakeUp() {
	select {
	case d.wake <- struct{}{}:
	default: // already woken
	}
}

func (a *Answer[T]) lapse() { a.Fresh, a.Rough, a.Err = false, false, nil }

// pending reports whether an answer is still wanted.
func (a *Answer[T]) pending() bool { return !a.Fresh && a.Err == nil }

// task is one computation about to run.
type task struct {
	fit bool
	run func(ctx context.Context, progress geom.Progress) error // stores its answer
	job *Job
}

// next picks the most urgent answer that is wanted; the lock is held. The quick
// one comes first, so that a drag is felt at once.
func (d *Desk) next() (task, bool) {
	a, s := &d.answers, d.shown
	switch {
	case s == nil:
		return task{}, false
	case a.Fit.pending():
		prev, brief := a.Fit.Value, d.held != nil
		return newTask(d, &a.Fit, s, true, func(ctx context.Context, p geom.Progress) (*clearance.Result, error) {
			return clearance.Run(ctx, s, clearance.Options{Workers: d.workers, Prev: prev, Brief: brief}, p)
		}, sayFit), true
	case a.Seen.pending() && !a.Seen.Rough:
		return d.seenTask(s, true), true
	case d.wantsChanges():
		return d.changesTask(), true
	case d.wantsMap():
		return d.mapTask(), true
	case d.wantsSwaps():
		return d.swapsTask(), true
	case a.Heat.pending() && !a.Heat.Rough:
		return d.heatTask(s, true), true
	case a.Seen.pending():
		return d.seenTask(s, false), true
	case a.Drop.pending():
		base := d.base
		return newTask(d, &a.Drop, base, false, func(ctx context.Context, p geom.Progress) (*drop.Result, error) {
			return drop.Run(ctx, base, DropOptions(d.workers), p)
		}, sayDrop), true
	case a.Heat.pending():
		return d.heatTask(s, false), true
	case d.wantsShield() && a.Heat.Err != nil:
		a.Shield.Err = say.Errorf("needs the temperatures first: %w", a.Heat.Err)
		return d.next()
	case d.wantsShield():
		return d.shieldTask(s), true
	case a.Spots.pending() && a.Heat.Err != nil:
		a.Spots.Err = say.Errorf("needs the temperatures first: %w", a.Heat.Err)
		return d.next()
	case a.Spots.pending():
		return d.spotsTask(s), true
	case a.Sound.pending():
		return d.lookAtMeshes(), true
	case d.wantsShields():
		return d.shieldsTask(s), true
	case d.wantsOutcomes():
		return d.outcomesTask(s), true
	}
	return task{}, false
}

// heatTask works out the temperatures; a coarse answer comes first.
func (d *Desk) heatTask(s *scene.Scene, coarse bool) task {
	last := &d.fineHeat
	if coarse {
		last = &d.coarseHeat
	}
	o := balance.Options{Workers: d.workers, Coarse: coarse, Prev: *last}
	return newTask(d, &d.answers.Heat, s, false, func(ctx context.Context, p geom.Progress) (*balance.Result, error) {
		r, err := balance.Run(ctx, s, o, p)
		if err == nil {
			d.mu.Lock()
			*last = r
			d.mu.Unlock()
		}
		return r, err
	}, sayHeat)
}

// isRough reports whether a value is a first, coarse one.
func isRough(value any) bool {
	switch v := value.(type) {
	case *balance.Result:
		return v.Coarse
	case *Seen:
		return v.Result != nil && v.Result.Quick
	case *shield.Trial:
		return v.After.Coarse
	}
	return false
}

// lookAtMeshes is the job that looks for faults of the meshes; the lock is held.
func (d *Desk) lookAtMeshes() task {
	base, known := d.base, d.answers.known()
	return newTask(d, &d.answers.Sound, base, false, func(ctx context.Context, p geom.Progress) (*Sound, error) {
		return soundOf(ctx, base, known, d.workers, p)
	}, func(*Sound) []said { return nil })
}

// newTask computes an answer on a scene. The result is kept as fresh only if
// the desk still shows that scene when it is done.
func newTask[T any](d *Desk, a *Answer[T], s *scene.Scene, fit bool, study func(context.Context, geom.Progress) (*T, error), say func(*T) []said) task {
	return task{fit: fit, job: &a.Job, run: func(ctx context.Context, progress geom.Progress) error {
		value, err := guarded(ctx, progress, study)
		var says []said
		if err == nil {
			says = say(value)
		}
		d.mu.Lock()
		defer d.mu.Unlock()
		current := s == d.shown || s == d.base && d.answers.ofBase(a)
		switch {
		case ctx.Err() != nil:
		case err != nil && current:
			a.Value, a.Err = nil, err
		case err == nil:
			rough := isRough(value)
			a.Value, a.Fresh, a.Rough, a.scene, a.says = value, current && !rough, current && rough, s, says
		}
		return err
	}}
}

// ofBase reports whether an answer is of the layout without the preview.
func (a *Answers) ofBase(one any) bool {
	return one == any(&a.Drop) || one == any(&a.Sound) || one == any(&a.Swaps) || one == any(&a.Map)
}

// guarded turns a panic of our own into an error, so that the window lives on.
func guarded[T any](ctx context.Context, progress geom.Progress, study func(context.Context, geom.Progress) (*T, error)) (value *T, err error) {
	defer func() {
		if r := recover(); r != nil {
			value, err = nil, say.Errorf("internal fault, please report it: %v\n%s", r, debug.Stack())
		}
	}()
	return study(ctx, progress)
}
