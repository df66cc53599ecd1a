package desk

import (
	"context"
	"time"

	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// Coming is a layout on its way onto an empty desk. It is read-only.
type Coming struct {
	Path        string
	Draft       *scene.Draft // nil until its files are read
	Done, Total int          // meshes examined
}

// status says how far it is.
func (c *Coming) status() string {
	if c.Draft == nil {
		return phrase.Of("Opening: reading the mesh files …")
	}
	return phrase.F("Opening: surfaces drawn as read; meshes are examined before anything is computed, %d of %d so far …", c.Done, c.Total)
}

// drawn returns what can be drawn of it, nil for nothing yet.
func (c *Coming) drawn() *scene.Draft {
	if c == nil {
		return nil
	}
	return c.Draft
}

// sceneOf builds the scene of a layout about to be opened. Meanwhile an empty
// desk shows what of it can be drawn already.
func (d *Desk) sceneOf(ctx context.Context, o *opening) (*scene.Scene, error) {
	options := scene.Options{Workers: d.workers}
	d.mu.Lock()
	if d.doc == nil {
		d.coming = &Coming{Path: o.folder.Path()}
		options.Early, options.Progress = d.drafted, d.examining()
	}
	d.mu.Unlock()
	d.listener()
	built, err := scene.Build(ctx, o.doc, o.folder, nil, options)
	if err != nil {
		d.mu.Lock()
		d.coming = nil
		d.mu.Unlock()
	}
	return built, err
}

// drafted shows what can be drawn of the layout to come.
func (d *Desk) drafted(draft *scene.Draft) {
	d.cameOn(func(c *Coming) { c.Draft, c.Total = draft, len(draft.Parts) })
	d.listener()
}

// examining tells the listener now and then how far the layout to come is.
func (d *Desk) examining() func(done, total int) {
	var told time.Time
	return func(done, total int) {
		if now := time.Now(); now.Sub(told) >= progressEvery {
			told = now
			d.cameOn(func(c *Coming) { c.Done, c.Total = done, total })
			d.listener()
		}
	}
}

// cameOn replaces what is known of the layout to come.
func (d *Desk) cameOn(change func(c *Coming)) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.coming != nil {
		next := *d.coming
		change(&next)
		d.coming = &next
	}
}

// comingState is the state of an empty desk.
func (d *Desk) comingState() State {
	if d.coming != nil {
		return State{Status: d.coming.status(), Tiles: emptyTiles(phrase.Of("opening …")), Coming: d.coming}
	}
	return State{Status: phrase.Of("Open a layout folder, or the demo, to start."), Tiles: emptyTiles(phrase.Of("no layout open"))}
}

// draftPicture returns what can be drawn of a layout to come: surfaces without
// edges. No item names its part, since nothing can be asked about it yet.
func draftPicture(of *scene.Draft, a *Attention) Picture {
	var out Picture
	tints := roleTints(of.Parts)
	for i := range of.Parts {
		out.Items = append(out.Items, partItem(&of.Parts[i], tints, a))
		out.Parts = append(out.Parts, "")
	}
	out.Note = phrase.Of("surfaces as read: opening goes on, nothing is computed yet")
	return out
}
