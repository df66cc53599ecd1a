package demo

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// Variant names a state of the demo layout.
type Variant string

// The variants; BrambleB is the default.
const (
	BrambleA Variant = "bramble-a"
	BrambleB Variant = "bramble-b"
)

// Variants lists what Write can make, earlier first.
func Variants() []Variant { return []Variant{BrambleA, BrambleB} }

// Write makes the layout folder dir: layout.json, positions.csv, meshes/*.stl and meshes.json. An empty
// variant means BrambleB. An older demo there is replaced, a layout of another name is refused.
func Write(dir string, v Variant) error {
	c, err := build(v)
	if err != nil {
		return err
	}
	if err := foreign(dir, c.doc.Title); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(dir, "meshes"), 0o755); err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	for _, f := range c.files {
		var b bytes.Buffer
		if err := f.mesh.WriteSTL(&b, "Bramble, invented: "+f.path); err != nil {
			return fmt.Errorf("demo: %s: %w", f.path, err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(f.path)), b.Bytes(), 0o644); err != nil {
			return fmt.Errorf("demo: %w", err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, positionsFile), []byte(positions), 0o644); err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	if err := layout.Save(dir, c.doc); err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	if err := remember(dir); err != nil {
		return fmt.Errorf("demo: %w", err)
	}
	return nil
}

// foreign refuses a folder that holds a layout of somebody's own: one that is
// called otherwise, or that can't be read.
func foreign(dir, title string) error {
	if _, err := os.Lstat(filepath.Join(dir, layout.FileName)); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	doc, folder, err := layout.Open(dir)
	if err == nil {
		err = folder.Close()
	}
	if name, _, _ := strings.Cut(title, " "); err == nil && strings.HasPrefix(doc.Title, name) {
		return nil
	}
	return layout.Fault{Where: dir, What: say.Of("another layout stands there"), Mend: say.Of("name a new folder for the demo")}
}

// remember notes what the meshes hold, so that a change is noticed.
func remember(dir string) error {
	doc, folder, err := layout.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(folder.AcceptMeshes(doc), folder.Close())
}

// build puts the whole car together in memory.
func build(v Variant) (*car, error) {
	if v == "" {
		v = BrambleB
	}
	if v != BrambleA && v != BrambleB {
		return nil, fmt.Errorf("demo: no variant %q; take one of %v", v, Variants())
	}
	c := &car{variant: v, doc: &layout.Document{Format: layout.Format, Version: layout.Version, Rules: rules()}}
	c.tell()
	c.vehicle()
	c.engine()
	c.intake()
	c.drive()
	c.oil()
	c.coolant()
	c.fuel()
	c.brakes()
	c.exhaust()
	c.electrics()
	c.body()
	c.running()
	c.heat()
	c.spots()
	c.decisions()
	return c, c.err
}

// tell writes title and story into the layout.
func (c *car) tell() {
	const what = "Invented car, two seats, V6 lying along it behind the cabin. All numbers are made up; table values carry their source. "
	if c.variant == BrambleA {
		c.doc.Title = "Bramble A: exhaust down, deep sump, tall oil tank"
		c.doc.Notes = what + "Earlier layout. The primaries run down beside the block, so that the coils on top stay cool, but the crank sensor " +
			"and the half-shaft boots get warm. The deep sump ends the drop early. The deck lid stands high for the plenum and hides the near edge of the rear view, " +
			"and the tall tank is still short to it."
		return
	}
	c.doc.Title = "Bramble B: exhaust up, dry sump on the transaxle"
	c.doc.Notes = what + "Later layout. The primaries sweep up over the heads; shallow dry sump, oil tank on the transaxle. " +
		"The lid is 10 mm lower and the rear view free; the plenum is short to the lid until the powertrain comes down. The drop ends at the half-shaft angle at full bump, " +
		"just before the bell housing is short to the undertray. Coil 5 sits beside primary 5, where no shield fits, and low on the block would be cool; lid, plenum and air filter over the exhaust may get too hot. An oil hose clips a subframe tube."
}

// decisions are what an earlier review left open.
func (c *car) decisions() {
	if c.variant == BrambleA {
		return
	}
	c.doc.Decisions = []layout.Decision{
		{Finding: "plenum ~ deck lid @ static", State: "open", Owner: "powertrain layout", Due: "2027-01-29", Notes: "Drop the powertrain first, then look again."},
		{Finding: "deck lid ~ sight line @ static", State: "accepted", Owner: "body", Notes: "Lid stays at this height."},
	}
}
