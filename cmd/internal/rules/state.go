package rules

import (
	"errors"
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
	"strings"
)

// readOnlyMark, in the comment of a package variable, says that nobody writes it.
const readOnlyMark = "Read-only."

// State finds init functions and package variables that could change: all but
// error sentinels, embedded files and tables marked "Read-only." that no line
// of their package writes to.
func State(m *Module) []Finding {
	var out []Finding
	for _, files := range m.byDir() {
		for _, f := range files {
			for _, decl := range f.Syntax.Decls {
				switch d := decl.(type) {
				case *ast.FuncDecl:
					if d.Name.Name == "init" && d.Recv == nil {
						out = append(out, m.at(d.Pos(), "init hides work: call it from where it is needed"))
					}
				case *ast.GenDecl:
					out = append(out, m.variables(d)...)
				}
			}
		}
		out = append(out, m.writes(files)...)
	}
	return out
}

// byDir groups the non-test files by folder, in path order.
func (m *Module) byDir() [][]*File {
	var out [][]*File
	for _, f := range m.code() {
		if n := len(out); n > 0 && out[n-1][0].Dir == f.Dir {
			out[n-1] = append(out[n-1], f)
			continue
		}
		out = append(out, []*File{f})
	}
	return out
}

func (m *Module) variables(d *ast.GenDecl) []Finding {
	if d.Tok != token.VAR {
		return nil
	}
	var out []Finding
	for _, s := range d.Specs {
		spec := s.(*ast.ValueSpec)
		text := d.Doc.Text() + spec.Doc.Text() + spec.Comment.Text()
		if strings.Contains(text, readOnlyMark) || isEmbed(d.Doc) || isEmbed(spec.Doc) {
			continue
		}
		for i, name := range spec.Names {
			if name.Name == "_" || i < len(spec.Values) && isSentinel(name.Name, spec.Values[i]) {
				continue
			}
			out = append(out, m.at(name.Pos(), "package variable %s: no mutable ones; a table says %q in its comment", name.Name, readOnlyMark))
		}
	}
	return out
}

func isEmbed(doc *ast.CommentGroup) bool {
	if doc == nil {
		return false
	}
	for _, c := range doc.List {
		if strings.HasPrefix(c.Text, "//go:embed ") {
			return true
		}
	}
	return false
}

// isSentinel reports whether a variable is an error that callers compare with.
func isSentinel(name string, value ast.Expr) bool {
	call, ok := value.(*ast.CallExpr)
	if !ok || !strings.HasPrefix(name, "Err") && !strings.HasPrefix(name, "err") {
		return false
	}
	fn, ok := call.Fun.(*ast.SelectorExpr)
	return ok && (fn.Sel.Name == "New" || fn.Sel.Name == "Errorf")
}

// writes finds assignments to package variables. The package is type-checked
// without its imports: enough to tell a package variable from a local one.
func (m *Module) writes(files []*File) []Finding {
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Error: func(error) {}, Importer: noImports{}}
	syntax := make([]*ast.File, len(files))
	for i, f := range files {
		syntax[i] = f.Syntax
	}
	// The error is always there, because no import is resolved.
	pkg, _ := config.Check(files[0].Dir, m.Fset, syntax, info)
	var out []Finding
	check := func(target ast.Expr) {
		id := root(target)
		if id == nil {
			return
		}
		if v, ok := info.Uses[id].(*types.Var); ok && v.Parent() == pkg.Scope() {
			out = append(out, m.at(target.Pos(), "writes to package variable %s", id.Name))
		}
	}
	for _, f := range syntax {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				for _, target := range n.Lhs {
					check(target)
				}
			case *ast.IncDecStmt:
				check(n.X)
			}
			return true
		})
	}
	return out
}

type noImports struct{}

func (noImports) Import(string) (*types.Package, error) {
	return nil, errors.New("imports are not resolved")
}

// root returns the variable that x[i].f and the like belong to.
func root(e ast.Expr) *ast.Ident {
	for {
		switch x := e.(type) {
		case *ast.Ident:
			return x
		case *ast.IndexExpr:
			e = x.X
		case *ast.SelectorExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		case *ast.ParenExpr:
			e = x.X
		default:
			return nil
		}
	}
}

// Chance finds what makes a calculation differ from run to run: the clock in
// geom, thermal and gui/report, and random numbers from a shared source
// anywhere.
func Chance(m *Module) []Finding {
	var out []Finding
	for _, f := range m.code() {
		names := importNames(f.Syntax)
		ast.Inspect(f.Syntax, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			id, ok := sel.X.(*ast.Ident)
			if !ok {
				return true
			}
			if what := chanceFault(f.Dir, names[id.Name], sel.Sel.Name); what != "" {
				out = append(out, m.at(sel.Pos(), "%s", what))
			}
			return true
		})
	}
	return out
}

func chanceFault(dir, pkg, name string) string {
	switch pkg {
	case "time":
		switch name {
		case "Now", "Since", "Until":
			if isComputing(dir) {
				return "time." + name + ": a calculation has no clock; the caller hands the date in"
			}
		}
	case "math/rand":
		return "math/rand: use math/rand/v2 with rand.NewPCG(seed, i)"
	case "math/rand/v2":
		switch name {
		case "New", "NewPCG", "Rand", "PCG", "Source":
		default:
			return "rand." + name + " draws from a shared source: use rand.New(rand.NewPCG(seed, i))"
		}
	}
	return ""
}

func isComputing(dir string) bool {
	for _, top := range []string{"geom", "thermal", "gui/report"} {
		if dir == top || strings.HasPrefix(dir, top+"/") {
			return true
		}
	}
	return false
}

// importNames maps the name a file uses to the path it imports.
func importNames(f *ast.File) map[string]string {
	out := map[string]string{}
	for _, spec := range f.Imports {
		target, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue
		}
		name := target[strings.LastIndexByte(target, '/')+1:]
		if target == "math/rand/v2" {
			name = "rand"
		}
		if spec.Name != nil {
			name = spec.Name.Name
		}
		out[name] = target
	}
	return out
}
