package window

import (
	"context"
	"encoding/json"
	"io"
	"runtime"
	"runtime/metrics"
	"slices"
	"time"
)

// Vitals are how the window fared over a second: how long input had to wait for
// the toolkit's goroutine, what it holds, and what it shows at the end of it.
type Vitals struct {
	Second     int `json:"second"` // since it began
	Asked      int `json:"asked"`  // how often it was asked
	MedianUS   int `json:"wait_median_us"`
	MostUS     int `json:"wait_most_us"`
	Goroutines int `json:"goroutines"`
	HeapKB     int `json:"heap_kB"` // in use or waiting to be collected
	LiveKB     int `json:"live_kB"` // in use when it was collected last
	HeldKB     int `json:"held_kB"` // by Go from the system; what a process holds beyond it is the display's

	Beats Beats   `json:"beats"`
	Input []Input `json:"input,omitempty"` // what the scene handled

	Shown Shown `json:"shown"`
}

// Beats are the beats of the toolkit's goroutine in a second: between two times
// that it takes input. Own is its thread's processor time, the toolkit's and the
// driver's on that thread included; Driver is how long it waited for the driver to
// take a picture, by the wall's clock.
type Beats struct {
	Count        int     `json:"count"`
	OwnUS        []int   `json:"own_us"`   // of each beat
	WallUS       []int   `json:"wall_us"`  // likewise
	DrawnUS      []int64 `json:"drawn_us"` // when pictures had been drawn, Unix time
	MostOwnUS    int     `json:"own_most_us"`
	MostDriverUS int     `json:"driver_most_us"`
	Worst        string  `json:"worst"` // what the most was spent on
}

// take returns what was measured since it was asked last.
func (p *pulse) take() (b Beats, input []Input) {
	for i := range p.beats {
		one := &p.beats[i]
		own := int(one.own.Microseconds())
		b.OwnUS, b.WallUS = append(b.OwnUS, own), append(b.WallUS, int(one.wall.Microseconds()))
		b.MostDriverUS = max(b.MostDriverUS, int(one.driver.Microseconds()))
		if own >= b.MostOwnUS {
			b.MostOwnUS, b.Worst = own, one.text()
		}
	}
	b.Count, b.DrawnUS, input = len(p.beats), p.drawn, p.input
	p.beats, p.drawn, p.input = p.beats[:0], nil, nil
	return b, input
}

// askEvery is how often the toolkit's goroutine is asked whether it answers.
const askEvery = 10 * time.Millisecond

// WriteVitals writes a line of JSON a second until ctx ends. Input waits as long
// as a word to the toolkit's goroutine does: that is what is measured.
func (w *Window) WriteVitals(ctx context.Context, out io.Writer) {
	enc := json.NewEncoder(out)
	began := time.Now()
	tick := time.NewTicker(askEvery)
	defer tick.Stop()
	var waits []int
	ask := w.o.onMain
	if w.o.ask != nil {
		ask = w.o.ask
	}
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	for second := 1; ; {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		asked := time.Now()
		ask(func() {})
		waits = append(waits, int(time.Since(asked).Microseconds()))
		if now := int(time.Since(began) / time.Second); now >= second {
			second = now + 1
			slices.Sort(waits)
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			metrics.Read(live)
			v := Vitals{
				Second: now, Asked: len(waits), MedianUS: waits[len(waits)/2], MostUS: waits[len(waits)-1],
				Goroutines: runtime.NumGoroutine(), HeapKB: int(m.HeapAlloc / 1024),
				LiveKB: int(live[0].Value.Uint64() / 1024), HeldKB: int((m.Sys - m.HeapReleased) / 1024),
			}
			waits = waits[:0]
			w.o.onMain(func() {
				v.Shown = w.tells()
				if w.pulse != nil {
					v.Beats, v.Input = w.pulse.take()
				}
			})
			if enc.Encode(v) != nil {
				return // nobody reads any more
			}
		}
	}
}
