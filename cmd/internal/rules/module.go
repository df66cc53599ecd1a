package rules

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Finding is one place where a rule is broken.
type Finding struct {
	Where string // path, with a line where there is one
	What  string // the rule broken and how to mend it
}

func (f Finding) String() string { return f.Where + ": " + f.What }

// Module is a source tree, read once for all rules.
type Module struct {
	FS    fs.FS
	Fset  *token.FileSet
	Files []*File  // every Go file, by path
	Paths []string // every file, by path, Go or not
}

// File is one parsed Go file.
type File struct {
	Path      string // from the module's root, with /
	Dir       string // folder of Path; "." at the root
	Test      bool   // name ends in _test.go
	Generated bool   // carries the standard "Code generated" line
	Lines     int
	Syntax    *ast.File
}

// Load reads and parses a tree. Folders that hold no sources of ours (.git and
// local builds) are left out; Go files below testdata are not parsed.
func Load(fsys fs.FS) (*Module, error) {
	m := &Module{FS: fsys, Fset: token.NewFileSet()}
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && isSkipped(p):
			return fs.SkipDir
		case d.IsDir():
			return nil
		}
		m.Paths = append(m.Paths, p)
		if path.Ext(p) != ".go" || slices.Contains(strings.Split(p, "/"), "testdata") {
			return nil
		}
		return m.parse(p)
	})
	return m, err
}

func isSkipped(dir string) bool {
	return path.Base(dir) == ".git" || strings.HasSuffix(dir, "testdata/failed")
}

func (m *Module) parse(p string) error {
	src, err := fs.ReadFile(m.FS, p)
	if err != nil {
		return err
	}
	syntax, err := parser.ParseFile(m.Fset, p, src, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return fmt.Errorf("cannot judge %s before it parses: %w", p, err)
	}
	m.Files = append(m.Files, &File{
		Path:      p,
		Dir:       path.Dir(p),
		Test:      strings.HasSuffix(p, "_test.go"),
		Generated: ast.IsGenerated(syntax),
		Lines:     bytes.Count(src, []byte("\n")),
		Syntax:    syntax,
	})
	return nil
}

// at returns a finding at a place in a file.
func (m *Module) at(pos token.Pos, format string, args ...any) Finding {
	p := m.Fset.Position(pos)
	return Finding{Where: fmt.Sprintf("%s:%d", p.Filename, p.Line), What: fmt.Sprintf(format, args...)}
}

// code returns the files that are neither tests nor generated.
func (m *Module) code() []*File {
	return slices.DeleteFunc(slices.Clone(m.Files), func(f *File) bool { return f.Test || f.Generated })
}
