package desk

import (
	"context"
	"errors"
	"sync"
	"time"

	"aftbay/geom/compare"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/journal"
	"aftbay/gui/patient"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
)

// ErrNothingOpen means that no layout is open yet.
var ErrNothingOpen = say.New("no layout is open: open a layout folder or the demo first")

// Desk is the open layout. All methods may be called from any goroutine; the
// listener is told after every change and must return at once.
type Desk struct {
	listener func()
	workers  int
	crew     *patient.Crew // what no hand waits for
	system   system

	mu         sync.Mutex         // guards what follows
	coming     *Coming            // on its way onto the desk, nil for nothing
	stopComing context.CancelFunc // nil once it can't be stopped any more
	folder     *layout.Folder
	doc        *layout.Document // never changed in place: an edit replaces it
	text       journal.Text     // doc as its file would be
	saved      journal.Text     // as on disk
	history    journal.History  // leads to text and from there
	made       made             // files that unsaved edits have written
	keep       *keep            // nil for a layout that is only looked at
	base       *scene.Scene     // as the document says
	shown      *scene.Scene     // base with the previewed drop
	at         Stand            // previewed, not an edit
	held       *carried         // likewise, nil for nothing
	touched    time.Time        // of the last preview
	answers    Answers
	trial      *layout.Shield // on trial, nil for none
	opened     *compare.Side  // the first answer after opening, for "what changed"
	inFile     *scene.Scene   // as the file said at opening, until that is answered; nil without recovered edits
	chosen     *compare.Side  // what to compare with instead, nil for opened
	older      older          // answers of what it is compared with, beside clearance
	settled    *sync.Cond     // told when a job ends
	stop       context.CancelFunc
	wake       chan struct{}
	stopJob    context.CancelFunc
	jobIsFit   bool
	mapped     bool         // the map of the drop is wanted
	seen       *seenPainter // of the jobs

	coarseHeat, fineHeat *balance.Result // the last ones: the next trace only what moved
}

// New returns an empty desk. listener may be nil; workers is how many
// processors the jobs use, 0 for all.
func New(workers int, listener func()) *Desk { return newDesk(workers, listener, realSystem()) }

func newDesk(workers int, listener func(), on system) *Desk {
	if listener == nil {
		listener = func() {}
	}
	d := &Desk{listener: listener, workers: workers, crew: patient.NewCrew(), system: on, wake: make(chan struct{}, 1), seen: &seenPainter{}}
	d.settled = sync.NewCond(&d.mu)
	ctx, stop := context.WithCancel(context.Background())
	d.stop = stop
	go d.work(ctx)
	go d.watch(ctx)
	return d
}

// Close ends all jobs and lets go of the folder. Edits that are not saved stay
// in the journal, to be recovered at the next start. The desk is of no use after.
func (d *Desk) Close() error {
	d.stop()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.settled.Broadcast()
	folder, k := d.folder, d.keep
	stays := leave
	if !d.unsaved() {
		stays = discard
	} else if k != nil && k.fault != "" {
		d.ahead(journal.Edit, phrase.Of("edits that were not journaled"), d.text) // a last try
	}
	d.folder, d.doc, d.base, d.shown, d.keep = nil, nil, nil, nil, nil
	err := k.end(stays)
	if folder != nil {
		err = errors.Join(err, folder.Close())
	}
	return err
}

// Open puts a layout on the desk to look at: a folder, its layout.json or an
// .aftbay file. Nothing is locked and no journal is written; a window uses
// OpenToWork. On any fault the desk stays as it was. It may take a second for
// large meshes: do not call it where input is handled.
func (d *Desk) Open(ctx context.Context, path string) error {
	doc, folder, err := layout.Open(path)
	if err != nil {
		return err
	}
	o, err := openingOf(doc, folder)
	if err == nil {
		o.scene, err = d.sceneOf(ctx, &o)
	}
	if err != nil {
		return errors.Join(err, folder.Close())
	}
	return d.put(o)
}

// opening is a layout about to be put on the desk.
type opening struct {
	doc     *layout.Document
	text    journal.Text
	saved   journal.Text
	history journal.History
	folder  *layout.Folder
	scene   *scene.Scene
	inFile  *scene.Scene // as the file says, where recovered edits say otherwise
	keep    *keep
	content *journal.Content // of the journal to go on with, nil to begin anew
	takenUp bool             // content is from what was set aside
}

// openingOf returns a layout as it is in its folder.
func openingOf(doc *layout.Document, folder *layout.Folder) (opening, error) {
	text, err := textOf(doc)
	return opening{doc: doc, text: text, saved: text, folder: folder}, err
}

// put replaces what is on the desk. Unsaved edits of what was there are set
// aside: whoever opens has been asked about them.
func (d *Desk) put(o opening) error {
	d.mu.Lock()
	stays := discard
	if d.unsaved() {
		stays = aside
	}
	err := d.keep.end(stays) // before the new one begins: it may be of the same layout
	if begun := o.keep.begin(o.saved, o.content); begun != nil {
		o.keep.fault = phrase.Err(begun)
	} else if o.takenUp {
		err = errors.Join(err, journal.Remove(o.keep.disk, journal.AsideName(o.keep.place.journal())))
	}
	old := d.folder
	d.folder, d.doc, d.text, d.saved, d.history, d.keep = o.folder, o.doc, o.text, o.saved, o.history, o.keep
	d.base, d.shown, d.at, d.held = o.scene, o.scene, Stand{}, nil
	d.opened, d.inFile, d.chosen, d.answers, d.trial = nil, o.inFile, nil, Answers{}, nil
	d.older, d.coming, d.made = older{}, nil, nil
	d.coarseHeat, d.fineHeat = nil, nil
	d.stale()
	d.mu.Unlock()
	d.listener()
	if old != nil {
		err = errors.Join(err, old.Close())
	}
	return err
}

// build makes the scene of a document, taking all that did not change from the
// one at hand.
func (d *Desk) build(doc *layout.Document) (*scene.Scene, error) {
	return scene.Build(context.Background(), doc, d.folder, d.base, scene.Options{Workers: d.workers, Kept: true})
}
