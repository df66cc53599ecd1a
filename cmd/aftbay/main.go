package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"fyne.io/fyne/v2/app"

	"aftbay/cmd/internal/demo"
	"aftbay/gui/settings"
	"aftbay/gui/theme"
	"aftbay/gui/window"
)

// call is what the command line asks for.
type call struct {
	layout  string // "" for none
	demo    bool
	variant string
	look    string // "" for the one used last
	vitals  string // file for a line a second on how the window fares, "" for none
	profile bool   // beside it what the heap holds, every minute
}

func main() {
	c, err := parse(os.Args[1:], os.Stderr)
	if err != nil {
		fmt.Fprintln(os.Stderr, "aftbay:", err)
		os.Exit(2)
	}
	if err := errors.Join(speak(), fillPreferences()); err != nil {
		fmt.Fprintln(os.Stderr, "aftbay:", err)
		os.Exit(2)
	}
	keepSmall(os.Getenv("GOGC"), c.profile)
	if err := show(c); err != nil {
		fmt.Fprintln(os.Stderr, "aftbay:", err)
		os.Exit(2)
	}
}

// parse reads the command line; flags may stand before and after the layout.
func parse(args []string, out io.Writer) (call, error) {
	var c call
	f := flag.NewFlagSet("aftbay", flag.ContinueOnError)
	f.SetOutput(out)
	f.BoolVar(&c.demo, "demo", false, "open the invented demo layout")
	f.StringVar(&c.variant, "variant", string(demo.BrambleB), "of the demo: "+strings.Join(variants(), " or "))
	f.StringVar(&c.look, "look", "", "light, dark or review; the one used last if not given")
	f.StringVar(&c.vitals, "vitals", "", "for tests: write to this file, a line a second, how long input waits, what the window holds and what it shows")
	f.BoolVar(&c.profile, "profiles", false, "for tests: beside the vitals, every minute, a profile of what the window holds")
	f.Usage = func() {
		fmt.Fprintln(out, "usage: aftbay [LAYOUT] [--demo] [--variant bramble-a|bramble-b] [--look light|dark|review]")
		f.PrintDefaults()
	}
	var layouts []string
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			return c, err
		}
		if args = f.Args(); len(args) > 0 {
			layouts, args = append(layouts, args[0]), args[1:]
		}
	}
	if _, ok := theme.ParseLook(c.look); !ok && c.look != "" {
		return c, fmt.Errorf("no look %q: use light, dark or review", c.look)
	}
	switch {
	case c.profile && c.vitals == "":
		return c, errors.New("--profiles stand beside the vitals: give --vitals FILE too")
	case len(layouts) > 1:
		return c, fmt.Errorf("%d layouts given: one window shows one", len(layouts))
	case len(layouts) == 1 && c.demo:
		return c, fmt.Errorf("a layout and --demo given: leave one out")
	case len(layouts) == 1:
		c.layout = layouts[0]
	}
	for _, v := range variants() {
		if v == c.variant {
			return c, nil
		}
	}
	return c, fmt.Errorf("no variant %q: use %s", c.variant, strings.Join(variants(), " or "))
}

func variants() []string {
	var names []string
	for _, v := range demo.Variants() {
		names = append(names, string(v))
	}
	return names
}

// speak gives the toolkit a language where the system names none that it knows.
func speak() error {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		value, _, _ := strings.Cut(os.Getenv(name), ".")
		if value == "C" || value == "POSIX" {
			if err := os.Unsetenv(name); err != nil {
				return fmt.Errorf("language: %w", err)
			}
		}
	}
	if os.Getenv("LC_ALL") == "" && os.Getenv("LANG") == "" {
		return os.Setenv("LANG", "en_US.UTF-8")
	}
	return nil
}

// fillPreferences gives the toolkit's own file of preferences, which it makes
// empty and then cannot read, an empty content that it can.
func fillPreferences() error {
	dir, err := os.UserConfigDir()
	if err != nil {
		return nil // without such a folder the toolkit keeps no preferences
	}
	path := filepath.Join(dir, "fyne", appID, "preferences.json")
	if info, err := os.Stat(path); err == nil && info.Size() > 0 {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil // the toolkit then does without preferences, and says so
	}
	if err := os.WriteFile(path, []byte("{}"), 0o600); err != nil {
		return fmt.Errorf("preferences: %w", err)
	}
	return nil
}

// appID names the program to the toolkit and the desktop.
const appID = "aftbay.layout"

// errNoDisplay says that no window can open, and what can be done without one.
var errNoDisplay = errors.New("no display answers here (is DISPLAY set?): run it on a desktop, or get the same answers with baycheck report LAYOUT --out DIR")

// show opens the window and returns when it is closed.
func show(c call) error {
	say := func(text string) { fmt.Fprintln(os.Stderr, "aftbay:", text) }
	w, err := open(c, say)
	if err != nil {
		return err
	}
	switch {
	case c.demo:
		w.OpenDemo(c.variant)
	case c.layout != "":
		w.Open(c.layout)
	default:
		w.OfferRecovery()
	}
	if c.vitals != "" {
		out, err := os.Create(c.vitals)
		if err != nil {
			return fmt.Errorf("vitals: %w", err)
		}
		defer out.Close()
		ctx, stop := context.WithCancel(context.Background())
		defer stop()
		go w.WriteVitals(ctx, out)
		if c.profile {
			go writeProfiles(ctx, c.vitals, say)
		}
	}
	w.Run(say)
	return nil
}

// open makes the window. The toolkit panics where the display does not answer;
// that is told in words.
func open(c call, say func(text string)) (w *window.Window, err error) {
	defer func() {
		if r := recover(); r != nil {
			if !strings.Contains(fmt.Sprint(r), "NotInitialized") {
				panic(r)
			}
			err = errNoDisplay
		}
	}()
	o := window.Options{Demo: writeDemo, Variants: variants(), Workers: makeRoom(), Measured: c.vitals != "", Quiet: debug.FreeOSMemory}
	if o.SettingsDir, err = settings.Folder(); err != nil {
		say("nothing is remembered: " + err.Error())
	} else if o.Remembered, err = settings.Load(o.SettingsDir); err != nil {
		say(err.Error())
	}
	look := c.look
	if look == "" {
		look = o.Remembered.Look
	}
	if known, ok := theme.ParseLook(look); ok {
		o.Look = known
	}
	a := app.NewWithID(appID)
	trust(a, os.Getenv("AFTBAY_THREADS"))
	return window.New(a, o), nil
}

// writeDemo writes a variant of the demo into a folder of its own.
func writeDemo(variant string) (path string, err error) {
	path, err = os.MkdirTemp("", "aftbay-demo-")
	if err != nil {
		return "", fmt.Errorf("demo: %w", err)
	}
	return path, demo.Write(path, demo.Variant(variant))
}
