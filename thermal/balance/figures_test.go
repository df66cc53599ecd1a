package balance

import (
	"context"
	"encoding/json"
	"runtime"
	"testing"
	"weak"
)

// The figures of a result tell the same to the last digit and hold nothing of what
// they were worked out from; the result itself keeps it.
func TestFiguresHoldNoRays(t *testing.T) {
	r, err := Run(context.Background(), stand(t, bayHeat(), bay(t)...), Options{Workers: 2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	study := weak.Make(r.study)
	figures := r.Figures()
	if r.study == nil || r.Cases[0].solved == nil {
		t.Fatal("the result lost what it was worked out from")
	}
	runtime.KeepAlive(r)
	r = nil
	runtime.GC()
	runtime.GC()
	if study.Value() != nil {
		t.Error("the rays are still held")
	}
	bare, err := json.Marshal(figures)
	if err != nil {
		t.Fatal(err)
	}
	if string(bare) != string(whole) {
		t.Error("the figures tell something else")
	}
}
