package rules

import (
	"fmt"
	"go/ast"
	"slices"
	"strings"
)

// Size limits of the house; tests and generated tables are exempt.
const (
	mostFileLines = 400
	mostFuncLines = 60
	longMark      = "Long on purpose:" // in the doc comment; the reason follows
)

// Sizes finds files and functions that are too long.
func Sizes(m *Module) []Finding {
	var out []Finding
	for _, f := range m.code() {
		if f.Lines > mostFileLines {
			out = append(out, Finding{f.Path, fmt.Sprintf("%d lines; at most %d: split it by topic", f.Lines, mostFileLines)})
		}
		for _, decl := range f.Syntax.Decls {
			fn, ok := decl.(*ast.FuncDecl)
			if !ok || strings.Contains(fn.Doc.Text(), longMark) {
				continue
			}
			lines := m.Fset.Position(fn.End()).Line - m.Fset.Position(fn.Pos()).Line + 1
			if lines > mostFuncLines {
				out = append(out, m.at(fn.Pos(), "%s has %d lines; at most %d, or say %q and why", fn.Name.Name, lines, mostFuncLines, longMark))
			}
		}
	}
	return out
}

// vagueNames say nothing about what a package holds. Read-only.
var vagueNames = []string{"util", "utils", "common", "manager", "helper", "helpers", "misc", "shared", "base"}

// Packages finds packages with a vague name, without a doc.go that opens with
// the package comment, or with a second package comment elsewhere.
func Packages(m *Module) []Finding {
	var out []Finding
	documented := map[string]bool{}
	var dirs []string
	for _, f := range m.Files {
		if f.Test {
			continue
		}
		name := f.Syntax.Name.Name
		if slices.Contains(vagueNames, name) {
			out = append(out, m.at(f.Syntax.Name.Pos(), "package %s: name it by what it holds", name))
		}
		if !slices.Contains(dirs, f.Dir) {
			dirs = append(dirs, f.Dir)
		}
		switch text := f.Syntax.Doc.Text(); {
		case !strings.HasSuffix(f.Path, "/doc.go"):
			if text != "" {
				out = append(out, m.at(f.Syntax.Doc.Pos(), "the package comment belongs in doc.go"))
			}
		case strings.HasPrefix(text, "Package "+name+" "), name == "main" && strings.HasPrefix(text, "Command "):
			documented[f.Dir] = true
		}
	}
	for _, dir := range dirs {
		if !documented[dir] {
			out = append(out, Finding{dir, `has no doc.go that opens with "Package NAME " (or "Command NAME ")`})
		}
	}
	return out
}
