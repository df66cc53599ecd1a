package desk

import (
	"context"
	"time"

	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// Coming is a layout on its way onto the desk. It is read-only.
type Coming struct {
	Path        string
	Draft       *scene.Draft // on an empty desk, nil until its files are read
	Done, Total int          // meshes examined
}

// Says tells how far it is.
func (c *Coming) Says() string {
	switch {
	case c.Draft != nil:
		return phrase.F("Opening: surfaces drawn as read; meshes are examined before anything is computed, %d of %d so far …", c.Done, c.Total)
	case c.Total > 0:
		return phrase.F("Opening: meshes are examined, %d of %d so far …", c.Done, c.Total)
	}
	return phrase.Of("Opening: reading the mesh files …")
}

// Share returns how far it is, 0..1.
func (c *Coming) Share() (share float64) { return float64(c.Done) / float64(max(1, c.Total)) }

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
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	options := scene.Options{Workers: d.workers, Progress: d.examining()}
	d.mu.Lock()
	d.coming, d.stopComing = &Coming{Path: o.folder.Path()}, stop
	if d.doc == nil {
		options.Early = d.drafted
	}
	d.mu.Unlock()
	d.listener()
	built, err := scene.Build(ctx, o.doc, o.folder, nil, options)
	d.mu.Lock()
	d.stopComing = nil
	if err != nil {
		d.coming = nil
	}
	d.mu.Unlock()
	if err != nil {
		d.listener()
	}
	return built, err
}

// StopOpening ends the opening of a layout under way: what is on the desk stays.
func (d *Desk) StopOpening() {
	d.mu.Lock()
	if d.stopComing != nil {
		d.stopComing()
	}
	d.mu.Unlock()
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
		return State{Status: d.coming.Says(), Tiles: emptyTiles(phrase.Of("opening …")), Coming: d.coming}
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
