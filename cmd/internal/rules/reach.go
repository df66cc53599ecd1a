package rules

import (
	"slices"
	"strconv"
	"strings"
)

// outside are packages by which a program could reach the network, other
// programs, or memory and system behind Go's back. Whatever begins with one of
// them and a slash counts too. Read-only.
var outside = []string{"net", "os/exec", "plugin", "unsafe", "syscall", "golang.org/x/sys", "golang.org/x/net"}

// mayReach names the folders that need one of them, with the reason. Read-only.
var mayReach = map[string]map[string]string{
	"geom/disk":        {"syscall": "the system's numbers for a full and a read-only disk"},
	"geom/disk/faulty": {"syscall": "the same numbers, to give them in tests"},
	"gui/claim":        {"syscall": "the lock on a layout that the system itself lets go when the program ends"},
	"gui/patient":      {"syscall": "how urgently the system serves a thread"},
	"gui/window":       {"syscall": "the number of the signal that asks the program to end"},
	"cmd/baycheck":     {"syscall": "the number of the signal that cancels the work"},
}

// Reach finds imports by which the program could do more than read and write
// the files it was given: it speaks to no network and starts no program. Only
// our own files are judged, tests excepted; every exception must be needed.
func Reach(m *Module) []Finding {
	var out []Finding
	used := map[string]bool{}
	for _, f := range m.code() {
		for _, spec := range f.Syntax.Imports {
			target, err := strconv.Unquote(spec.Path.Value)
			if err != nil || !reaches(target) {
				continue
			}
			if _, allowed := mayReach[f.Dir][target]; allowed {
				used[f.Dir+" "+target] = true
				continue
			}
			out = append(out, m.at(spec.Pos(), "imports %s: the program has no business with network, other programs or raw memory; a needed exception gets its reason in cmd/internal/rules/reach.go", target))
		}
	}
	for dir, targets := range mayReach {
		for target := range targets {
			if m.hasCode(dir) && !used[dir+" "+target] {
				out = append(out, Finding{"cmd/internal/rules/reach.go", dir + " no longer needs " + target + ": take the exception out"})
			}
		}
	}
	return out
}

func reaches(target string) bool {
	if target == "net/url" { // takes addresses apart, speaks to nobody
		return false
	}
	return slices.ContainsFunc(outside, func(o string) bool { return target == o || strings.HasPrefix(target, o+"/") })
}

// hasCode reports whether a folder holds Go files that are no tests.
func (m *Module) hasCode(dir string) bool {
	return slices.ContainsFunc(m.code(), func(f *File) bool { return f.Dir == dir })
}
