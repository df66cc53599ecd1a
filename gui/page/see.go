package page

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// See is the page of "Can the driver see?": what each eye sees in the mirror,
// who hides how much, and the lines of sight from the side.
type See struct {
	widget.BaseWidget
	host    Host
	says    *widget.Label
	detail  *widget.Label
	more    *widget.Label
	notes   *widget.Label
	Mirror  [2]*still
	eyes    *fyne.Container
	Section *still
	List    *Listing
	Grid    *Grid // of List
	Decides *Decision
	content fyne.CanvasObject
	state   *desk.State
	told    told[seeOf]
}

// seeOf is what the words of the page are of.
type seeOf struct {
	listed
	fresh, rough bool
	err          error
}

// sectionHigh is the height of the section's picture; those of the mirror grow
// with the letters: at the desk they stand one above the other, on a wall side by
// side.
const sectionHigh, deskMirror, wallMirror = 170, 7, 5.4

func mirrorHigh() float32 {
	letters := fynetheme.Size(fynetheme.SizeNameText)
	if large() {
		return wallMirror * letters
	}
	return deskMirror * letters
}

// NewSee returns the page.
func NewSee(host Host) *See {
	p := &See{host: host, says: sentence(), detail: sentence(), more: sentence(), notes: aside(""), Decides: NewDecision(host)}
	p.detail.Hide()
	p.List = NewListing(host, "see", func(row desk.Row) {
		host.Look(func(a *desk.Attention) { desk.LookAtSight(a, row) })
		if flight, ok := findingFlight(p.state, row.Key); ok {
			host.Fly(flight)
		} else if len(row.Parts) > 0 {
			host.Fly(Flight{Parts: row.Parts})
		}
	})
	p.Grid = p.List.Grid
	p.Section = newStill(phrase.Of("The lines of sight from the left, through the middle of the car"), sectionHigh)
	for k := range p.Mirror {
		p.Mirror[k] = newStill(desk.EyeNames[k], mirrorHigh())
	}
	p.eyes = container.New(&pair{}, p.Mirror[0].all, p.Mirror[1].all)
	top := container.NewVBox(Border(nil, nil, nil, p.List.Find, heading(phrase.Of("Can the driver see?"))), p.says)
	p.List.Head = top
	lower := container.NewVScroll(container.NewVBox(p.detail, p.eyes, p.Section.all, p.more, p.Decides, p.notes))
	split := container.NewVSplit(p.List, lower)
	split.SetOffset(0.5)
	p.content = Border(top, nil, nil, nil, split)
	p.told.lays = p.content
	p.ExtendBaseWidget(p)
	return p
}

// Update shows a state.
func (p *See) Update(s *desk.State, a *desk.Attention) {
	p.state = s
	p.Grid.Choose(desk.SightKey(a))
	seen, finding := &s.Answers.Seen, a.Finding
	of := seeOf{listed{seen: idOf(seen.Value), of: idOf(s.Answers.Fit.Value), drop: idOf(s.Doc), which: finding}, seen.Fresh, seen.Rough, seen.Err}
	p.told.ask(p.host, "see", of, func() func() {
		table, says, notes := desk.SightPage(s)
		more, detail := desk.SightMore(s), desk.FindingText(s, finding)
		return func() {
			say(p.says, says...)
			say(p.notes, notes...)
			say(p.more, more...)
			say(p.detail, detail...)
			p.List.Fill(listed{seen: of.seen, of: of.of}, "", func() (desk.Table, string) { return desk.SightList(table), "" })
		}
	})
	key := desk.SightDecision(s, a)
	p.Decides.Update(s, key, key != "" && (!large() || a.Finding != ""))
	v := s.Answers.Seen.Value
	if v == nil {
		v = &desk.Seen{}
	}
	for k := range p.Mirror {
		p.Mirror[k].picture.SetMinSize(fyne.NewSize(60, mirrorHigh()))
		p.Mirror[k].show(v.Mirror[k])
	}
	section := v.Section
	if large() { // the scene has it too
		section = nil
	}
	p.Section.show(section)
}

// Leave is of every page.
func (p *See) Leave() { p.state = noState() }

// Resize is the toolkit's.
func (p *See) Resize(size fyne.Size) {
	eyes := p.eyes.Layout.(*pair)
	was := eyes.beside
	p.BaseWidget.Resize(size)
	if eyes.beside != was {
		relay(p.content)
	}
}

// pair lays two objects side by side where that leaves both room, else one above
// the other.
type pair struct{ beside bool }

// leastBeside is the least width of each of two pictures side by side.
const leastBeside = 270

// Layout is the toolkit's.
func (l *pair) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.beside = size.Width >= 2*leastBeside
	if l.beside {
		layout.NewGridLayoutWithColumns(len(objects)).Layout(objects, size)
	} else {
		layout.NewVBoxLayout().Layout(objects, size)
	}
}

// MinSize is the toolkit's.
func (l *pair) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := layout.NewVBoxLayout().MinSize(objects)
	if l.beside {
		size.Height = layout.NewGridLayoutWithColumns(len(objects)).MinSize(objects).Height
	}
	return size
}

// Step goes on in the list.
func (p *See) Step(by int) { p.Grid.Step(by) }

// CreateRenderer is the toolkit's.
func (p *See) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }

// still is a picture below its caption; without a picture it takes no room.
type still struct {
	all     *fyne.Container
	picture *canvas.Image
}

func newStill(caption string, high float32) *still {
	s := &still{picture: newPhoto()}
	s.picture.SetMinSize(fyne.NewSize(60, high))
	s.all = container.NewBorder(aside(caption), nil, nil, nil, s.picture)
	s.all.Hide()
	return s
}

// newPhoto returns a picture that is brought to its size by the display: the
// toolkit's own way takes tens of milliseconds of its goroutine for each.
func newPhoto() *canvas.Image {
	return &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleFastest}
}

// show shows an image, nil for none.
func (s *still) show(img *image.RGBA) {
	s.all.Hidden = img == nil
	if img == nil || s.picture.Image == img {
		return
	}
	s.picture.Image = img
	s.picture.Refresh()
}
