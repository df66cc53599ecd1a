package desk

import (
	"strconv"
	"strings"

	"aftbay/gui/field"
	"aftbay/gui/phrase"
)

// Form is the open object or list, ready to be laid out.
type Form struct {
	Path  string
	Title string
	Help  string
	Fault string // what speaks against the whole
	Above []Crumb
	Draft bool // not in the layout yet
	Item  bool // of a list: it can be copied, moved and taken out
	Items []FormItem
}

// Crumb is one step on the way to the open object.
type Crumb struct{ Path, Label string }

// ItemKind tells what a line of a form is.
type ItemKind int

// The kinds of lines.
const (
	FieldLine   ItemKind = iota // label, what is typed, unit, help, fault
	SectionLine                 // heads the fields of an object inside; they follow if it is given
	ListLine                    // heads the items of a list; Add makes a new one
	ItemLine                    // one item of a list: opens it
	OfferLine                   // a built-in rule that can be written into the layout
)

// FormItem is one line of a form.
type FormItem struct {
	Kind    ItemKind
	Path    string
	Spec    *field.Spec
	Depth   int
	Label   string
	Unit    string
	Help    string
	Texts   []string // of a field
	Hint    string   // in an empty field
	Fault   string
	Typed   bool // not in the layout yet
	Given   bool // of a section: the layout has it, or it was asked for
	Options []string
}

// Form describes what is open in a state.
func (e *Editor) Form(s *State) Form {
	e.See(s.Doc)
	spec := field.At(e.at)
	if s.Doc == nil || spec == nil {
		return Form{}
	}
	f := Form{Path: e.at, Title: e.titleOf(spec), Help: spec.Help, Above: e.above()}
	_, step := field.Parent(e.at)
	f.Draft = step == field.Last
	parent := field.At(parentOf(e.at))
	f.Item = parent != nil && parent.Kind == field.List && e.at != ""
	b := formBuilder{e: e, s: s}
	if spec.Kind == field.List {
		f.Help = "" // its line says it
		b.list(spec, e.at, 0)
		if e.at == "/rules" {
			b.builtIn()
		}
	} else {
		b.fields(spec, e.at, 0)
	}
	f.Items = b.items
	f.Fault = e.restFault(b.items)
	return f
}

func parentOf(path string) string {
	parent, _ := field.Parent(path)
	return parent
}

// titleOf heads the form.
func (e *Editor) titleOf(spec *field.Spec) string {
	switch _, step := field.Parent(e.at); {
	case e.at == "":
		return phrase.Of("The layout")
	case step == field.Last:
		return phrase.F("New %s", field.At(parentOf(e.at)).One)
	case spec.Key == "" || spec.Label == "":
		return itemName(e.at, spec, e.value(e.at))
	default:
		return capital(spec.Label)
	}
}

// itemName returns what an item of a list is called; one that says nothing of
// itself by its number.
func itemName(path string, s *field.Spec, value any) string {
	if name := field.Name(s, value); name != "" {
		return name
	}
	list, step := field.Parent(path)
	i, _ := strconv.Atoi(step)
	return field.At(list).One + " " + digits(i+1)
}

// above returns the way to the open object.
func (e *Editor) above() []Crumb {
	var list []Crumb
	for at := parentOf(e.at); at != ""; at = parentOf(at) {
		s := field.At(at)
		label := capital(s.Label)
		if s.Label == "" {
			label = itemName(at, s, e.value(at))
		}
		list = append([]Crumb{{at, label}}, list...)
	}
	return list
}

// restFault returns what speaks against no line in particular.
func (e *Editor) restFault(items []FormItem) string {
	shown := map[string]bool{}
	for i := range items {
		shown[items[i].Path] = true
	}
	var lines []string
	for _, path := range sortedKeys(e.faults) {
		if !shown[path] {
			line := e.faults[path]
			if where := field.Place(e.tree, path); where != "" && path != e.at {
				line = where + ": " + line
			}
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// formBuilder gathers the lines of a form.
type formBuilder struct {
	e     *Editor
	s     *State
	items []FormItem
}

func (b *formBuilder) add(i FormItem) { b.items = append(b.items, i) }

// fields adds the fields of an object: plain ones, then what lies inside.
func (b *formBuilder) fields(spec *field.Spec, at string, depth int) {
	for _, f := range spec.Fields {
		if f.Plain() && f.Kind != field.Long {
			b.field(f, at+"/"+f.Key, depth)
		}
	}
	for _, f := range spec.Fields {
		path := at + "/" + f.Key
		switch {
		case at == "" && !f.Plain(): // sections of their own
		case f.Kind == field.Object:
			b.section(f, path, depth)
		case f.Kind == field.List:
			b.list(f, path, depth)
		}
	}
	for _, f := range spec.Fields {
		if f.Kind == field.Long {
			b.field(f, at+"/"+f.Key, depth)
		}
	}
}

func (b *formBuilder) field(f *field.Spec, path string, depth int) {
	texts, typed := b.e.typed[path]
	if !typed {
		texts = field.Texts(f, b.e.value(path))
	}
	b.add(FormItem{
		Kind: FieldLine, Path: path, Spec: f, Depth: depth, Label: f.Label, Unit: f.Unit, Help: helpOf(f),
		Texts: texts, Hint: hintOf(f), Fault: b.e.faults[path], Typed: typed, Options: OptionsOf(b.s, f),
	})
}

// helpOf says what a field means; what its label says already is left out.
func helpOf(f *field.Spec) string {
	if strings.EqualFold(strings.TrimSuffix(f.Help, "."), f.Label) {
		return ""
	}
	return f.Help
}

// hintOf says what an empty field means.
func hintOf(f *field.Spec) string {
	switch {
	case f.Required:
		return phrase.Of("must be given")
	case f.Kind == field.Numbers:
		return ""
	case f.Zero:
		return "0"
	}
	return phrase.Of("not given")
}

// mostItems is how many items of a list a form shows: more would be slow to lay
// out.
const mostItems = 100

// section adds an object inside with its fields, if it is given.
func (b *formBuilder) section(f *field.Spec, path string, depth int) {
	given := b.e.value(path) != nil || b.e.opened[path]
	for p := range b.e.typed {
		given = given || field.Under(p, path)
	}
	b.add(FormItem{
		Kind: SectionLine, Path: path, Spec: f, Depth: depth, Label: capital(f.Label), Help: helpOf(f),
		Given: given, Fault: b.e.faults[path],
	})
	if given {
		b.fields(f, path, depth+1)
	}
}

// list adds the items of a list.
func (b *formBuilder) list(f *field.Spec, path string, depth int) {
	items, _ := b.e.value(path).([]any)
	label := capital(f.Label)
	if n := len(items); n > 0 {
		label += " (" + digits(n) + ")"
	}
	help := helpOf(f)
	if len(items) > mostItems {
		help += phrase.Of(" The first ") + digits(mostItems) + phrase.Of(" are shown here, all of them in the list at the left.")
	}
	b.add(FormItem{Kind: ListLine, Path: path, Spec: f, Depth: depth, Label: label, Help: help, Fault: b.e.faults[path]})
	for i, v := range items[:min(len(items), mostItems)] {
		at := path + "/" + digits(i)
		line := FormItem{Kind: ItemLine, Path: at, Spec: f.Of, Depth: depth + 1, Label: itemName(at, f.Of, v)}
		if line.Help = field.Summary(f.Of, v); line.Help == line.Label {
			line.Help = ""
		}
		line.Help = strings.TrimPrefix(line.Help, line.Label+", ")
		b.add(line)
	}
}

func digits(n int) string { return strconv.Itoa(n) }
