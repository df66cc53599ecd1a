package rules

import (
	"encoding/json"
	"go/ast"
	"go/token"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"aftbay/geom/say"
	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// TextsFile lists every text of the window, for translators.
const TextsFile = "gui/phrase/texts/en.json"

// speaking are the folders whose texts are shown in the window. Read-only.
var speaking = []string{"gui/desk", "gui/view3d", "gui/page", "gui/review", "gui/window"}

// calculating are the folders whose sentences and errors reach the window, with
// all that lies below them. Read-only.
var calculating = []string{"geom", "thermal", "gui/field", "gui/journal", "gui/claim", "gui/settings"}

// silent are the folders among them whose words reach nobody, each with its
// reason. Read-only.
var silent = map[string]string{
	"geom":               "its one text names a fault of our own, for the report of it",
	"geom/say":           "its texts are in the list as they are said there",
	"geom/bvh":           "its check is for tests",
	"geom/bvh/avo":       "a generator",
	"geom/bvh/pairavo":   "a generator",
	"geom/mesh/plain":    "for tests",
	"geom/scene/fixture": "for tests",
	"geom/disk/faulty":   "for tests",
	"thermal/refcase":    "for tests",
}

// wordy are the files whose constants and tables hold the words that layouts and
// results are made of: verdicts, states, kinds, roles, sides. The window shows
// them by phrase.Word, sentences hold them as say.Word. Read-only.
var wordy = []string{
	"geom/clearance/verdict.go", "geom/drop/result.go", "geom/drop/weights.go", "geom/layout/motion.go", "geom/layout/selector.go", "geom/mesh/places.go",
	"geom/rearview/result.go", "geom/gauge/gauge.go", "geom/layout/gather/roles.go", "geom/scene/sound.go",
	"thermal/balance/verdict.go", "thermal/spot/result.go", "thermal/spot/words.go", "thermal/outcome/result.go",
}

// data are the files whose texts are taken from sources or name their rows, and
// stay as they are. Read-only.
var data = map[string]string{
	"thermal/balance/capacity.go": "names of table rows",
	"thermal/balance/warn.go":     "names of table rows",
	"thermal/material/own.go":     "names of table rows",
	"geom/rearview/rules.go":      "citations",
	"thermal/balance/limits.go":   "sources",
	"geom/compare/same.go":        "places in the layout file",
	"geom/compare/settings.go":    "places in the layout file",
	"geom/revision/revision.go":   "names of what is kept in files",
	"gui/journal/write.go":        "names of edits in files",
}

// asIs are single texts that stay as they are. Read-only.
var asIs = map[string]string{
	"common practice, no source":                                   "the mark of a habit, a source",
	"Aluminium foil shield, embossed, in service (dust, oil film)": "names a table row",
	"solid part\n":       "stands in STL files",
	"endsolid part\n":    "stands in STL files",
	"unknown fault":      "a fault of our own",
	"layout file":        "a source",
	"an unnamed machine": "stands in a lock's file",
	"joined pair":        "among the words of the fields",
}

// prose tells a text for people from keys, paths and words of files: two words,
// or one that begins with a capital. Read-only.
var prose = regexp.MustCompile(`[A-Za-z]{2,}[^A-Za-z]* [^A-Za-z]*[A-Za-z%]{2,}|^[A-Z][a-z]+…?$|^[A-Z][a-z]+[ …:]|[a-z]{2,} %|%[a-z0-9.\[\]+-]+ [a-z]{2,}`)

// unspoken are functions whose text arguments are not shown as they stand: they
// look for them or take them apart. Read-only.
var unspoken = regexp.MustCompile(`^(strings\..*|strconv\..*|filepath\..*|os\..*|panic|log\..*|regexp\..*|slices\..*|json\..*|path\..*|time\..*|fmt\.Fprint.*|say\.Name|Format|Parse|f\.GetRows)$`)

// shown are functions whose text arguments are shown, single words too.
// Read-only.
var shown = regexp.MustCompile(`^(text|number|heading|aside|widget\.NewLabel|widget\.NewButton|(\w+\.)?SetPlaceHolder)$`)

// letters tells a word from a sign. Read-only.
var letters = regexp.MustCompile(`[A-Za-z]{2,}`)

// Texts finds texts of the window that do not come from the catalogue, calls of
// the catalogue with a text that it cannot know, and formats with too few or too
// many arguments.
func Texts(m *Module) ([]Finding, error) {
	data, err := fs.ReadFile(m.FS, TextsFile)
	if err != nil {
		return nil, err
	}
	var known map[string]string
	if err := json.Unmarshal(data, &known); err != nil {
		return nil, err
	}
	s := speakersOf(m)
	out := append(s.wrong, s.bare()...)
	for _, text := range slices.Sorted(maps.Keys(s.said)) {
		if _, ok := known[text]; !ok {
			out = append(out, Finding{TextsFile, strconv.Quote(text) + " is missing: go test ./cmd/internal/rules -update"})
		}
	}
	for _, text := range slices.Sorted(maps.Keys(known)) {
		if !s.said[text] {
			out = append(out, Finding{TextsFile, strconv.Quote(text) + " is used no more: go test ./cmd/internal/rules -update"})
		}
	}
	return out, nil
}

// Spoken returns every text of the window, in order.
func Spoken(m *Module) []string { return slices.Sorted(maps.Keys(speakersOf(m).said)) }

// speakers is what the speaking folders say.
type speakers struct {
	m      *Module
	files  []*File
	consts map[string]ast.Expr // by folder, a dot and the name
	said   map[string]bool     // texts that come from the catalogue
	judged map[ast.Node]bool   // literals that need no more looking at
	wrong  []Finding           // calls of the catalogue that cannot work
}

func speakersOf(m *Module) *speakers {
	s := &speakers{m: m, consts: map[string]ast.Expr{}, said: map[string]bool{}, judged: map[ast.Node]bool{}}
	for _, f := range m.code() {
		if slices.Contains(speaking, f.Dir) || calculates(f.Dir) {
			s.files = append(s.files, f)
		}
		s.gather(f)
	}
	if slices.Contains(m.Paths, "gui/field/words.go") {
		for _, text := range field.Said() {
			if letters.MatchString(text) {
				s.said[text] = true
			}
		}
	}
	for _, f := range s.files {
		s.silence(f)
		if slices.Contains(wordy, f.Path) {
			s.learn(f)
		}
		ast.Inspect(f.Syntax, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				s.hear(f, call)
			}
			return true
		})
	}
	return s
}

// calculates reports whether sentences and errors of a folder reach the window.
func calculates(dir string) bool {
	if _, ok := silent[dir]; ok && dir != "geom/say" {
		return false
	}
	return slices.ContainsFunc(calculating, func(above string) bool { return dir == above || strings.HasPrefix(dir, above+"/") })
}

// saying are the functions that take a text for the catalogue, and whether it is
// a format. Read-only.
var saying = map[string]bool{
	"phrase.Of": false, "phrase.F": true,
	"say.Of": false, "say.F": true, "say.New": false, "say.Errorf": true,
}

// gather notes the constants of a file.
func (s *speakers) gather(f *File) {
	for _, d := range f.Syntax.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST {
			continue
		}
		for _, spec := range g.Specs {
			v := spec.(*ast.ValueSpec)
			for i, value := range v.Values {
				s.consts[f.Dir+"."+v.Names[i].Name] = value
			}
		}
	}
}

// learn notes the words of a file.
func (s *speakers) learn(f *File) {
	for _, d := range f.Syntax.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.CONST && g.Tok != token.VAR {
			continue
		}
		ast.Inspect(g, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING && !s.judged[l] && letters.MatchString(literal(l)) {
				s.said[literal(l)], s.judged[l] = true, true
			}
			return true
		})
	}
}

// hear notes the text that a call of the catalogue asks for, or what is wrong
// with the call.
func (s *speakers) hear(f *File, call *ast.CallExpr) {
	name := callee(call)
	if f.Dir == "geom/say" && f.Syntax.Name.Name == "say" {
		name = "say." + name
	}
	format, ok := saying[name]
	if !ok || len(call.Args) == 0 {
		return
	}
	text, ok := s.constant(f, call.Args[0])
	switch {
	case !ok:
		s.wrong = append(s.wrong, s.m.at(call.Pos(), "the catalogue cannot know a text that is made while it runs: write it out here"))
	case format && !call.Ellipsis.IsValid() && len(phrase.Verbs(text)) != len(call.Args)-1:
		s.wrong = append(s.wrong, s.m.at(call.Pos(), "%q has other verbs than it gets arguments", text))
	case !format || say.Worded(text):
		s.said[text] = true
	}
}

// constant returns the value of literals and constants joined by +.
func (s *speakers) constant(f *File, e ast.Expr) (string, bool) {
	switch x := e.(type) {
	case *ast.BasicLit:
		s.judged[x] = true
		return literal(x), x.Kind == token.STRING
	case *ast.ParenExpr:
		return s.constant(f, x.X)
	case *ast.Ident:
		value, ok := s.consts[f.Dir+"."+x.Name]
		if !ok {
			return "", false
		}
		return s.constant(f, value)
	case *ast.SelectorExpr:
		from, ok := x.X.(*ast.Ident)
		if !ok {
			return "", false
		}
		for _, above := range []string{"gui/", "geom/", "thermal/", ""} {
			if value, ok := s.consts[above+from.Name+"."+x.Sel.Name]; ok {
				return s.constant(f, value)
			}
		}
		return "", false
	case *ast.BinaryExpr:
		left, ok := s.constant(f, x.X)
		right, also := s.constant(f, x.Y)
		return left + right, ok && also && x.Op == token.ADD
	}
	return "", false
}

// bare finds the texts that are shown without the catalogue.
func (s *speakers) bare() []Finding {
	var out []Finding
	for _, f := range s.files {
		if data[f.Path] != "" {
			continue
		}
		words := s.words(f)
		ast.Inspect(f.Syntax, func(n ast.Node) bool {
			x, ok := n.(*ast.BasicLit)
			if ok && x.Kind == token.STRING && !s.judged[x] && asIs[literal(x)] == "" && (words[x] || prose.MatchString(literal(x))) {
				out = append(out, s.m.at(x.Pos(), "%q is shown but not in the catalogue: phrase.Of or phrase.F", literal(x)))
			}
			return true
		})
	}
	return out
}

// words are the single words of a file that are shown as they stand.
func (s *speakers) words(f *File) map[*ast.BasicLit]bool {
	out := map[*ast.BasicLit]bool{}
	ast.Inspect(f.Syntax, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || !shown.MatchString(callee(call)) {
			return true
		}
		for _, a := range call.Args {
			if l, ok := a.(*ast.BasicLit); ok && letters.MatchString(literal(l)) && !strings.Contains(literal(l), "_") { // names of columns for programs
				out[l] = true
			}
		}
		return true
	})
	return out
}

// literal returns the value of a literal, "" if it is no text.
func literal(l *ast.BasicLit) string {
	text, err := strconv.Unquote(l.Value)
	if err != nil {
		return ""
	}
	return text
}

// silence marks the literals of a file that nobody is shown as they stand.
func (s *speakers) silence(f *File) {
	out := s.judged
	ast.Inspect(f.Syntax, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec:
			out[x.Path] = true
		case *ast.Field:
			mark(x.Tag, out)
		case *ast.CaseClause:
			for _, e := range x.List {
				mark(e, out)
			}
		case *ast.BinaryExpr:
			if x.Op == token.EQL || x.Op == token.NEQ {
				mark(x.X, out)
				mark(x.Y, out)
			}
		case *ast.KeyValueExpr:
			if k, ok := x.Key.(*ast.Ident); ok && k.Name == "Key" { // what programs know it by
				markAll(x.Value, out)
			}
		case *ast.IndexExpr:
			mark(x.Index, out)
		case *ast.CompositeLit:
			markKeys(x, out)
		case *ast.CallExpr:
			if unspoken.MatchString(callee(x)) {
				for _, a := range x.Args {
					mark(a, out)
				}
			}
			if callee(x) == "panic" { // a promise of our own that is broken
				markAll(x, out)
			}
		}
		return true
	})
}

// markKeys marks the keys of a map.
func markKeys(x *ast.CompositeLit, out map[ast.Node]bool) {
	if _, isMap := x.Type.(*ast.MapType); !isMap {
		return
	}
	for _, e := range x.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			mark(kv.Key, out)
		}
	}
}

// markAll marks the literals of an expression.
func markAll(e ast.Node, out map[ast.Node]bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		mark(n, out)
		return true
	})
}

// mark marks a literal.
func mark(n ast.Node, out map[ast.Node]bool) {
	if l, ok := n.(*ast.BasicLit); ok && l != nil {
		out[l] = true
	}
}

// callee names the function that a call calls: package.Name or Name.
func callee(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return x.Name + "." + f.Sel.Name
		}
		return f.Sel.Name
	}
	return ""
}
