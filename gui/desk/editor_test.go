package desk

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/field"
)

// maximalState is a state with a layout that uses every key, without its files.
func maximalState(t testing.TB) *State {
	t.Helper()
	data, err := os.ReadFile("../../geom/layout/testdata/maximal.json")
	must(t, err)
	doc, err := layout.Decode(data, "maximal.json")
	must(t, err)
	return &State{Open: true, Doc: doc}
}

// TestEveryKeyHasAnEditor opens every object and list of the maximal layout by
// way of the tree and of what the forms offer: each key of the description is a
// line of some form.
func TestEveryKeyHasAnEditor(t *testing.T) {
	s := maximalState(t)
	var e Editor
	e.See(s.Doc)
	shown := map[string]bool{}
	var open func(path string)
	seen := map[string]bool{}
	open = func(path string) {
		if seen[path] {
			return
		}
		seen[path] = true
		e.Open(path)
		f := e.Form(s)
		if f.Title == "" {
			t.Errorf("%q has no title", path)
		}
		for i := range f.Items {
			item := f.Items[i]
			if strings.HasPrefix(item.Path, BuiltInRules) {
				continue
			}
			shown[pattern(item.Path)] = true
			if item.Kind == ItemLine {
				open(item.Path)
			}
			if item.Kind == SectionLine && !item.Given {
				e.Give(item.Path)
				seen[path] = false
				open(path)
			}
		}
	}
	var nodes func(node string)
	nodes = func(node string) {
		for _, n := range e.Nodes(node) {
			if e.NodeLabel(n) == "" {
				t.Errorf("node %q has no label", n)
			}
			open(NodePath(n))
			nodes(n)
		}
	}
	nodes("")
	var walk func(f *field.Spec, path string)
	walk = func(f *field.Spec, path string) {
		if path != "" && !shown[path] && !strings.HasSuffix(path, "/-") && (strings.Count(path, "/") > 1 || f.Plain()) {
			t.Errorf("%s has no editor", path)
		}
		for _, one := range f.Fields {
			walk(one, path+"/"+one.Key)
		}
		if f.Kind == field.List {
			walk(f.Of, path+"/-")
		}
	}
	walk(field.Root(), "")
}

// pattern writes - for the numbers of a path.
func pattern(path string) string {
	steps := field.Steps(path)
	for i, step := range steps {
		if i > 0 && strings.Trim(step, "0123456789") == "" && field.At("/"+strings.Join(steps[:i], "/")).Kind == field.List {
			steps[i] = field.Last
		}
	}
	return "/" + strings.Join(steps, "/")
}

// try types into a field and puts it into the layout as the page does.
func try(t testing.TB, d *Desk, e *Editor, path string, texts ...string) error {
	t.Helper()
	if fault := e.Type(path, texts); fault != "" {
		return &layout.Fault{What: say.Of(fault)}
	}
	tries := e.Tries(path)
	if len(tries) == 0 {
		return nil
	}
	made, err := d.ChangeFirst("type", tries)
	s := d.State()
	e.See(s.Doc)
	if err == nil {
		e.Told(tries[made], nil)
		return nil
	}
	e.Told(nil, err)
	return err
}

func lineOf(t testing.TB, f *Form, path string) FormItem {
	t.Helper()
	i := slices.IndexFunc(f.Items, func(i FormItem) bool { return i.Path == path })
	if i < 0 {
		t.Fatalf("the form of %q has no line %q", f.Path, path)
	}
	return f.Items[i]
}

func TestTypingAValue(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	s := d.State()
	var e Editor
	e.See(s.Doc)
	e.Open("/parts/1")
	must(t, try(t, d, &e, "/parts/1/tolerance_mm", "1,5"))
	if got := d.State().Doc.Parts[1].ToleranceMM; got != 1.5 {
		t.Errorf("tolerance %v, want 1.5", got)
	}
	if err := try(t, d, &e, "/parts/1/tolerance_mm", "2000"); err == nil {
		t.Error("2000 is over what the reader takes")
	}
	s = d.State()
	f := e.Form(&s)
	line := lineOf(t, &f, "/parts/1/tolerance_mm")
	if !strings.Contains(line.Fault, "too large") || line.Texts[0] != "2000" || !line.Typed {
		t.Errorf("%+v", line)
	}
	must(t, d.Undo())
	s = d.State()
	f = e.Form(&s)
	if line = lineOf(t, &f, "/parts/1/tolerance_mm"); line.Texts[0] != "2000" {
		t.Errorf("what was typed is lost by undo: %+v", line)
	}
	if s.Doc.Parts[1].ToleranceMM != 0 {
		t.Error("undo took back too little")
	}
}

// TestFieldsThatFitOnlyTogether: each alone is refused and stays typed; with the
// last of them all go in at once.
func TestFieldsThatFitOnlyTogether(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	s := d.State()
	var e Editor
	e.See(s.Doc)
	e.Open("/parts/0")
	const at = "/parts/0/thermal/held_along"
	for _, typed := range [][]string{{at + "/from_mm", "0", "0", "0"}, {at + "/to_mm", "100", "0", "0"}, {at + "/from_degC", "820"}} {
		if err := try(t, d, &e, typed[0], typed[1:]...); err == nil {
			t.Errorf("%s alone was taken", typed[0])
		}
		if d.State().Doc.Parts[0].Thermal != nil {
			t.Fatal("half a line of temperatures is in the layout")
		}
	}
	s = d.State()
	f := e.Form(&s)
	if line := lineOf(t, &f, at+"/to_degC"); !strings.Contains(line.Fault, "must be given") {
		t.Errorf("what is missing is not told at its field: %+v", line)
	}
	must(t, try(t, d, &e, at+"/to_degC", "640 °C"))
	h := d.State().Doc.Parts[0].Thermal.HeldAlong
	if h == nil || h.FromDegC != 820 || h.ToDegC != 640 || e.Unsaid() {
		t.Errorf("%+v, still typed %v", h, e.Unsaid())
	}
	must(t, d.Undo())
	if d.State().Doc.Parts[0].Thermal != nil {
		t.Error("one undo takes back all that went in at once")
	}
}

func TestRenamingFollows(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	must(t, d.Edit("join", func(doc *layout.Document) error {
		doc.Joined = [][2]string{{"block", "tray"}}
		doc.Rules = []layout.Rule{{A: "part:tray", B: "role:engine", LeastMM: 5}}
		doc.Decisions = []layout.Decision{{Finding: "block ~ tray @ static"}}
		return nil
	}))
	must(t, d.Change("rename", Change{"/parts/1/name", "undertray"}))
	doc := d.State().Doc
	if doc.Joined[0][1] != "undertray" || doc.Rules[0].A != "part:undertray" || doc.Decisions[0].Finding != "block ~ undertray @ static" {
		t.Errorf("%+v %+v %+v", doc.Joined, doc.Rules, doc.Decisions)
	}
	if err := d.Change("rename", Change{"/parts/1/name", "block"}); err == nil || byPath(err)["/parts/1/name"] == "" {
		t.Errorf("a name that is taken: %v", err)
	}
	must(t, d.Change("rename", Change{"/groups/0/name", "drive"}))
	if d.State().Doc.Parts[0].Group != "drive" {
		t.Error("the group's parts are left behind")
	}
}

func TestNewItems(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	s := d.State()
	var e Editor
	e.See(s.Doc)
	e.Draft("/rules", "")
	f := e.Form(&s)
	if !f.Draft || f.Title != "New rule" {
		t.Errorf("%+v", f)
	}
	e.Type("/rules/-/a", []string{"role:engine"})
	e.Type("/rules/-/b", []string{"role:nothing at all "})
	c, ok := e.AddDraft()
	if !ok {
		t.Fatal("a rule half typed cannot be tried")
	}
	err := d.Change("add", c)
	e.Doubt(err)
	f = e.Form(&s)
	if line := lineOf(t, &f, "/rules/-/least_mm"); !strings.Contains(line.Fault, "must be given") {
		t.Errorf("%+v, %v", line, err)
	}
	e.Type("/rules/-/least_mm", []string{"12"})
	c, _ = e.AddDraft()
	must(t, d.Change("add", c))
	s = d.State()
	e.See(s.Doc)
	e.Told([]Change{c}, nil)
	if len(s.Doc.Rules) != 1 || s.Doc.Rules[0].LeastMM != 12 || e.At() != "/rules/0" || e.Unsaid() {
		t.Errorf("%+v at %q", s.Doc.Rules, e.At())
	}
	// A copy has a name of its own and starts from the other.
	e.Draft("/parts", "/parts/0")
	c, ok = e.AddDraft()
	must(t, d.Change("copy", c))
	if p := d.State().Doc.Parts[3]; !ok || p.Name != "block copy" || p.Mesh != "block.stl" || p.Group != "powertrain" {
		t.Errorf("%+v", p)
	}
	// The open item is found again where others were taken out before it.
	s = d.State()
	e.See(s.Doc)
	e.Told([]Change{c}, nil)
	e.Type(e.At()+"/mass_kg", []string{"7 lb of"})
	must(t, d.Change("take out", Change{"/parts/1", nil}))
	s = d.State()
	f = e.Form(&s)
	if f.Title != "block copy" || lineOf(t, &f, "/parts/2/mass_kg").Texts[0] != "7 lb of" {
		t.Errorf("%q at %q", f.Title, f.Path)
	}
}

// TestBuiltInRulesAreShownAndTakenOver: the built-in rules stand in the form of
// the rules; one that is taken over is the layout's own and can be changed.
func TestBuiltInRulesAreShownAndTakenOver(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	s := d.State()
	var e Editor
	e.See(s.Doc)
	e.Open("/rules")
	f := e.Form(&s)
	i := slices.IndexFunc(f.Items, func(i FormItem) bool { return i.Kind == OfferLine })
	if i < 0 {
		t.Fatal("no built-in rule is shown")
	}
	must(t, d.TakeOver(f.Items[i].Path))
	if rules := d.State().Doc.Rules; len(rules) != 1 || !strings.HasPrefix(f.Items[i].Label, rules[0].A) {
		t.Errorf("%+v, want %q", rules, f.Items[i].Label)
	}
}

// TestRandomTyping types into random fields of a layout and into new items of
// its lists: whatever comes, nothing panics, what is taken passes all checks, and
// undo leads back to the first byte.
func TestRandomTyping(t *testing.T) {
	d := atWork(t, plainLayout(t), Ask)
	d.Cancel()
	first, err := layout.Encode(d.State().Doc)
	must(t, err)
	r := rand.New(rand.NewPCG(3, 5))
	words := []string{"", "0", "12", "-3,5", "1e3", "block", "lid", "role:engine", "part:tray", "powertrain", "static", "2027-01-31", "tray.stl", "é", "\x00", "1 2 3\n4 5 6\n7 8 9", strings.Repeat("9", 400), "NaN", "shell", "1 in"}
	var e Editor
	taken := 0
	for range 250 {
		s := d.State()
		e.See(s.Doc)
		nodes := e.Nodes("")
		node := nodes[r.IntN(len(nodes))]
		if below := e.Nodes(node); len(below) > 0 && r.IntN(3) > 0 {
			node = below[r.IntN(len(below))]
		}
		e.Open(NodePath(node))
		if at := field.At(e.At()); at.Kind == field.List {
			e.Draft(e.At(), "")
		}
		f := e.Form(&s)
		for range 1 + r.IntN(6) {
			i := r.IntN(len(f.Items))
			switch item := f.Items[i]; item.Kind {
			case SectionLine:
				e.Give(item.Path)
				f = e.Form(&s)
			case FieldLine:
				texts := make([]string, len(item.Texts))
				for k := range texts {
					texts[k] = words[r.IntN(len(words))]
				}
				if len(item.Options) > 0 && r.IntN(2) == 0 {
					texts[0] = item.Options[r.IntN(len(item.Options))]
				}
				if err := try(t, d, &e, item.Path, texts...); err == nil {
					taken++
				}
			}
		}
		if c, ok := e.AddDraft(); ok && f.Draft {
			if err := d.Change("add", c); err == nil {
				taken++
			} else {
				e.Doubt(err)
			}
		}
		s = d.State()
		_ = e.Form(&s)
		if err := layout.Check(s.Doc); err != nil {
			t.Fatal(err)
		}
	}
	if taken < 60 {
		t.Errorf("only %d edits were taken: the test proves little", taken)
	}
	for d.State().Undo != "" {
		must(t, d.Undo())
	}
	last, err := layout.Encode(d.State().Doc)
	must(t, err)
	if string(first) != string(last) {
		t.Error("undo does not lead back to the first byte")
	}
}

// TestTakingOutWithWhatNamesIt: any part, route, group, case, attitude or material
// of the maximal layout can be taken out with all that names it, and what is left
// passes the checks wherever something may be left at all.
func TestTakingOutWithWhatNamesIt(t *testing.T) {
	s := maximalState(t)
	tried := 0
	for _, list := range []string{"/parts", "/routes", "/groups", "/heat/cases", "/vehicle/attitudes", "/heat/materials"} {
		var e Editor
		e.See(s.Doc)
		for _, node := range e.Nodes(list) {
			e.Open(node)
			if len(e.Named()) == 0 {
				continue
			}
			tried++
			next, err := changed(s.Doc, e.TakeOutAll())
			if err != nil {
				t.Errorf("%s: %v", node, err)
				continue
			}
			left, err := field.Tree(next)
			must(t, err)
			if kind := field.At(node).Field("name").Defines; len(field.Uses(left, kind, e.NodeLabel(node))) > 0 {
				t.Errorf("%s is still named", node)
			}
		}
	}
	if tried < 4 {
		t.Errorf("only %d were named at all", tried)
	}
}
