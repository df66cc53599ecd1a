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

	Shown Shown `json:"shown"`
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
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	for second := 1; ; {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		asked := time.Now()
		w.o.onMain(func() {})
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
			w.o.onMain(func() { v.Shown = w.tells() })
			if enc.Encode(v) != nil {
				return // nobody reads any more
			}
		}
	}
}
