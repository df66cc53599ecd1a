package balance

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

// endsAfter is a context that ends once it has been asked so often.
type endsAfter struct {
	context.Context
	left  atomic.Int64
	ended chan struct{}
}

func newEndsAfter(asks int64) *endsAfter {
	e := &endsAfter{Context: context.Background(), ended: make(chan struct{})}
	e.left.Store(asks)
	return e
}

func (e *endsAfter) Err() error {
	switch left := e.left.Add(-1); {
	case left == 0:
		close(e.ended)
		fallthrough
	case left < 0:
		return context.Canceled
	}
	return nil
}

func (e *endsAfter) Done() <-chan struct{} { return e.ended }

// Wherever it is cancelled, while rays are shot, reflections solved, cases settled
// or a soak followed, there is an error and no half result.
func TestCancelledAnywhere(t *testing.T) {
	s := stand(t, bayHeat(), bay(t)...)
	whole := newEndsAfter(1 << 40)
	if _, err := Run(whole, s, Options{Workers: 2}, nil); err != nil {
		t.Fatal(err)
	}
	asks := 1<<40 - whole.left.Load()
	if asks < 100 {
		t.Fatalf("asked %d times only whether to go on", asks)
	}
	for k := range int64(10) {
		r, err := Run(newEndsAfter(1+k*asks/10), s, Options{Workers: 2}, nil)
		if r != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled after %d of 10 parts: result %v, %v", k, r != nil, err)
		}
	}
}
