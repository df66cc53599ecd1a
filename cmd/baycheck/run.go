package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Exit codes of the contract.
const (
	exitFine      = 0 // every verdict ok or close
	exitFails     = 1 // at least one short, overlap or over
	exitRefused   = 2 // input or usage refused
	exitCancelled = 3
)

// verb is one question the command answers.
type verb struct {
	name, args, answers string
	layouts             int // how many paths it takes, or someFiles
	run                 func(ctx context.Context, c *call) (fails bool, err error)
	some                string // with someFiles: what it takes, in words
}

// someFiles stands for one path or more.
const someFiles = -1

func verbs() []verb {
	return []verb{
		{"inspect", "LAYOUT", "are the meshes what I think? size, area, volume, faults", 1, inspect, ""},
		{"import", "DIR|FILES", "which parts are these STL files? role and unit, with the reason; --into makes a layout", someFiles, imports, "a folder of STL files, or the files"},
		{"clearance", "LAYOUT", "does it fit? every pair, cold, hot and moving", 1, fits, ""},
		{"rules", "LAYOUT", "which least clearances hold, from where, and what does each decide?", 1, lists, ""},
		{"loads", "LAYOUT", "where do its loads take a group on its mounts?", 1, loads, ""},
		{"drop", "LAYOUT", "how low can it go, and what stops it?", 1, lowers, ""},
		{"rear-view", "LAYOUT", "can the driver see the road behind, and who hides it?", 1, sees, ""},
		{"heat", "LAYOUT", "what gets hot? low, nominal and high in every case", 1, heats, ""},
		{"spots", "LAYOUT", "where can coils and sensors be mounted?", 1, mounts, ""},
		{"changes", "OLD NEW", "what changed? parts and findings; exit 1 only for new or worse ones", someFiles, changed, "two layouts, or one with --since REVISION"},
		{"decisions", "LAYOUT", "who does what by when? open items with today's figures; --take FILE reads a filled-in findings table in", 1, decides, ""},
		{"report", "LAYOUT --out DIR", "the packet for the review: report.pdf and .html, findings.csv and .xlsx, scene.glb, pictures", 1, packs, ""},
		{"speed", "LAYOUT", "how fast is this machine with this layout?", 1, times, ""},
		{"demo", "DIR", "writes the invented demo layout Bramble (--variant bramble-a or bramble-b)", 1, demonstrates, ""},
	}
}

// run does one call and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	if len(args) == 0 || args[0] == "--help" || args[0] == "-h" || args[0] == "help" {
		help(stdout)
		if len(args) == 0 {
			return exitRefused
		}
		return exitFine
	}
	for _, v := range verbs() {
		if v.name != args[0] {
			continue
		}
		c, err := parse(v, args[1:], stdout, stderr)
		if errors.Is(err, errHelp) {
			return exitFine
		}
		var fails bool
		if err == nil {
			fails, err = v.run(ctx, c)
		}
		return exitCode(fails, err, stderr)
	}
	fmt.Fprintf(stderr, "baycheck: unknown verb %q: use one of %s\n", args[0], strings.Join(verbNames(), ", "))
	return exitRefused
}

func exitCode(fails bool, err error, stderr io.Writer) int {
	switch {
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "baycheck: cancelled, nothing written")
		return exitCancelled
	case err != nil:
		for _, line := range strings.Split(err.Error(), "\n") {
			fmt.Fprintln(stderr, "baycheck:", line)
		}
		return exitRefused
	case fails:
		return exitFails
	}
	return exitFine
}

func verbNames() []string {
	var names []string
	for _, v := range verbs() {
		names = append(names, v.name)
	}
	return names
}

func help(w io.Writer) {
	fmt.Fprint(w, `baycheck answers the questions of a rear- or mid-engine layout without a window.

usage: baycheck VERB LAYOUT [flags]
LAYOUT is a layout folder, its layout.json or an .aftbay file.

`)
	for _, v := range verbs() {
		fmt.Fprintf(w, "  %-10s %-18s %s\n", v.name, v.args, v.answers)
	}
	fmt.Fprint(w, `
flags:
  --json FILE    write the whole result as JSON (- for standard output)
  --csv FILE     write the table as CSV (- for standard output)
  --workers N    how many processors to use (0: all); the result does not depend on it
  --timing       add "timing_ms" {read, build, solve} to the JSON
  --quiet        no progress and no table
  --accept       inspect: remember the mesh files as they are now
  --stl DIR      inspect: also write the meshes, mended and in mm, into a new folder
  --ascii        inspect --stl: as text
`+dropHelp+`  --since R      changes, report: compare with its revision R, by name or number
  --against OLD  report: compare with another layout
  --worse-mm MM  changes: the smallest change of a margin that counts (0.05)
  --worse-K K    changes: the smallest change of a temperature that counts (4)
  --questions Q  changes: what is compared and decides the exit, of
                 clearance,drop,rear-view,heat (all)
  --factors      heat: add the view factors to the JSON
  --shields      heat: also try the shields of the layout, before beside after
  --into DIR     import: make the layout there; nothing is written without
  --unit U       import: the unit of all files, mm, cm, m or in
  --into DIR     rules: write the layout there with the built-in rules in its file, to edit them
  --take FILE    decisions: put those of a filled-in findings.csv or .xlsx into the layout
  --out DIR      report: where the packet goes
  --date TEXT    report: the date printed in it (none by default)
  --revision R   report: the revision printed in it
  --paper P      report: a4 (default) or letter
  --variant V    demo: bramble-a or bramble-b (default)

exit: 0 every verdict ok or close; 1 something is short, overlapping or too hot,
or no spot was found (changes: something is new or worse); 2 input or call refused; 3 cancelled.

Temperatures: Estimate for comparing positions. Not a release. Measure before use.
`)
}
