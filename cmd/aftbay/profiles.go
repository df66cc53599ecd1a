package main

import (
	"context"
	"fmt"
	"os"
	"runtime/pprof"
	"time"
)

// profileEvery is how often what the window holds is written down. Common
// practice, no source.
const profileEvery = time.Minute

// writeProfiles writes profiles of the heap beside the vitals until ctx ends:
// path.heap-1 after a minute and so on. Two of them, compared, tell what grew.
func writeProfiles(ctx context.Context, path string, say func(text string)) {
	tick := time.NewTicker(profileEvery)
	defer tick.Stop()
	for n := 1; ; n++ {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		if err := writeProfile(fmt.Sprintf("%s.heap-%d", path, n)); err != nil {
			say("profile of the heap: " + err.Error())
			return
		}
	}
}

func writeProfile(path string) error {
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	defer out.Close()
	return pprof.WriteHeapProfile(out)
}
