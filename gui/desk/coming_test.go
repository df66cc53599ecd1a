package desk

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// TestSurfacesAreDrawnBeforeTheyAreExamined: on an empty desk the layout to come
// is drawn as soon as its files are read, and nothing in it passes for an answer.
func TestSurfacesAreDrawnBeforeTheyAreExamined(t *testing.T) {
	dir := smallLayout(t)
	var mu sync.Mutex
	var states []State
	var d *Desk
	d = New(2, func() {
		s := d.State()
		mu.Lock()
		defer mu.Unlock()
		states = append(states, s)
	})
	defer d.Close()
	if err := d.Open(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	mu.Lock()
	defer mu.Unlock()
	a := &Attention{}
	var empty, draft *State
	for i := range states {
		switch s := &states[i]; {
		case s.Coming != nil && s.Coming.Draft == nil:
			empty = s
		case s.Coming != nil && draft == nil:
			draft = s
		}
	}
	if empty == nil || draft == nil {
		t.Fatalf("states while opening: reading %v, drawn %v", empty != nil, draft != nil)
	}
	if KeyOf(empty, a) == KeyOf(draft, a) {
		t.Error("the picture would not be drawn anew")
	}
	if draft.Open || draft.Scene != nil || draft.Tiles[0].Answer != "opening …" || !strings.Contains(draft.Status, "0 of 4") {
		t.Errorf("while opening: open %v, tile %q, status %q", draft.Open, draft.Tiles[0].Answer, draft.Status)
	}
	got := NewPainter().Picture(draft, a)
	s := d.State()
	if s.Coming != nil {
		t.Error("an open layout is still said to come")
	}
	want := NewPainter().Picture(&s, a)
	if len(got.Items) != len(want.Items) || len(want.Items) != 4 {
		t.Fatalf("%d items before, %d after", len(got.Items), len(want.Items))
	}
	for i := range got.Items {
		x, y := &got.Items[i], &want.Items[i]
		if x.Pose != y.Pose || x.Color != y.Color || x.Ghost != y.Ghost || x.Mesh != y.Mesh || x.Edges != nil || got.Parts[i] != "" {
			t.Errorf("item %d differs from what comes after, or names its part %q", i, got.Parts[i])
		}
	}
	if got.Note == "" {
		t.Error("nothing says that the picture is early")
	}
}

// TestNothingComesOfABadLayout: what was drawn early goes with the error.
func TestNothingComesOfABadLayout(t *testing.T) {
	dir := smallLayout(t)
	// One facet without area: it reads well and is refused when it is examined.
	const flat = "solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 2 0 0\nendloop\nendfacet\nendsolid x\n"
	if err := os.WriteFile(filepath.Join(dir, "pipe.stl"), []byte(flat), 0o600); err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	early := false
	var d *Desk
	d = New(2, func() {
		s := d.State()
		mu.Lock()
		defer mu.Unlock()
		early = early || s.Coming.drawn() != nil
	})
	defer d.Close()
	err := d.Open(context.Background(), dir)
	if err == nil || !strings.Contains(err.Error(), "no facet has an area") {
		t.Fatalf("error %v", err)
	}
	mu.Lock()
	defer mu.Unlock()
	if s := d.State(); !early || s.Coming != nil || s.Open {
		t.Errorf("drawn early %v, still to come %v", early, s.Coming != nil)
	}
}

// TestOpeningAnotherLayoutCanBeStopped: the one on the desk stays until the other
// is ready, is told to be waited for, and goes on unharmed when that is stopped.
func TestOpeningAnotherLayoutCanBeStopped(t *testing.T) {
	var mu sync.Mutex
	var seen []State
	stops := false
	var d *Desk
	d = New(2, func() {
		s := d.State()
		mu.Lock()
		defer mu.Unlock()
		seen = append(seen, s)
		if stops && s.Coming != nil {
			d.StopOpening()
		}
	})
	defer d.Close()
	first, second := smallLayout(t), smallLayout(t)
	must(t, d.OpenToWork(t.Context(), first, Ask))
	mu.Lock()
	seen, stops = nil, true
	mu.Unlock()
	if err := d.OpenToWork(t.Context(), second, Ask); !errors.Is(err, context.Canceled) {
		t.Fatalf("stopped: %v", err)
	}
	mu.Lock()
	told := false
	for i := range seen {
		s := &seen[i]
		if c := s.Coming; c != nil {
			share, running := s.Share()
			told = s.Open && s.Path == first && c.Path == second && c.Draft == nil && c.Says() != "" && running && share >= 0
		}
	}
	stops = false
	mu.Unlock()
	if s := d.State(); !told || s.Coming != nil || s.Path != first {
		t.Errorf("told %v, still to come %v, open %s", told, s.Coming != nil, s.Path)
	}
	must(t, d.OpenToWork(t.Context(), second, Ask)) // the lock of the first try is free
	if s := d.State(); s.Path != second || s.ReadOnly || s.Coming != nil {
		t.Errorf("open %s, read-only %v", s.Path, s.ReadOnly)
	}
}
