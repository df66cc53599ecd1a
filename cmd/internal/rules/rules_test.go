package rules_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"aftbay/cmd/internal/rules"
)

// tree makes a module from paths and their text.
func tree(t *testing.T, files map[string]string) *rules.Module {
	t.Helper()
	fsys := fstest.MapFS{}
	for p, text := range files {
		fsys[p] = &fstest.MapFile{Data: []byte(text)}
	}
	m, err := rules.Load(fsys)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Each rule on sources that break it once, and on the nearest good ones.
func TestRulesOnSmallSources(t *testing.T) {
	long := strings.Repeat("\t_ = 0\n", 60)
	for _, c := range []struct {
		name string
		rule func(*rules.Module) ([]rules.Finding, error)
		path string
		text string
		want string // part of the only finding; empty: none
	}{
		{"up", sure(rules.Imports), "geom/mesh/a.go", "package mesh\nimport _ \"aftbay/thermal\"", "must not import thermal"},
		{"sideways", sure(rules.Imports), "geom/bvh/a.go", "package bvh\nimport _ \"aftbay/geom/route\"", "must not import geom/route"},
		{"down", sure(rules.Imports), "geom/bvh/a.go", "package bvh\nimport _ \"aftbay/geom/mesh\"", ""},
		{"own outside test", sure(rules.Imports), "geom/bvh/a_test.go", "package bvh_test\nimport _ \"aftbay/geom/bvh\"", ""},
		{"no level", sure(rules.Imports), "geom/new/a.go", "package new", "has no level"},
		{"import of no level", sure(rules.Imports), "cmd/baycheck/a.go", "package main\nimport _ \"aftbay/geom/new\"", "has no level"},
		{"C", sure(rules.Imports), "geom/a.go", "package geom\nimport \"C\"", "C code"},
		{"app in a page", sure(rules.Imports), "gui/page/a.go", "package page\nimport _ \"fyne.io/fyne/v2/app\"", "only cmd/aftbay"},
		{"app in a test", sure(rules.Imports), "gui/page/a_test.go", "package page\nimport _ \"fyne.io/fyne/v2/app\"", "only cmd/aftbay"},
		{"app in its place", sure(rules.Imports), "cmd/aftbay/a.go", "package main\nimport _ \"fyne.io/fyne/v2/app\"", ""},
		{"toolkit in desk", sure(rules.Imports), "gui/desk/a.go", "package desk\nimport _ \"fyne.io/fyne/v2\"", "window toolkit"},
		{"toolkit in report", sure(rules.Imports), "gui/report/a_test.go", "package report\nimport _ \"fyne.io/fyne/v2/canvas\"", "window toolkit"},
		{"toolkit in geom", sure(rules.Imports), "geom/render/a.go", "package render\nimport _ \"fyne.io/fyne/v2\"", "window toolkit"},
		{"toolkit in the headless command", sure(rules.Imports), "cmd/baycheck/a.go", "package main\nimport _ \"fyne.io/fyne/v2\"", "window toolkit"},
		{"toolkit in a page", sure(rules.Imports), "gui/page/a.go", "package page\nimport _ \"fyne.io/fyne/v2/widget\"", ""},
		{"toolkit's test package in code", sure(rules.Imports), "gui/page/a.go", "package page\nimport _ \"fyne.io/fyne/v2/test\"", "belongs in tests"},

		{"network", sure(rules.Reach), "geom/a.go", "package geom\nimport _ \"net/http\"", "imports net/http"},
		{"other programs", sure(rules.Reach), "cmd/aftbay/a.go", "package main\nimport _ \"os/exec\"", "imports os/exec"},
		{"raw memory", sure(rules.Reach), "geom/bvh/a.go", "package bvh\nimport _ \"unsafe\"", "imports unsafe"},
		{"system calls", sure(rules.Reach), "geom/a.go", "package geom\nimport _ \"golang.org/x/sys/unix\"", "imports golang.org/x/sys/unix"},
		{"network in a test", sure(rules.Reach), "geom/a_test.go", "package geom\nimport _ \"net/http\"", ""},
		{"excepted", sure(rules.Reach), "geom/disk/a.go", "package disk\nimport _ \"syscall\"", ""},
		{"exception of no use", sure(rules.Reach), "geom/disk/a.go", "package disk\nimport _ \"io\"", "no longer needs syscall"},
		{"net as part of a name", sure(rules.Reach), "geom/a.go", "package geom\nimport _ \"example.org/netting\"", ""},

		{"bare field", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ Gap float64 }", "Gap is a float64"},
		{"bare pointer", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ Gap *float64 }", "Gap is a float64"},
		{"bare slice", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ Gaps []float64 }", "Gaps is a float64"},
		{"bare parameter", sure(rules.Units), "geom/a.go", "package geom\nfunc F(gap float64) {}", "gap is a float64"},
		{"bare result", sure(rules.Units), "geom/a.go", "package geom\nfunc F() (gap float64) { return }", "gap is a float64"},
		{"bare method of an interface", sure(rules.Units), "geom/a.go", "package geom\ntype I interface{ F(gap float64) }", "gap is a float64"},
		{"bare function literal", sure(rules.Units), "geom/a.go", "package geom\nfunc f() { _ = func(gap float64) {} }", "gap is a float64"},
		{"unit by accident", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ ABCS float64 }", "ABCS is a float64"},
		{"units", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ GapMM, XMM, FilmWM2K, lowK, PerK, Emissivity, ViewFactor float64 }", ""},
		{"mathematics", sure(rules.Units), "geom/a.go", "package geom\nfunc f(t, u, v float64) float64 { return t }", ""},
		{"excused function", sure(rules.Units), "geom/a.go", "package geom\n// f adds. Bare numbers: any unit, kept.\nfunc f(a, b float64) {}", ""},
		{"excused field", sure(rules.Units), "geom/a.go", "package geom\ntype T struct{ A float64 // Bare numbers: a count\n}", ""},
		{"excused line", sure(rules.Units), "geom/a.go", "package geom\nfunc f(a float64) { // Bare numbers: a count\n}", ""},
		{"other line", sure(rules.Units), "geom/a.go", "package geom\nfunc f(a float64) {\n\t_ = a // Bare numbers: a count\n}", "a is a float64"},
		{"local name", sure(rules.Units), "geom/a.go", "package geom\nfunc f() { var gap float64; _ = gap }", ""},
		{"units in a test", sure(rules.Units), "geom/a_test.go", "package geom\nfunc f(want float64) {}", ""},

		{"long file", sure(rules.Sizes), "geom/a.go", "package geom\n" + strings.Repeat("\n", 400), "401 lines"},
		{"long test file", sure(rules.Sizes), "geom/a_test.go", "package geom\n" + strings.Repeat("\n", 400), ""},
		{"long table", sure(rules.Sizes), "geom/a.go", "// Code generated by x. DO NOT EDIT.\n\npackage geom\n" + strings.Repeat("\n", 400), ""},
		{"long function", sure(rules.Sizes), "geom/a.go", "package geom\nfunc f() {\n" + long + "}\n", "f has 62 lines"},
		{"long on purpose", sure(rules.Sizes), "geom/a.go", "package geom\n// f. Long on purpose: a kernel.\nfunc f() {\n" + long + "}\n", ""},

		{"vague package", sure(rules.Packages), "geom/util/doc.go", "// Package util is vague.\npackage util", "name it by what it holds"},
		{"no doc.go", sure(rules.Packages), "geom/a.go", "package geom", "has no doc.go"},
		{"doc.go without comment", sure(rules.Packages), "geom/doc.go", "package geom", "has no doc.go"},
		{"good doc.go", sure(rules.Packages), "geom/doc.go", "// Package geom is.\npackage geom", ""},
		{"good command", sure(rules.Packages), "cmd/x/doc.go", "// Command x is.\npackage main", ""},

		{"init", sure(rules.State), "geom/a.go", "package geom\nfunc init() {}", "init hides work"},
		{"method called init", sure(rules.State), "geom/a.go", "package geom\ntype T struct{}\nfunc (T) init() {}", ""},
		{"variable", sure(rules.State), "geom/a.go", "package geom\nvar cache = map[int]int{}", "package variable cache"},
		{"table", sure(rules.State), "geom/a.go", "package geom\n// table. Read-only.\nvar table = []int{1}", ""},
		{"written table", sure(rules.State), "geom/a.go", "package geom\n// table. Read-only.\nvar table = []int{1}\nfunc f() { table[0] = 2 }", "writes to package variable table"},
		{"counted table", sure(rules.State), "geom/a.go", "package geom\n// n. Read-only.\nvar n = 1\nfunc f() { n++ }", "writes to package variable n"},
		{"shadowed table", sure(rules.State), "geom/a.go", "package geom\n// n. Read-only.\nvar n = 1\nfunc f() { n := 0; n++ }", ""},
		{"sentinel", sure(rules.State), "geom/a.go", "package geom\nimport \"errors\"\nvar ErrOpen = errors.New(\"open\")", ""},
		{"interface check", sure(rules.State), "geom/a.go", "package geom\nvar _ = 1", ""},

		{"clock", sure(rules.Chance), "geom/a.go", "package geom\nimport \"time\"\nvar _ = time.Now()", "has no clock"},
		{"renamed clock", sure(rules.Chance), "thermal/soak/a.go", "package soak\nimport c \"time\"\nvar _ = c.Since", "has no clock"},
		{"clock in the report", sure(rules.Chance), "gui/report/a.go", "package report\nimport \"time\"\nvar _ = time.Now()", "has no clock"},
		{"clock in a command", sure(rules.Chance), "cmd/baycheck/a.go", "package main\nimport \"time\"\nvar _ = time.Now()", ""},
		{"duration", sure(rules.Chance), "geom/a.go", "package geom\nimport \"time\"\nvar _ = time.Second", ""},
		{"old random", sure(rules.Chance), "geom/a.go", "package geom\nimport \"math/rand\"\nvar _ = rand.New", "use math/rand/v2"},
		{"shared random", sure(rules.Chance), "cmd/baycheck/a.go", "package main\nimport \"math/rand/v2\"\nvar _ = rand.Float64()", "shared source"},
		{"seeded random", sure(rules.Chance), "geom/a.go", "package geom\nimport \"math/rand/v2\"\nvar _ = rand.New(rand.NewPCG(1, 2))", ""},

		{"workbench path", rules.Words, "README.md", "see /wo" + "rk/main", "must not stand"},
		{"open end", rules.Words, "geom/a.go", "package geom\n// TO" + "DO: later", "must not stand"},
		{"plain words", rules.Words, "README.md", "tools to do the job, framework/ and all", ""},
		{"picture", rules.Words, "assets/a.png", "/wo" + "rk/", ""},

		{"stray entry", rules.TopLevel, "notes.txt", "", "the top level has no room"},
		{"dot file", rules.TopLevel, ".gitignore", "", ""},
		{"command", rules.TopLevel, "cmd/open.sh", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			found, err := c.rule(tree(t, map[string]string{c.path: c.text}))
			switch {
			case err != nil:
				t.Fatal(err)
			case c.want == "" && len(found) > 0:
				t.Errorf("got %v, want no finding", found)
			case c.want != "" && (len(found) != 1 || !strings.Contains(found[0].String(), c.want)):
				t.Errorf("got %v, want one finding with %q", found, c.want)
			}
		})
	}
}

func TestSecondPackageComment(t *testing.T) {
	m := tree(t, map[string]string{
		"geom/doc.go": "// Package geom is.\npackage geom",
		"geom/a.go":   "// Package geom is again.\npackage geom",
	})
	if found := rules.Packages(m); len(found) != 1 || !strings.Contains(found[0].What, "belongs in doc.go") {
		t.Errorf("got %v, want the second comment", found)
	}
}

func TestOrigins(t *testing.T) {
	files := map[string]string{
		"assets/SOURCES.md":   "| what | from |\n|---|---|\n| `icon.svg` | own |\n",
		"assets/icon.svg":     "<svg/>",
		"assets/assets.go":    "package assets",
		"testdata/SOURCES.md": "| `meshes/` | own, `elsewhere` |\n| `pairs.json` | own |\n| `geom/render/testdata/` | own |\n",
		"testdata/meshes/a":   "",
		"testdata/pairs.json": "",

		"geom/render/testdata/golden.png": "",
	}
	origins := func() []rules.Finding {
		found, err := rules.Origins(tree(t, files))
		if err != nil {
			t.Fatal(err)
		}
		return found
	}
	if found := origins(); len(found) != 0 {
		t.Errorf("got %v, want no finding", found)
	}
	for _, stray := range []string{"assets/b.png", "testdata/new.stl", "gui/view3d/testdata/x.png"} {
		files[stray] = ""
		if found := origins(); len(found) != 1 || found[0].Where != stray {
			t.Errorf("got %v, want %s", found, stray)
		}
		delete(files, stray)
	}
	delete(files, "testdata/pairs.json")
	if found := origins(); len(found) != 1 || !strings.Contains(found[0].What, "pairs.json") {
		t.Errorf("got %v, want the path that is gone", found)
	}
	delete(files, "assets/SOURCES.md")
	if found := origins(); len(found) != 2 || !strings.Contains(found[0].What, "missing") {
		t.Errorf("got %v, want the missing list", found)
	}
}

func TestManual(t *testing.T) {
	m := tree(t, map[string]string{
		"assets/layout.schema.json": `{"properties": {"title": {}}, "$defs": {"part": {"properties": {"mesh_unit": {}}}}}`,
		"DEVELOPERS.md":             "The `title`; a mesh_unit without quotes.",
	})
	found, err := rules.Manual(m)
	if err != nil || len(found) != 1 || !strings.Contains(found[0].What, "`mesh_unit`") {
		t.Errorf("got %v, %v, want mesh_unit", found, err)
	}
	if _, err := rules.Manual(tree(t, nil)); err == nil {
		t.Error("no schema and no complaint")
	}
}

func TestBrokenSourceIsSaid(t *testing.T) {
	_, err := rules.Load(fstest.MapFS{"geom/a.go": {Data: []byte("package geom\nfunc {")}})
	if err == nil || !strings.Contains(err.Error(), "geom/a.go") {
		t.Errorf("got %v, want an error that names the file", err)
	}
}

// A generator is a module of its own in a folder of the package it writes for.
func TestGeneratorsNeedNoLevel(t *testing.T) {
	files := map[string]string{"geom/bvh/writer/main.go": "package main\nimport _ \"example.org/assembler\""}
	if found := rules.Imports(tree(t, files)); len(found) != 1 {
		t.Errorf("a package without a level: %v", found)
	}
	files["geom/bvh/writer/go.mod"] = "module aftbay/geom/bvh/writer\n"
	if found := rules.Imports(tree(t, files)); len(found) != 0 {
		t.Errorf("a generator: %v", found)
	}
}
