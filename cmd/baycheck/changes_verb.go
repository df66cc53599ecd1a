package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"aftbay/geom/clearance"
	"aftbay/geom/compare"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// changed compares two layouts, or a layout with one of its revisions. Both are
// answered from nothing, so that equal figures prove that nothing crept in.
func changed(ctx context.Context, c *call) (bool, error) {
	paths := c.paths
	switch {
	case c.since == "" && len(paths) != 2:
		return false, fmt.Errorf("changes takes two layouts, or one with --since REVISION, not %d: baycheck changes OLD NEW", len(paths))
	case c.since != "" && len(paths) != 1:
		return false, fmt.Errorf("changes --since %s takes one layout, not %d: the other is its revision", c.since, len(paths))
	case c.since != "":
		path, err := desk.RevisionPath(paths[0], c.since)
		if err != nil {
			return false, err
		}
		paths = []string{path, paths[0]}
	}
	var sides [2]compare.Side
	for i, path := range paths {
		var err error
		if sides[i], err = c.side(ctx, path); err != nil {
			return false, err
		}
	}
	if sides[0].Name == sides[1].Name { // two folders of one name
		sides[0].Name, sides[1].Name = paths[0], paths[1]
	}
	start := time.Now()
	r, err := compare.Run(ctx, sides[0], sides[1], compare.Options{ThresholdMM: c.worseMM})
	c.solveTook += time.Since(start)
	if err != nil {
		return false, err
	}
	return r.Fails(), c.give(r, desk.ChangesTables(r)...)
}

// side reads one state and answers its clearances.
func (c *call) side(ctx context.Context, path string) (compare.Side, error) {
	start := time.Now()
	doc, folder, name, err := desk.OpenState(path)
	if err != nil {
		return compare.Side{}, err
	}
	c.readTook += time.Since(start)
	side, err := c.answered(ctx, doc, folder)
	side.Name = name
	if err = errors.Join(err, folder.Close()); err != nil {
		return side, fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	return side, nil
}

func (c *call) answered(ctx context.Context, doc *layout.Document, folder *layout.Folder) (side compare.Side, err error) {
	start := time.Now()
	if side.Scene, err = scene.Build(ctx, doc, folder, nil, scene.Options{Workers: c.workers}); err != nil {
		return side, err
	}
	c.buildTook += time.Since(start)
	start = time.Now()
	side.Fit, err = clearance.Run(ctx, side.Scene, clearance.Options{Workers: c.workers}, c.progress("clearance"))
	c.solveTook += time.Since(start)
	return side, err
}
