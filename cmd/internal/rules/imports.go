package rules

import (
	"slices"
	"strconv"
	"strings"
)

// module is the path that our own imports start with.
const module = "aftbay"

// levels orders the packages: each imports only packages with a lower number.
// The gaps leave room. Packages that are planned already have their place.
// Read-only.
var levels = map[string]int{
	"assets": 0,

	"geom":               0,
	"geom/say":           5,
	"geom/units":         10,
	"geom/disk":          20,
	"geom/disk/faulty":   25,
	"geom/mesh":          20,
	"geom/mesh/plain":    25,
	"geom/bvh":           30,
	"geom/bvh/avo":       35,
	"geom/route":         30,
	"geom/layout":        30,
	"geom/revision":      33,
	"geom/layout/gather": 35,
	"geom/mounts":        35,
	"geom/dist":          40,
	"geom/lead":          45,
	"geom/approach":      45,
	"geom/simplify":      40,
	"geom/render":        40,
	"geom/gauge":         45,
	"geom/scene":         50,
	"geom/scene/fixture": 55,
	"geom/sweep":         60,
	"geom/clearance":     70,
	"geom/compare":       75,
	"geom/rearview":      70,
	"geom/drop":          80,

	"thermal":          100,
	"thermal/refcase":  105,
	"thermal/material": 110,
	"thermal/convect":  120,
	"thermal/patch":    130,
	"thermal/radiate":  140,
	"thermal/soak":     150,
	"thermal/balance":  160,
	"thermal/shield":   165,
	"thermal/spot":     170,
	"thermal/outcome":  175,

	"gui/phrase":   195,
	"gui/report":   200,
	"gui/patient":  196,
	"gui/journal":  204,
	"gui/claim":    204,
	"gui/settings": 204,
	"gui/field":    206,
	"gui/desk":     210,
	"gui/theme":    220,
	"gui/view3d":   230,
	"gui/page":     240,
	"gui/review":   250,
	"gui/window":   260,

	"cmd/internal/rules": 300,
	"cmd/internal/demo":  300,
	"cmd/baycheck":       310,
	"cmd/aftbay":         320,
}

// toolkit is the window toolkit's import path; toolkitApp is the one package of
// it that needs a C compiler, toolkitTest the one that belongs in tests.
const (
	toolkit     = "fyne.io/"
	toolkitApp  = "fyne.io/fyne/v2/app"
	toolkitTest = "fyne.io/fyne/v2/test"
)

// Imports finds imports that point up or sideways, packages without a level,
// the window toolkit where it must not be, and C. Generators of assembly are left
// out: no package can import them.
func Imports(m *Module) []Finding {
	var out []Finding
	for _, f := range m.Files {
		if m.isGenerator(f.Dir) {
			continue
		}
		level, known := levels[f.Dir]
		if !known {
			out = append(out, Finding{f.Path, "package " + f.Dir + " has no level: give it one in cmd/internal/rules/imports.go"})
			continue
		}
		for _, spec := range f.Syntax.Imports {
			target, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				continue // the parser accepted it; unreachable for a parsed file
			}
			if what := importFault(f, level, target); what != "" {
				out = append(out, m.at(spec.Pos(), "%s", what))
			}
		}
	}
	return out
}

// importFault says what is wrong with f importing target, or nothing.
func importFault(f *File, level int, target string) string {
	if own, ok := strings.CutPrefix(target, module+"/"); ok {
		to, known := levels[own]
		switch {
		case own == f.Dir: // an outside test of its own package
		case f.Test && strings.HasPrefix(own, f.Dir+"/"): // or of its own test kit
		case !known:
			return "imports " + own + ", which has no level"
		case to >= level:
			return f.Dir + " must not import " + own + ": imports only point down"
		}
		return ""
	}
	switch {
	case target == "C":
		return "C code is not ours to add: only the window toolkit needs a C compiler"
	case target == toolkitApp && f.Dir != "cmd/aftbay":
		return "only cmd/aftbay may import " + target + ": the rest builds without C"
	case target == toolkitTest && !f.Test:
		return target + " belongs in tests"
	case strings.HasPrefix(target, toolkit) && !mayUseToolkit(f.Dir):
		return f.Dir + " must not import the window toolkit (" + target + ")"
	}
	return ""
}

// mayUseToolkit reports whether a folder is on the window side of the house.
func mayUseToolkit(dir string) bool {
	switch dir {
	case "gui/report", "gui/desk":
		return false
	case "cmd/aftbay":
		return true
	}
	return strings.HasPrefix(dir, "gui/")
}

// isGenerator reports whether a folder is a module of its own below geom or
// thermal: a program that writes assembly, and no part of ours.
func (m *Module) isGenerator(dir string) bool {
	return (strings.HasPrefix(dir, "geom/") || strings.HasPrefix(dir, "thermal/")) && slices.Contains(m.Paths, dir+"/go.mod")
}
