package desk

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// ErrNothingOpen means that no layout is open yet.
var ErrNothingOpen = errors.New("no layout is open: open a layout folder or the demo first")

// Desk is the open layout. All methods may be called from any goroutine; the
// listener is told after every change and must return at once.
type Desk struct {
	listener func()
	workers  int

	mu       sync.Mutex // guards what follows
	folder   *layout.Folder
	doc      *layout.Document // never changed in place: an edit replaces it
	saved    *layout.Document // as on disk
	base     *scene.Scene     // as the document says
	shown    *scene.Scene     // base with the previewed drop
	dropMM   float64          // previewed, not an edit
	touched  time.Time        // of the last preview
	past     []step
	future   []step
	answers  Answers
	trial    *layout.Shield    // on trial, nil for none
	opened   *clearance.Result // first answer after opening, for "what changed"
	settled  *sync.Cond        // told when a job ends
	stop     context.CancelFunc
	wake     chan struct{}
	stopJob  context.CancelFunc
	jobIsFit bool
}

// step is one edit that can be undone.
type step struct {
	name   string
	before *layout.Document
}

// New returns an empty desk. listener may be nil; workers is how many
// processors the jobs use, 0 for all.
func New(workers int, listener func()) *Desk {
	if listener == nil {
		listener = func() {}
	}
	d := &Desk{listener: listener, workers: workers, wake: make(chan struct{}, 1)}
	d.settled = sync.NewCond(&d.mu)
	ctx, stop := context.WithCancel(context.Background())
	d.stop = stop
	go d.work(ctx)
	return d
}

// Close ends all jobs and lets go of the folder. The desk is of no use after.
func (d *Desk) Close() error {
	d.stop()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.settled.Broadcast()
	folder := d.folder
	d.folder, d.doc, d.base, d.shown = nil, nil, nil, nil
	if folder == nil {
		return nil
	}
	return folder.Close()
}

// Open puts a layout on the desk: a folder, its layout.json or an .aftbay file.
// On any fault the desk stays as it was. It may take a second for large meshes:
// do not call it where input is handled.
func (d *Desk) Open(ctx context.Context, path string) error {
	doc, folder, err := layout.Open(path)
	if err != nil {
		return err
	}
	s, err := scene.Build(ctx, doc, folder, nil, scene.Options{Workers: d.workers})
	if err != nil {
		return errors.Join(err, folder.Close())
	}
	d.mu.Lock()
	old := d.folder
	d.folder, d.doc, d.saved, d.base, d.shown, d.dropMM = folder, doc, doc, s, s, 0
	d.past, d.future, d.opened = nil, nil, nil
	d.answers, d.trial = Answers{}, nil
	d.stale()
	d.mu.Unlock()
	d.listener()
	if old != nil {
		return old.Close()
	}
	return nil
}

// Edit changes the document under a name that undo shows. change gets a copy;
// when it fails, or the result does not pass the checks of the file format, the
// desk stays as it was and the error says why.
func (d *Desk) Edit(name string, change func(doc *layout.Document) error) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.edit(name, d.dropMM, change)
}

// edit is Edit with the lock held; afterMM is the drop previewed from then on.
func (d *Desk) edit(name string, afterMM float64, change func(doc *layout.Document) error) error {
	if d.doc == nil {
		return ErrNothingOpen
	}
	next, err := copyOf(d.doc)
	if err != nil {
		return err
	}
	if err := change(next); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	before := d.doc
	if err := d.replace(next, afterMM); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	d.past, d.future = append(d.past, step{name, before}), nil
	return nil
}

// Undo takes the last edit back; Redo does it again. Without one they do nothing.
func (d *Desk) Undo() error { return d.travel(&d.past, &d.future) }

// Redo does the last undone edit again.
func (d *Desk) Redo() error { return d.travel(&d.future, &d.past) }

func (d *Desk) travel(from, to *[]step) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if len(*from) == 0 {
		return nil
	}
	last := (*from)[len(*from)-1]
	now := d.doc
	if err := d.replace(last.before, d.dropMM); err != nil {
		return err
	}
	*from = (*from)[:len(*from)-1]
	*to = append(*to, step{last.name, now})
	return nil
}

// replace shows another document with a previewed drop; the lock is held. The
// listener is told once the lock is free.
func (d *Desk) replace(doc *layout.Document, dropMM float64) error {
	if err := layout.Check(doc); err != nil {
		return err
	}
	base, err := d.build(doc)
	if err != nil {
		return err
	}
	shown, err := d.lowered(doc, base, dropMM)
	if err != nil {
		return err
	}
	d.doc, d.base, d.shown, d.dropMM = doc, base, shown, dropMM
	d.stale()
	go d.listener()
	return nil
}

// build makes the scene of a document, taking all that did not change from the
// one at hand.
func (d *Desk) build(doc *layout.Document) (*scene.Scene, error) {
	return scene.Build(context.Background(), doc, d.folder, d.base, scene.Options{Workers: d.workers})
}

// PreviewDrop shows the drop group lowered by dropMM without changing the
// document: what the slider does.
func (d *Desk) PreviewDrop(dropMM float64) error {
	d.mu.Lock()
	if d.doc == nil || d.doc.Drop == nil || dropMM == d.dropMM {
		d.mu.Unlock()
		return nil
	}
	shown, err := d.lowered(d.doc, d.base, dropMM)
	if err == nil {
		d.dropMM, d.touched, d.shown = dropMM, time.Now(), shown
		d.stalePose()
	}
	d.mu.Unlock()
	d.listener()
	return err
}

// lowered returns the scene of the document with its drop group lowered: the
// same that KeepDrop would leave, so that a preview and the edit agree.
func (d *Desk) lowered(doc *layout.Document, base *scene.Scene, dropMM float64) (*scene.Scene, error) {
	if dropMM == 0 || doc.Drop == nil {
		return base, nil
	}
	next, err := copyOf(doc)
	if err != nil {
		return nil, err
	}
	if err := shiftGroup(next, doc.Drop.Group, geom.Vec{0, 0, -dropMM}); err != nil {
		return nil, err
	}
	return scene.Build(context.Background(), next, d.folder, base, scene.Options{Workers: d.workers})
}

// KeepDrop makes the previewed drop an edit.
func (d *Desk) KeepDrop() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil || d.dropMM == 0 {
		return nil
	}
	dropMM := d.dropMM
	return d.edit("lower by "+units.FormatMM(dropMM), 0, func(doc *layout.Document) error {
		return shiftGroup(doc, doc.Drop.Group, geom.Vec{0, 0, -dropMM})
	})
}
