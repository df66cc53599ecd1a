package rules

import (
	"go/ast"
	"slices"
	"strings"
	"unicode"
)

// bareMark, in the doc comment of a function, type or field or on the line of
// the name itself, excuses bare numbers; the reason follows it.
const bareMark = "Bare numbers:"

// unitSuffixes are the units a name may end in. One letter counts only after a
// lower-case letter or a digit, so that "XYZ" or "ID" is no unit by accident.
// Read-only.
var unitSuffixes = []string{
	// lengths, areas, volumes, moments of volume; picture sizes
	"MM", "MM2", "MM3", "MM4", "MM5", "M", "M2", "M3", "Px", "Pt",
	// angles
	"Rad", "Deg",
	// temperatures and differences of them
	"K", "DegC", "K4",
	// heat: power, flux, film, conductivity, capacity, specific heat, diffusivity
	"W", "WM2", "WM2K", "WMK", "WK", "J", "JK", "JKgK", "M2S", "WM2K4",
	// time and motion
	"S", "Min", "Minutes", "Ms", "MS", "MS2", "Hz",
	// mass and force
	"Kg", "KgM3", "N", "NMM", "Nm", "Pa", "PaS",
	// slopes: something per unit
	"PerK", "PerMM", "PerM", "PerS", "PerRad", "PerDeg", "PerKg", "PerPx",
}

// ratios are last words of a name that need no unit because the quantity has
// none. Read-only.
var ratios = map[string]string{
	"emissivity": "radiated over black radiation, 0..1", "absorptivity": "0..1", "reflectivity": "0..1",
	"transmissivity": "0..1", "transmittance": "0..1", "reflectance": "0..1",
	"factor": "multiplies a quantity without changing its unit", "factors": "as factor",
	"scale": "as factor", "gain": "as factor", "multiple": "as factor", "multiplier": "as factor",
	"share": "part of a whole, 0..1", "shares": "as share", "fraction": "as share", "fractions": "as share",
	"ratio": "quotient of equals", "aspect": "width over height", "percent": "share times 100",
	"weight": "share in a mean", "weights": "as weight", "coverage": "share of a picture point",
	"relative": "as ratio", "tolerance": "relative one; an absolute one ends in its unit",
	"cos": "of an angle", "sin": "of an angle", "tan": "of an angle",
	"sign": "+1 or -1", "stability": "half track over CG height",
	"score": "ranks, has no unit", "confidence": "0..1", "probability": "0..1",
	"opacity": "0..1", "alpha": "opacity of a colour, 0..1", "lightness": "of a colour", "chroma": "of a colour",
	"luminance": "relative, 0..1", "contrast": "ratio of luminances", "red": "0..1", "green": "0..1", "blue": "0..1",
	"brightness": "0..1", "zoom": "as factor", "light": "of a colour, 0..1", "bright": "as light", "gloss": "as light",
	"display": "a colour as the screen takes it, 0..1", "lab": "a colour in Oklab", "cover": "share of a picture point",
	"nearness": "1 over depth, ranks what lies in front",
	"reynolds": "similarity number", "grashof": "similarity number", "rayleigh": "similarity number",
	"prandtl": "similarity number", "nusselt": "similarity number", "biot": "similarity number",
	"lateralg": "acceleration as a multiple of gravity",
}

// parameters are the bare one-letter names of mathematics: places along a
// curve, edge or triangle, 0..1. Read-only.
var parameters = []string{"t", "u", "v", "w", "s"}

// Units finds float64 fields, parameters and named results whose name does not
// end in a unit, save ratios, the parameters of mathematics and what carries
// the mark "Bare numbers:". Slices, arrays and pointers count as their element.
func Units(m *Module) []Finding {
	var out []Finding
	for _, f := range m.code() {
		excused := m.bareLines(f)
		for _, decl := range f.Syntax.Decls {
			out = append(out, m.unitsOf(decl, excused)...)
		}
	}
	return out
}

// bareLines returns the lines of a file that carry the mark.
func (m *Module) bareLines(f *File) map[int]bool {
	lines := map[int]bool{}
	for _, group := range f.Syntax.Comments {
		for _, c := range group.List {
			if strings.Contains(c.Text, bareMark) {
				lines[m.Fset.Position(c.Pos()).Line] = true
			}
		}
	}
	return lines
}

func (m *Module) unitsOf(decl ast.Decl, excused map[int]bool) []Finding {
	if isBare(docsOf(decl)) {
		return nil
	}
	var out []Finding
	ast.Inspect(decl, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.TypeSpec:
			return !isBare(n.Doc)
		case *ast.Field:
			if !holdsFloat(n.Type) || isBare(n.Doc) {
				return true
			}
			for _, name := range n.Names {
				if !HasUnit(name.Name) && !excused[m.Fset.Position(name.Pos()).Line] {
					out = append(out, m.at(name.Pos(), "%s is a float64 and does not end in its unit", name.Name))
				}
			}
		}
		return true
	})
	return out
}

// holdsFloat reports whether a type is float64, or pointers, slices or arrays
// of it.
func holdsFloat(t ast.Expr) bool {
	switch t := t.(type) {
	case *ast.Ident:
		return t.Name == "float64"
	case *ast.StarExpr:
		return holdsFloat(t.X)
	case *ast.ArrayType:
		return holdsFloat(t.Elt)
	case *ast.Ellipsis:
		return holdsFloat(t.Elt)
	}
	return false
}

// HasUnit reports whether a name says its unit or needs none.
func HasUnit(name string) bool {
	if name == "_" || slices.Contains(parameters, name) {
		return true
	}
	lower := strings.ToLower(name)
	for _, unit := range unitSuffixes {
		if len(unit) > 1 && lower == strings.ToLower(unit) || endsInUnit(name, unit) {
			return true
		}
	}
	_, last := ratios[strings.ToLower(lastWord(name))]
	_, whole := ratios[lower]
	return last || whole
}

func endsInUnit(name, unit string) bool {
	stem, ok := strings.CutSuffix(name, unit)
	if !ok || stem == "" {
		return false
	}
	if len(unit) > 1 {
		return true
	}
	before := rune(stem[len(stem)-1])
	return unicode.IsLower(before) || unicode.IsDigit(before)
}

// lastWord returns the last word of a mixed-caps name: "viewFactor" → "Factor".
func lastWord(name string) string {
	if i := strings.LastIndexFunc(name, unicode.IsUpper); i >= 0 {
		return name[i:]
	}
	return name
}

func isBare(doc *ast.CommentGroup) bool { return strings.Contains(doc.Text(), bareMark) }

// docsOf returns the doc comment of a declaration.
func docsOf(decl ast.Decl) *ast.CommentGroup {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		return d.Doc
	case *ast.GenDecl:
		return d.Doc
	}
	return nil
}
