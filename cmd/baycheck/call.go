package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"time"

	"aftbay/geom"
	"aftbay/geom/compare"
	"aftbay/thermal/outcome"
)

// errHelp means that the help was asked for and printed.
var errHelp = errors.New("help")

// call is one understood command line.
type call struct {
	verb   verb
	path   string   // the first of paths
	paths  []string // more than one for import
	stdout io.Writer
	stderr io.Writer

	json, csv                                            string
	into, out, date, revision, paper, variant, unit, stl string
	workers                                              int
	timing, quiet, factors, shields, accept, ascii       bool
	readTook, buildTook, solveTook                       time.Duration
	drop                                                 dropFlags
	since, against, take                                 string
	worseMM, worseK                                      float64
	ask                                                  string   // questions, as given
	questions                                            []string // the same, apart
}

// parse reads the flags, which may stand before or after the layout.
func parse(v verb, args []string, stdout, stderr io.Writer) (*call, error) {
	c := &call{verb: v, stdout: stdout, stderr: stderr}
	fs := flag.NewFlagSet(v.name, flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.StringVar(&c.json, "json", "", "")
	fs.StringVar(&c.csv, "csv", "", "")
	fs.IntVar(&c.workers, "workers", 0, "")
	fs.BoolVar(&c.timing, "timing", false, "")
	fs.BoolVar(&c.quiet, "quiet", false, "")
	switch v.name {
	case "inspect":
		fs.BoolVar(&c.accept, "accept", false, "")
		fs.StringVar(&c.stl, "stl", "", "")
		fs.BoolVar(&c.ascii, "ascii", false, "")
	case "rules":
		fs.StringVar(&c.into, "into", "", "")
	case "import":
		fs.StringVar(&c.into, "into", "", "")
		fs.StringVar(&c.unit, "unit", "", "")
	case "drop":
		c.drop.add(fs)
	case "heat":
		fs.BoolVar(&c.factors, "factors", false, "")
		fs.BoolVar(&c.shields, "shields", false, "")
	case "decisions":
		fs.StringVar(&c.take, "take", "", "")
		fs.StringVar(&c.date, "date", "", "")
	case "changes":
		fs.StringVar(&c.since, "since", "", "")
		fs.Float64Var(&c.worseMM, "worse-mm", compare.DefaultThresholdMM, "")
		fs.Float64Var(&c.worseK, "worse-K", outcome.DefaultThresholdK, "")
		fs.StringVar(&c.ask, "questions", "", "")
	case "report":
		fs.BoolVar(&c.drop.mapped, "map", false, "")
		fs.StringVar(&c.out, "out", "", "")
		fs.StringVar(&c.date, "date", "", "")
		fs.StringVar(&c.revision, "revision", "", "")
		fs.StringVar(&c.paper, "paper", "a4", "")
		fs.StringVar(&c.since, "since", "", "")
		fs.StringVar(&c.against, "against", "", "")
	case "demo":
		fs.StringVar(&c.variant, "variant", "bramble-b", "")
	}
	paths, err := positional(fs, args)
	if errors.Is(err, flag.ErrHelp) {
		help(stdout)
		return nil, errHelp
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %v: see baycheck --help", v.name, err)
	}
	if v.layouts == someFiles && len(paths) == 0 {
		return nil, fmt.Errorf("%s takes %s: baycheck %s %s", v.name, v.some, v.name, v.args)
	}
	if v.layouts != someFiles && len(paths) != v.layouts {
		return nil, fmt.Errorf("%s takes %d path, not %d: baycheck %s %s", v.name, v.layouts, len(paths), v.name, v.args)
	}
	c.path, c.paths = paths[0], paths
	return c, errors.Join(c.check(), c.drop.check())
}

// isDay reports whether a text is a day of the calendar, such as 2027-01-31.
func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

func (c *call) check() error {
	switch {
	case c.workers < 0:
		return fmt.Errorf("--workers %d: give 0 for all processors, or a positive number", c.workers)
	case c.worseMM < 0 || math.IsNaN(c.worseMM) || math.IsInf(c.worseMM, 0):
		return fmt.Errorf("--worse-mm %g: give a length in mm that is not negative", c.worseMM)
	case c.date != "" && !isDay(c.date):
		return fmt.Errorf("--date %q: give it as 2027-01-31", c.date)
	case c.worseK < 0 || math.IsNaN(c.worseK) || math.IsInf(c.worseK, 0):
		return fmt.Errorf("--worse-K %g: give a difference in K that is not negative", c.worseK)
	case c.since != "" && c.against != "":
		return errors.New("report compares with one state: give --since REVISION or --against LAYOUT, not both")
	case c.verb.name == "report" && c.out == "":
		return errors.New("report needs --out DIR: where shall the packet go?")
	case c.verb.name == "report" && c.paper != "a4" && c.paper != "letter":
		return fmt.Errorf("--paper %q: a4 or letter", c.paper)
	}
	return nil
}

// positional parses flags and paths in any order.
func positional(fs *flag.FlagSet, args []string) ([]string, error) {
	var paths []string
	for {
		if err := fs.Parse(args); err != nil {
			return nil, err
		}
		if fs.NArg() == 0 {
			return paths, nil
		}
		paths = append(paths, fs.Arg(0))
		args = fs.Args()[1:]
	}
}

// progress returns a progress line on standard error, only on a terminal.
func (c *call) progress(what string) geom.Progress {
	f, ok := c.stderr.(*os.File)
	if !ok || c.quiet {
		return nil
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	last := -1
	return func(done, total int) {
		if percent := 100 * done / max(total, 1); percent != last {
			last = percent
			fmt.Fprintf(f, "\r%s %3d %%", what, percent)
			if done == total {
				fmt.Fprint(f, "\r\033[K")
			}
		}
	}
}
