package page

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh/plain"
	"aftbay/gui/desk"
	"aftbay/gui/theme"
)

// deskHost makes the changes at once, on a desk.
type deskHost struct {
	hostSpy
	d *desk.Desk
}

func (h *deskHost) Change(name string, tries [][]desk.Change, done func(s *desk.State, made int, err error)) {
	made, err := h.d.ChangeFirst(name, tries)
	s := h.d.State()
	done(&s, made, err)
}

func (h *deskHost) Check(changes []desk.Change, done func(err error)) {
	done(desk.CheckChanges(h.d.State().Doc, changes...))
}

func (h *deskHost) TakeOver(rule string) {
	if err := h.d.TakeOver(rule); err != nil {
		panic(err)
	}
}

// newEditorBench shows the editor of a layout of two parts.
func newEditorBench(t *testing.T) (*Editor, *deskHost, fyne.Window) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(theme.New(theme.Light))
	dir := t.TempDir()
	f, err := os.Create(dir + "/block.stl")
	if err != nil {
		t.Fatal(err)
	}
	if err := plain.Brick(geom.Vec{}, geom.Vec{100, 100, 100}).WriteSTL(f, "block"); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	doc := &layout.Document{Title: "Two", Parts: []layout.Part{{Name: "block", Role: "engine", Mesh: "block.stl"}, {Name: "lid", Role: "cover", Mesh: "block.stl", MoveMM: geom.Vec{0, 0, 120}}}}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	h := &deskHost{d: desk.New(1, nil)}
	t.Cleanup(func() { _ = h.d.Close() })
	if err := h.d.Open(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	p := NewEditor(h)
	win := test.NewTempWindow(t, p)
	win.Resize(fyne.NewSize(760, 640))
	p.see()
	return p, h, win
}

// see brings the state of the desk to the page.
func (p *Editor) see() {
	h := p.host.(*deskHost)
	s := h.d.State()
	p.Update(&s, &h.at)
}

func (p *Editor) lineAt(t *testing.T, path string) *line {
	t.Helper()
	i := slices.IndexFunc(p.lines, func(l *line) bool { return l.item.Path == path })
	if i < 0 {
		t.Fatalf("no line %q", path)
	}
	return p.lines[i]
}

// The mesh of a part is chosen as a file; what is chosen is an edit.
func TestEditorTakesAMeshFile(t *testing.T) {
	p, h, _ := newEditorBench(t)
	p.Open("/parts/1")
	folder, other := h.d.State().Path, "other.stl"
	data, err := os.ReadFile(filepath.Join(folder, h.d.State().Doc.Parts[1].Mesh))
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, other), data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	h.brings = other
	line := p.lineAt(t, "/parts/1/mesh")
	if line.button == nil || line.fields[0].Text == other {
		t.Fatalf("button %v beside %q", line.button, line.fields[0].Text)
	}
	test.Tap(line.button)
	p.see()
	if got := h.d.State().Doc.Parts[1].Mesh; got != other || line.fields[0].Text != other {
		t.Errorf("the mesh is %q, the field says %q; want %q", got, line.fields[0].Text, other)
	}
	if name := p.lineAt(t, "/parts/1/name"); name.button != nil {
		t.Error("a name has a button for a file")
	}
}

func TestEditorTypes(t *testing.T) {
	p, h, win := newEditorBench(t)
	p.Open("/parts/1")
	if h.at.Selected[0] != "lid" {
		t.Errorf("selected %v: the scene must show what is edited", h.at.Selected)
	}
	mass := p.lineAt(t, "/parts/1/mass_kg")
	win.Canvas().Focus(mass.fields[0])
	test.Type(mass.fields[0], "-2")
	if mass.fault.Hidden || !strings.Contains(mass.fault.Text, "too small") {
		t.Errorf("while typing: %q", mass.fault.Text)
	}
	if h.d.State().Undo != "" {
		t.Error("nothing may be changed yet")
	}
	mass.fields[0].SetText("350 g")
	if !mass.fault.Hidden {
		t.Errorf("mended, but %q", mass.fault.Text)
	}
	win.Canvas().Unfocus() // leaving the field is enough
	p.see()
	if m := h.d.State().Doc.Parts[1].MassKg; m == nil || *m != 0.35 || mass.fields[0].Text != "0.35" {
		t.Errorf("mass %v, shown %q", m, mass.fields[0].Text)
	}
	if got := h.d.State().Undo; !strings.Contains(got, "lid") || !strings.Contains(got, "mass") {
		t.Errorf("the edit is called %q", got)
	}
	if err := h.d.Undo(); err != nil {
		t.Fatal(err)
	}
	p.see()
	if mass.fields[0].Text != "" {
		t.Errorf("after undo %q", mass.fields[0].Text)
	}
}

func TestEditorAddsAndTakesOut(t *testing.T) {
	p, h, _ := newEditorBench(t)
	p.Open("/rules")
	test.Tap(p.lineAt(t, "/rules").button)
	p.lineAt(t, "/rules/-/a").fields[0].SetText("role:engine")
	p.lineAt(t, "/rules/-/b").fields[0].SetText("part:lod")
	p.lineAt(t, "/rules/-/least_mm").fields[0].SetText("30 mm")
	p.lineAt(t, "/rules/-/state").choice.SetSelected("moving")
	p.addDraft()
	if b := p.lineAt(t, "/rules/-/b"); b.fault.Hidden || !strings.Contains(b.fault.Text, `"lid"`) {
		t.Errorf("a name that there is not: %q", b.fault.Text)
	}
	p.lineAt(t, "/rules/-/b").fields[0].SetText("part:lid")
	p.addDraft()
	want := layout.Rule{A: "role:engine", B: "part:lid", State: "moving", LeastMM: 30}
	if rules := h.d.State().Doc.Rules; len(rules) != 1 || rules[0] != want {
		t.Fatalf("%+v", rules)
	}
	p.takeOut("/rules/0")
	if len(h.d.State().Doc.Rules) != 0 {
		t.Error("the rule is still there")
	}
	p.Open("/rules")
	i := slices.IndexFunc(p.lines, func(l *line) bool { return l.item.Kind == desk.OfferLine })
	test.Tap(p.lines[i].button)
	if len(h.d.State().Doc.Rules) != 1 {
		t.Error("the built-in rule was not taken over")
	}
}

func TestEditorSections(t *testing.T) {
	p, h, _ := newEditorBench(t)
	p.Open("/parts/0")
	test.Tap(p.lineAt(t, "/parts/0/growth").button)
	for path, text := range map[string]string{"per_K": "1.78e-5", "from_degC": "20", "to_degC": "650"} {
		l := p.lineAt(t, "/parts/0/growth/"+path)
		l.fields[0].SetText(text)
		l.fields[0].FocusLost()
	}
	at := p.lineAt(t, "/parts/0/growth/anchor_mm")
	for k, text := range []string{"1", "2", "3"} {
		at.fields[k].SetText(text)
	}
	at.fields[2].FocusLost()
	if g := h.d.State().Doc.Parts[0].Growth; g == nil || g.AnchorMM != (geom.Vec{1, 2, 3}) || g.ToDegC != 650 {
		t.Fatalf("%+v", g)
	}
	p.see()
	test.Tap(p.lineAt(t, "/parts/0/growth").button)
	if h.d.State().Doc.Parts[0].Growth != nil {
		t.Error("left out, but still there")
	}
}

// TestEditorTextsAreWhole: at the width that a small screen leaves the editor no
// label, button or unit is cut, in any section and look.
func TestEditorTextsAreWhole(t *testing.T) {
	p, _, win := newEditorBench(t)
	for _, look := range []theme.Look{theme.Light, theme.Review} {
		fyne.CurrentApp().Settings().SetTheme(theme.New(look))
		for _, node := range p.ed.Nodes("") {
			p.Open(desk.NodePath(node))
			if win.Content().MinSize().Width > 760 {
				t.Errorf("%v, %s: needs a width of %v", look, node, win.Content().MinSize().Width)
			}
		}
	}
}
