package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"strings"

	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// dropFlags are the flags of the drop verb.
type dropFlags struct {
	mapped, masses bool
	swaps          changeList
	shiftMM        rangeFlag
	size           int
	atMM           mmFlag
	tiltDeg        float64
}

// changeList gathers repeated --swap PART=MESH.
type changeList []drop.Change

func (l *changeList) String() string { return "" }

// Set adds one exchange.
func (l *changeList) Set(text string) error {
	c, err := drop.ParseChange(text)
	*l = append(*l, c)
	return err
}

// rangeFlag is LEAST,MOST in mm.
type rangeFlag struct{ of *layout.Range }

func (r *rangeFlag) String() string { return "" }

// Set reads the range.
func (r *rangeFlag) Set(text string) error {
	var got layout.Range
	if n, err := fmt.Sscanf(text, "%f,%f", &got[0], &got[1]); n != 2 || err != nil || got[0] >= got[1] {
		return fmt.Errorf("%q is no range: write LEAST,MOST in mm, such as -20,20", text)
	}
	r.of = &got
	return nil
}

// mmFlag is a length in mm that may be absent.
type mmFlag struct{ mm *float64 }

func (m *mmFlag) String() string { return "" }

// Set reads the length.
func (m *mmFlag) Set(text string) error {
	var got float64 // Bare numbers: mm
	if n, err := fmt.Sscanf(text, "%f", &got); n != 1 || err != nil {
		return fmt.Errorf("%q is no length in mm", text)
	}
	m.mm = &got
	return nil
}

func (d *dropFlags) add(fs *flag.FlagSet) {
	fs.BoolVar(&d.mapped, "map", false, "")
	fs.BoolVar(&d.masses, "mass", false, "")
	fs.Var(&d.swaps, "swap", "")
	fs.Var(&d.shiftMM, "shift-mm", "")
	fs.IntVar(&d.size, "size", 0, "")
	fs.Var(&d.atMM, "at-mm", "")
	fs.Float64Var(&d.tiltDeg, "tilt-deg", 0, "")
}

func (d *dropFlags) check() error {
	switch {
	case !d.mapped && (d.shiftMM.of != nil || d.size != 0 || d.tiltDeg != 0):
		return errors.New("--shift-mm, --tilt-deg and --size belong to the map: add --map")
	case d.size < 0 || d.size == 1:
		return fmt.Errorf("--size %d: a map has 2 places or more each way", d.size)
	}
	return nil
}

// lowers studies the drop, the exchanges that the layout or the call names, and
// with --map the map.
func lowers(ctx context.Context, c *call) (bool, error) {
	o := desk.DropOptions(c.workers)
	var folder *layout.Folder
	r, err := solvedIn(ctx, c, &folder, func(s *scene.Scene) (*drop.Result, error) {
		r, err := drop.Run(ctx, s, o, c.progress("drop"))
		if err != nil {
			return nil, err
		}
		if changes := append(drop.Alternatives(s.Doc), c.drop.swaps...); len(changes) > 0 {
			if r.Swaps, err = drop.Swaps(ctx, r, s, folder, changes, o, c.progress("exchanges")); err != nil {
				return nil, err
			}
		}
		if c.drop.mapped {
			r.Map, err = drop.RunMap(ctx, s, drop.MapOptions{Options: o, Shifts: c.drop.size, Drops: c.drop.size, ShiftMM: c.drop.shiftMM.of, TiltDeg: c.drop.tiltDeg}, nil, c.progress("map"))
		}
		return r, err
	})
	if err != nil {
		return false, err
	}
	return r.Verdict == drop.Short, c.give(r, c.dropTables(r)...)
}

// dropTables are the tables of the verb: for CSV the one that was asked for,
// else all that there is to say.
func (c *call) dropTables(r *drop.Result) []desk.Table {
	if c.csv != "" {
		switch {
		case c.drop.mapped:
			return []desk.Table{desk.MapCells(r.Map)}
		case c.drop.masses:
			return []desk.Table{desk.MassTable(&r.Mass)}
		case len(c.drop.swaps) > 0:
			return []desk.Table{desk.SwapTable(r.Swaps)}
		}
		return []desk.Table{desk.CurveTable(r)}
	}
	atMM := 0.0
	if c.drop.atMM.mm != nil {
		atMM = *c.drop.atMM.mm
	}
	tables := []desk.Table{desk.DropTable(r), desk.GainTable(r, desk.Stand{DropMM: atMM})}
	if len(r.Swaps) > 0 {
		tables = append(tables, desk.SwapTable(r.Swaps))
	}
	if r.Map != nil {
		tables = append(tables, desk.MapTable(r.Map))
	}
	if c.drop.masses {
		tables = append(tables, desk.MassTable(&r.Mass))
	}
	return tables
}

// dropHelp tells the verb's flags.
var dropHelp = strings.TrimPrefix(`
  --map          drop, report: add the map of drop against fore-aft shift
  --shift-mm A,B drop --map: how far fore and aft (default: the layout's, else -40,40)
  --tilt-deg D   drop --map: the group tilted about its pivot, positive lifts the front
  --size N       drop --map: places each way (default 41)
  --at-mm MM     drop: also what going down this far buys
  --swap P=MESH  drop: also with another mesh for part P; may be repeated
  --mass         drop: add the table of masses
`, "\n") // Read-only.
