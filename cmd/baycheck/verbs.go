package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"aftbay/cmd/internal/demo"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/rearview"
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
	if !c.quiet && !c.accept {
		for _, note := range notes(s, folder) {
			fmt.Fprintln(c.stderr, "baycheck: note:", note)
		}
		if mended := desk.MendedSentence(s); mended != "" {
			fmt.Fprintln(c.stderr, "baycheck: mended:", mended)
		}
	}
	return s, folder, nil
}

// solved runs one study on the layout of the call and keeps its time.
func solved[T any](ctx context.Context, c *call, study func(s *scene.Scene) (T, error)) (T, error) {
	return solvedIn(ctx, c, new(*layout.Folder), study)
}

// solvedIn is solved that also lends the layout's folder while it runs.
func solvedIn[T any](ctx context.Context, c *call, lent **layout.Folder, study func(s *scene.Scene) (T, error)) (T, error) {
	var none T
	s, folder, err := c.load(ctx)
	if err != nil {
		return none, err
	}
	*lent = folder
	defer folder.Close()
	start := time.Now()
	result, err := study(s)
	c.solveTook = time.Since(start)
	return result, err
}

func inspect(ctx context.Context, c *call) (bool, error) {
	s, folder, err := c.load(ctx)
	if err != nil {
		return false, err
	}
	defer folder.Close()
	if c.accept {
		if err := accept(s.Doc, folder); err != nil {
			return false, err
		}
		if s, err = scene.Build(ctx, s.Doc, folder, s, scene.Options{Workers: c.workers}); err != nil {
			return false, err
		}
	}
	start := time.Now()
	r, err := inspected(ctx, s, c.workers)
	c.solveTook = time.Since(start)
	if err != nil {
		return false, err
	}
	if c.stl != "" {
		if err := writeMeshes(s, c.stl, c.ascii); err != nil {
			return false, err
		}
	}
	r.Notes = notes(s, folder)
	return false, c.give(r, desk.PartsTable(s, r.sound(s)))
}

// accept makes the meshes as they are the ones that the layout remembers.
func accept(doc *layout.Document, folder *layout.Folder) error {
	if err := folder.AcceptMeshes(doc); err != nil {
		return err
	}
	if folder.Packed() {
		return layout.SaveAs(folder.Path(), doc, folder)
	}
	return nil
}

// notes returns what is worth knowing of the files of a layout, and no reason
// to refuse it.
func notes(s *scene.Scene, folder *layout.Folder) []string {
	var list []string
	add := func(change *layout.MeshChange) {
		if change != nil && !slices.Contains(list, change.Sentence().String()) {
			list = append(list, change.Sentence().String())
		}
	}
	for i := range s.Parts {
		add(s.Parts[i].Changed)
	}
	for i := range s.Spots {
		add(s.Spots[i].Changed)
	}
	if err := folder.MemoryFault(); err != nil {
		list = append(list, err.Error())
	}
	return list
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

func sees(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*rearview.Result, error) {
		return rearview.Run(ctx, s, rearview.Options{Workers: c.workers}, c.progress("rear view"))
	})
	if err != nil {
		return false, err
	}
	return !r.Required.Met || r.Forward != nil && !r.Forward.Met, c.give(r, desk.SeenTables(r)...)
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
