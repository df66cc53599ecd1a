package page

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// poseNames name the fields of the form, in their order. Read-only.
var poseNames = [6]string{"x", "y", "z", "x", "y", "z"}

// faultsWords are what the button for faults says, by whether they are marked.
// Read-only.
var faultsWords = map[bool]string{false: phrase.Of("Show where the mesh is faulty"), true: phrase.Of("Hide the marks")}

// PartForm describes one part and lets its pose be typed.
type PartForm struct {
	widget.BaseWidget
	host        Host
	name, facts *widget.Label
	Fields      [6]*widget.Entry
	fault       *widget.Label
	Place       *widget.Button
	Faults      *widget.Button // marks what is wrong with the mesh
	part        desk.PartText
	state       *desk.State
	typed       bool
	telling     bool
	content     *fyne.Container
	hint        *widget.Label
	fields      *fyne.Container
}

// NewPartForm returns an empty form.
func NewPartForm(host Host) *PartForm {
	f := &PartForm{host: host, name: sentence(), facts: aside(""), fault: sentence()}
	f.name.TextStyle.Bold = true
	f.fault.Importance = widget.DangerImportance
	f.fault.Hide()
	f.fields = container.NewVBox()
	for k := range f.Fields {
		if k%3 == 0 {
			f.fields.Add(aside([]string{phrase.Of("move in mm: x rearward, y right, z up"), phrase.Of("turn in °: about x, then y, then z")}[k/3]))
			f.fields.Add(container.NewGridWithColumns(3))
		}
		e := widget.NewEntry()
		e.SetPlaceHolder(poseNames[k])
		e.OnChanged = func(string) { f.typed = f.typed || !f.telling; f.check() }
		e.OnSubmitted = func(string) { f.submit() }
		f.Fields[k] = e
		f.fields.Objects[len(f.fields.Objects)-1].(*fyne.Container).Add(e)
	}
	f.Place = widget.NewButton(phrase.Of("Place it there"), f.submit)
	f.Place.Disable()
	f.Faults = widget.NewButton("", func() {
		part := f.part.Name
		host.Look(func(a *desk.Attention) { a.Faults, a.Finding = !a.Faults, "" })
		host.Fly(Flight{Parts: []string{part}})
	})
	all := widget.NewButton(phrase.Of("Edit all about it…"), func() {
		if f.state != nil {
			host.Edit(desk.PathOfPart(f.state.Doc, f.part.Name))
		}
	})
	f.content = container.NewVBox(f.name, f.facts, f.Faults, f.fields, f.fault, f.Place, all)
	f.content.Hide()
	f.hint = aside(phrase.Of("Click a part in the scene or in the list to see and place it. Drag turns the scene, the wheel zooms."))
	f.ExtendBaseWidget(f)
	return f
}

// read returns what is typed and the first fault.
func (f *PartForm) read() (moveMM, turnDeg geom.Vec, fault string) {
	var fields [6]string
	for k, e := range f.Fields {
		fields[k] = e.Text
	}
	moveMM, turnDeg, faults := desk.ParsePose(fields)
	for k, text := range faults {
		if text != "" {
			return moveMM, turnDeg, poseNames[k] + ": " + text
		}
	}
	return moveMM, turnDeg, ""
}

// check says at once what cannot be read.
func (f *PartForm) check() {
	if f.telling {
		return
	}
	moveMM, turnDeg, fault := f.read()
	say(f.fault, fault)
	enable(f.Place, fault == "" && (moveMM != f.part.MoveMM || turnDeg != f.part.TurnDeg))
}

func (f *PartForm) submit() {
	moveMM, turnDeg, fault := f.read()
	if fault != "" {
		say(f.fault, fault)
		return
	}
	f.typed = false
	f.telling = true
	for _, e := range f.Fields {
		e.SetText(e.Text) // forgets the steps of typing: undo is the layout's now
	}
	f.telling = false
	f.host.Pose(f.part.Name, moveMM, turnDeg, func(err error) { say(f.fault, phrase.Err(err)) })
}

// Update describes the selected part.
func (f *PartForm) Update(s *desk.State, a *desk.Attention) {
	f.state = s
	name := ""
	if len(a.Selected) > 0 {
		name = a.Selected[0]
	}
	t, ok := desk.PartTextOf(s, name)
	if !ok {
		f.part = desk.PartText{}
		f.content.Hide()
		f.hint.Show()
		return
	}
	if t.Name != f.part.Name {
		f.typed = false
		say(f.fault)
	}
	moved := t.Pose != f.part.Pose
	f.part = t
	f.content.Show()
	f.hint.Hide()
	say(f.name, t.Name)
	about := t.Role
	if t.Group != "" {
		about += " · group " + t.Group
	}
	say(f.facts, about, strings.Join(t.Facts, " · "))
	f.fields.Hidden, f.Place.Hidden, f.Faults.Hidden = t.Fixed, t.Fixed, !t.Faulty
	f.Faults.SetText(faultsWords[a.Faults])
	if f.typed && !moved {
		return
	}
	f.typed = false
	f.telling = true
	for k, e := range f.Fields {
		if e.Text != t.Pose[k] {
			e.SetText(t.Pose[k])
		}
	}
	f.telling = false
	f.Place.Disable()
}

// CreateRenderer is the toolkit's.
func (f *PartForm) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(f.content, f.hint))
}
