package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/clearance"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// load reads the layout and builds its scene.
func (c *call) load(ctx context.Context) (*scene.Scene, *layout.Folder, error) {
	start := time.Now()
	doc, folder, err := layout.Open(c.path)
	if err != nil {
		return nil, nil, err
	}
	c.readTook = time.Since(start)
	start = time.Now()
	s, err := scene.Build(ctx, doc, folder, nil, scene.Options{Workers: c.workers, Progress: c.progress("reading meshes")})
	if err != nil {
		folder.Close()
		return nil, nil, err
	}
	c.buildTook = time.Since(start)
	return s, folder, nil
}

// solved runs one study on the layout of the call and keeps its time.
func solved[T any](ctx context.Context, c *call, study func(s *scene.Scene) (T, error)) (T, error) {
	var none T
	s, folder, err := c.load(ctx)
	if err != nil {
		return none, err
	}
	defer folder.Close()
	start := time.Now()
	result, err := study(s)
	c.solveTook = time.Since(start)
	return result, err
}

func inspect(ctx context.Context, c *call) (bool, error) {
	var read *scene.Scene
	r, err := solved(ctx, c, func(s *scene.Scene) (inspectedParts, error) {
		read = s
		return inspected(ctx, s, c.workers)
	})
	if err != nil {
		return false, err
	}
	return false, c.give(r, desk.PartsTable(read))
}

func fits(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*clearance.Result, error) {
		return clearance.Run(ctx, s, clearance.Options{Workers: c.workers}, c.progress("clearance"))
	})
	if err != nil {
		return false, err
	}
	n := r.Count()
	return n[clearance.Overlap]+n[clearance.Short] > 0, c.give(r, desk.FitTable(r, c.csv != ""))
}

func lowers(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*drop.Result, error) {
		return drop.Run(ctx, s, drop.Options{Workers: c.workers}, c.progress("drop"))
	})
	if err != nil {
		return false, err
	}
	return r.Verdict == drop.Short, c.give(r, desk.DropTable(r))
}

func demonstrates(_ context.Context, c *call) (bool, error) {
	if err := demo.Write(c.path, demo.Variant(c.variant)); err != nil {
		return false, err
	}
	if !c.quiet {
		fmt.Fprintf(c.stdout, "wrote %s (%s), an invented car; next: baycheck clearance %s\n", filepath.Join(c.path, "layout.json"), c.variant, c.path)
	}
	return false, nil
}
