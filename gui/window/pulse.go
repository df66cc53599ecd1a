package window

import (
	"reflect"
	"runtime"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// pulse measures the toolkit's goroutine. Its loop runs in beats: it takes input,
// draws, hands the picture to the display, and runs what others ask for, until it
// takes input again. Input waits a beat at most, whenever it comes.
//
// What is ours of a beat is told by the processor time of the goroutine's thread:
// handlers, layout, text, pictures, all that the toolkit does of it, and what the
// display's driver computes on that thread. It does not depend on what else the
// machine does. Where the thread waits, for the driver to finish a picture or for
// a processor, the wall's clock goes on and this one stands; the wait for the
// driver is told apart.
//
// Limits: what is drawn after the last mark, menus and dialogs, counts as wait for
// the driver by the wall's clock. All methods are of the toolkit's goroutine.
type pulse struct {
	last  mark
	beat  beat
	takes bool          // input is taken, or soon: what is drawn in this beat has been
	most  time.Duration // own time of the longest input that was taken
	beats []beat        // since they were fetched
	drawn []int64
	input []Input
}

// mark is a moment of the goroutine.
type mark struct {
	at    time.Time
	cpu   time.Duration // of its thread so far
	drawn bool          // a picture has been drawn: the driver is next
}

// beat is what a beat took.
type beat struct {
	wall, driver time.Duration // by the wall's clock
	own          time.Duration // of the processor
	by           map[string]time.Duration
}

// Input is something of the pointer or a key that was handled.
type Input struct {
	What string     `json:"what"`
	AtUS int64      `json:"at_us"` // Unix time in microseconds
	At   [2]float32 `json:"at"`    // place in the scene, toolkit's units
}

// forever is how long the ticks go on: longer than any test.
const forever = 1000 * time.Hour

// startPulse begins to measure. Call it before the window is shown.
func (w *Window) startPulse() {
	p := &pulse{}
	w.pulse, w.stage.note, p.last = p, p.note, p.now()
	tick := fyne.NewAnimation(forever, func(float32) { p.tick() })
	tick.Curve = fyne.AnimationLinear
	tick.Start()
}

func (p *pulse) now() mark { return mark{at: time.Now(), cpu: threadCPU()} }

// step ends a piece of the beat that has a name.
func (p *pulse) step(name string) {
	was := p.last
	p.last = p.now()
	wall, own := p.last.at.Sub(was.at), p.last.cpu-was.cpu
	if p.beat.wall += wall; was.drawn {
		p.beat.driver += wall
	}
	if p.takes && (name == layoutStep || name == "input") {
		p.most = max(p.most, own)
	} else {
		p.beat.own += own
	}
	if p.beat.by == nil {
		p.beat.by = map[string]time.Duration{}
	}
	p.beat.by[name] += own
}

// layoutStep names what comes before a walk through all objects: layout, or an
// input of the pointer.
const layoutStep = "layout"

// tick is called by the loop after it has taken input: a beat ends. Of several
// inputs that were taken together, since the machine or the driver kept them
// waiting, the longest counts: how many there are is not ours.
func (p *pulse) tick() {
	p.step("input")
	p.beat.own += p.most
	p.most, p.takes = 0, false
	p.beats = append(p.beats, p.beat)
	p.beat = beat{}
}

// painted is called when a picture has been drawn.
func (p *pulse) painted() {
	p.step("picture")
	p.last.drawn, p.takes = true, true
	p.drawn = append(p.drawn, p.last.at.UnixMicro())
}

// around runs what others asked for.
func (p *pulse) around(run func()) {
	p.step("loop")
	run()
	p.step(nameOf(run))
	p.takes = true
}

// note writes down that something was handled.
func (p *pulse) note(what string, at fyne.Position) {
	p.input = append(p.input, Input{What: what, AtUS: time.Now().UnixMicro(), At: [2]float32{at.X, at.Y}})
}

// nameOf returns the name of a function, shortened.
func nameOf(run func()) string {
	name := runtime.FuncForPC(reflect.ValueOf(run).Pointer()).Name()
	return name[strings.LastIndexByte(name, '/')+1:]
}

// text tells what a beat was spent on, the most first.
func (b *beat) text() string {
	names := make([]string, 0, len(b.by))
	for name := range b.by {
		names = append(names, name)
	}
	slices.SortFunc(names, func(x, y string) int {
		if d := b.by[y] - b.by[x]; d != 0 {
			return int(d)
		}
		return strings.Compare(x, y)
	})
	var parts []string
	for _, name := range names[:min(4, len(names))] {
		parts = append(parts, name+" "+b.by[name].Round(time.Millisecond/10).String())
	}
	return strings.Join(parts, ", ")
}

// sentry is an object that shows nothing and tells the pulse when the loop has
// drawn what lies before it.
type sentry struct {
	widget.BaseWidget
	pulse *pulse
}

func newSentry(p *pulse) *sentry {
	s := &sentry{pulse: p}
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer is the toolkit's.
func (s *sentry) CreateRenderer() fyne.WidgetRenderer { return s }

// Layout, MinSize, Refresh and Destroy are the toolkit's.
func (s *sentry) Layout(fyne.Size)   {}
func (s *sentry) MinSize() fyne.Size { return fyne.Size{} }
func (s *sentry) Refresh()           {}
func (s *sentry) Destroy()           {}

// Objects is asked whenever the loop walks through all objects: to draw them, to
// lay them out, to find what lies under the pointer.
func (s *sentry) Objects() []fyne.CanvasObject {
	if drawing() {
		s.pulse.painted()
	} else {
		s.pulse.step(layoutStep)
	}
	return nil
}

// drawing tells whether the caller is called by what draws the window.
func drawing() bool {
	var callers [24]uintptr
	frames := runtime.CallersFrames(callers[:runtime.Callers(2, callers[:])])
	for {
		f, more := frames.Next()
		if strings.HasSuffix(f.Function, "anvas).paint") {
			return true
		}
		if !more {
			return false
		}
	}
}
