package rules

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
)

// unwanted are words that belong to a workbench, not to the product. They are
// joined here so that this file does not hold them itself. Read-only.
var unwanted = []string{
	"/wo" + "rk/", "/fa" + "rm/", "/tmp/" + "br" + "ief", "/tmp/" + "bash_jobs",
	"seed " + "document", "trans" + "cript", "shared/" + "hooks", "shared/" + "reference", "shared/" + "meshes",
	"before-" + "stop", "proxy." + "golang", "deb." + "debian", "registry." + "npmjs",
	"language " + "model", "chat" + "bot", "system " + "prompt",
	"TO" + "DO", "FIX" + "ME", "not " + "implemented",
}

// Words finds unwanted words in every text file.
func Words(m *Module) ([]Finding, error) {
	var out []Finding
	for _, p := range m.Paths {
		if !isText(p) {
			continue
		}
		data, err := fs.ReadFile(m.FS, p)
		if err != nil {
			return nil, err
		}
		for i, line := range bytes.Split(data, []byte("\n")) {
			for _, word := range unwanted {
				if bytes.Contains(bytes.ToLower(line), []byte(strings.ToLower(word))) && !isCaseClash(line, word) {
					out = append(out, Finding{fmt.Sprintf("%s:%d", p, i+1), fmt.Sprintf("%q must not stand in the project", word)})
				}
			}
		}
	}
	return out, nil
}

// isCaseClash reports whether an all-capital word was met only in lower case,
// where it is an ordinary part of other words.
func isCaseClash(line []byte, word string) bool {
	return word == strings.ToUpper(word) && !strings.Contains(word, "/") && !bytes.Contains(line, []byte(word))
}

func isText(p string) bool {
	switch path.Ext(p) {
	case ".go", ".md", ".sh", ".toml", ".json", ".csv", ".txt", ".svg", ".html", "":
		return p != "aftbay" && p != "baycheck" // local builds, ignored by git
	}
	return false
}

// topLevel is what may stand in the module's root; dot files besides.
// Read-only.
var topLevel = []string{
	"cmd", "geom", "thermal", "gui", "assets", "testdata",
	"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "FyneApp.toml", "LICENSE",
	"aftbay", "baycheck", // local builds, ignored by git
}

// TopLevel finds entries of the root that the design has no room for.
func TopLevel(m *Module) ([]Finding, error) {
	entries, err := fs.ReadDir(m.FS, ".")
	if err != nil {
		return nil, err
	}
	var out []Finding
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(topLevel, e.Name()) {
			out = append(out, Finding{e.Name(), "the top level has no room for it: put it into cmd, geom, thermal, gui, assets or testdata"})
		}
	}
	return out, nil
}

// named matches the paths that a list of origins speaks of.
var named = regexp.MustCompile("`([^`]+)`") // Read-only.

// Origins finds files of assets and testdata, and test data of packages, that
// the SOURCES.md of assets or testdata does not name. A folder named with a
// closing slash covers all below it; a named path that is not there is a
// finding too.
func Origins(m *Module) ([]Finding, error) {
	var out []Finding
	for _, top := range []string{"assets", "testdata"} {
		list := top + "/SOURCES.md"
		data, err := fs.ReadFile(m.FS, list)
		if err != nil {
			out = append(out, Finding{list, "is missing: it says where every file comes from"})
			continue
		}
		var paths []string
		for _, match := range named.FindAllStringSubmatch(firstCells(string(data)), -1) {
			paths = append(paths, match[1])
		}
		for _, p := range m.Paths {
			if needsOrigin(p, top) && !isNamed(strings.TrimPrefix(p, top+"/"), paths) {
				out = append(out, Finding{p, list + " does not say where it comes from"})
			}
		}
		for _, p := range paths {
			if !m.holds(top, p) {
				out = append(out, Finding{list, "names " + p + ", which is not there"})
			}
		}
	}
	return out, nil
}

// firstCells returns the first cell of each table row, one a line: the paths
// stand there, while backquotes elsewhere may mean anything.
func firstCells(markdown string) string {
	var b strings.Builder
	for line := range strings.Lines(markdown) {
		if cells := strings.Split(line, "|"); len(cells) > 2 {
			b.WriteString(cells[1] + "\n")
		}
	}
	return b.String()
}

func needsOrigin(p, top string) bool {
	if strings.HasSuffix(p, "/SOURCES.md") {
		return false
	}
	if strings.HasPrefix(p, top+"/") {
		return path.Ext(p) != ".go"
	}
	return top == "testdata" && strings.Contains(p, "/testdata/")
}

func isNamed(p string, paths []string) bool {
	return slices.ContainsFunc(paths, func(n string) bool {
		return n == p || strings.HasSuffix(n, "/") && strings.HasPrefix(p, n)
	})
}

// holds reports whether a path, from the folder top or from the root, is a
// file or the folder of one.
func (m *Module) holds(top, p string) bool {
	return slices.ContainsFunc(m.Paths, func(f string) bool {
		return isNamed(f, []string{p, top + "/" + p})
	})
}
