package patient

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"aftbay/geom"
)

// Every job runs at once, also while all threads wait for others: loops within
// loops must not block each other.
func TestLoopsWithinLoops(t *testing.T) {
	ctx := NewCrew().Context(context.Background())
	var n atomic.Int64
	err := geom.Each(ctx, 3, 5, nil, func(int) error {
		return geom.Each(ctx, 3, 7, nil, func(int) error {
			n.Add(1)
			return nil
		})
	})
	if err != nil || n.Load() != 35 {
		t.Errorf("%d of 35 ran, %v", n.Load(), err)
	}
}

// A panic in a loop comes to whoever asked for it, as with plain goroutines.
func TestPanicsAreCarried(t *testing.T) {
	c := NewCrew()
	ctx := c.Context(context.Background())
	for what, run := range map[string]func(){
		"a loop": func() { _ = geom.Each(ctx, 2, 4, nil, func(i int) error { panic("of the job") }) },
		"a job":  func() { c.Do(func() { panic("of the job") }) },
	} {
		func() {
			defer func() {
				if text := fmt.Sprint(recover()); !strings.Contains(text, "of the job") {
					t.Errorf("the panic in %s is lost: %s", what, text)
				}
			}()
			run()
		}()
	}
}

// Threads are used again, and what is given to busy ones runs all the same.
func TestThreadsAreUsedAgain(t *testing.T) {
	c := NewCrew()
	for range 50 {
		c.Do(func() {})
	}
	var wg sync.WaitGroup
	hold := make(chan struct{})
	var begun atomic.Int64
	for range 20 {
		wg.Add(1)
		c.Go(func() {
			defer wg.Done()
			if begun.Add(1) == 20 {
				close(hold) // the last one lets all go: they must all run at once
			}
			<-hold
		})
	}
	wg.Wait()
}
