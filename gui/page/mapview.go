package page

import (
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/drop"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// MapView is the map of drop against fore-aft shift with what it says.
type MapView struct {
	widget.BaseWidget
	Plot    *MapPlot
	Start   *widget.Button
	Stop    *widget.Button
	says    *widget.Label
	here    *widget.Label
	regions *widget.Label
	content fyne.CanvasObject
}

// NewMapView returns an empty map.
func NewMapView(host Host) *MapView {
	v := &MapView{says: sentence(), here: aside(""), regions: aside("")}
	v.Plot = NewMapPlot(host.PreviewStand)
	v.Start = widget.NewButton(phrase.Of("Draw the map"), func() { host.Map(true) })
	v.Stop = widget.NewButton(phrase.Of("Stop"), func() { host.Map(false) })
	keys := container.NewHBox(v.Start, v.Stop)
	below := container.NewVBox(v.regions, aside(phrase.Of("Green: all holds, the deeper the more room. Hatched: a limit is passed. Cross-hatched: parts overlap. A click previews the place.")))
	v.content = Border(container.NewVBox(v.says, Border(nil, nil, nil, keys, v.here)), below, nil, nil, v.Plot)
	v.ExtendBaseWidget(v)
	return v
}

// shownRegions is how many limits are named below the map.
const shownRegions = 6

// Update shows a state.
func (v *MapView) Update(s *desk.State) {
	p := desk.MapPageOf(s)
	was := v.says.Text + v.here.Text
	say(v.says, p.Says)
	say(v.here, p.Here)
	if was != v.says.Text+v.here.Text {
		relay(v.content) // both wrap
	}
	enable(v.Start, p.CanStart)
	enable(v.Stop, p.Running)
	var lines []string
	for i, r := range p.Regions {
		if i == shownRegions {
			lines = append(lines, phrase.F("and %d more", len(p.Regions)-i))
			break
		}
		lines = append(lines, fmt.Sprintf("%d %s", r.Number, r.Limit))
	}
	say(v.regions, strings.Join(lines, "; "))
	v.Plot.Set(p.Map, p.Regions, desk.Stand{DropMM: s.DropMM, ShiftMM: s.ShiftMM})
}

// CreateRenderer is the toolkit's.
func (v *MapView) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(v.content) }

// MapPlot draws a map with its axes, the numbers of its regions and a cross
// where the group is previewed. A tap goes to OnPick.
type MapPlot struct {
	widget.BaseWidget
	OnPick  func(at desk.Stand)
	m       *drop.Map
	regions []desk.MapRegion
	at      desk.Stand
	image   *image.NRGBA
}

// NewMapPlot returns an empty plot.
func NewMapPlot(onPick func(at desk.Stand)) *MapPlot {
	p := &MapPlot{OnPick: onPick}
	p.ExtendBaseWidget(p)
	return p
}

// cellPx is how many points of the picture a place has: the hatch needs some.
const cellPx = 12

// Set shows a map, nil for none.
func (p *MapPlot) Set(m *drop.Map, regions []desk.MapRegion, at desk.Stand) {
	if p.m == m && p.at == at {
		return
	}
	if p.m != m {
		p.image = nil
		if m != nil {
			p.image = desk.MapPicture(m, cellPx)
		}
	}
	p.m, p.regions, p.at = m, regions, at
	p.Refresh()
}

// MinSize is the toolkit's.
func (p *MapPlot) MinSize() fyne.Size {
	text := sizeOf(p, fynetheme.SizeNameCaptionText)
	if large() { // so that the axis below it stays in sight
		return fyne.NewSize(20*text, 12*text)
	}
	return fyne.NewSize(20*text, 16*text)
}

// frame returns where the picture stands.
func (p *MapPlot) frame() (left, top, width, height float32) {
	text := sizeOf(p, fynetheme.SizeNameCaptionText)
	left, top = 4*text, 1.8*text
	return left, top, max(1, p.Size().Width-left-text), max(1, p.Size().Height-top-2.2*text)
}

// Tapped previews the place under the pointer.
func (p *MapPlot) Tapped(e *fyne.PointEvent) {
	left, top, width, height := p.frame()
	if p.m == nil || p.OnPick == nil {
		return
	}
	x, y := (e.Position.X-left)/width, (e.Position.Y-top)/height
	if x < 0 || x >= 1 || y < 0 || y >= 1 {
		return
	}
	row, col := int(x*float32(len(p.m.ShiftsMM))), int(y*float32(len(p.m.DropsMM)))
	p.OnPick(desk.Stand{DropMM: p.m.DropsMM[col], ShiftMM: p.m.ShiftsMM[row]})
}

// CreateRenderer is the toolkit's.
func (p *MapPlot) CreateRenderer() fyne.WidgetRenderer {
	r := &mapRenderer{plot: p}
	r.of, r.redraw = p, r.Refresh
	r.Refresh()
	return r
}

type mapRenderer struct {
	drawing
	plot *MapPlot
}

func (r *mapRenderer) Refresh() {
	p := r.plot
	r.objects = nil
	if p.m == nil || r.size.Width < 60 {
		return
	}
	left, top, width, height := p.frame()
	picture := canvas.NewImageFromImage(p.image)
	picture.ScaleMode = canvas.ImageScalePixels
	picture.Move(fyne.NewPos(left, top))
	picture.Resize(fyne.NewSize(width, height))
	r.objects = append(r.objects, picture)
	r.axes(left, top, width, height)
	text := sizeOf(p, fynetheme.SizeNameCaptionText)
	for i, region := range p.regions {
		if i == shownRegions {
			break
		}
		x := left + width*(float32(region.Row)+0.5)/float32(len(p.m.ShiftsMM))
		y := top + height*(float32(region.Col)+0.5)/float32(len(p.m.DropsMM))
		r.badge(fmt.Sprint(region.Number), x, y, text)
	}
	r.cross(left, top, width, height)
}

// badge writes the number of a region on a plate.
func (r *mapRenderer) badge(number string, x, y, text float32) {
	plate := canvas.NewRectangle(colorOf(r.plot, fynetheme.ColorNameBackground))
	plate.CornerRadius = text / 3
	plate.Move(fyne.NewPos(x-0.7*text, y-0.75*text))
	plate.Resize(fyne.NewSize(1.4*text, 1.5*text))
	r.objects = append(r.objects, plate)
	width := fyne.MeasureText(number, text, fyne.TextStyle{Bold: true}).Width
	r.put(number, x-width/2, y-0.7*text, true)
}

// axes writes the values along both sides.
func (r *mapRenderer) axes(left, top, width, height float32) {
	p := r.plot
	text := sizeOf(p, fynetheme.SizeNameCaptionText)
	r.put(phrase.Of("drop, downwards, and shift, rearward to the right, in mm"), 0, 0, true)
	shifts, drops := p.m.ShiftsMM, p.m.DropsMM
	for _, v := range ticks(shifts[0], shifts[len(shifts)-1], int(width/(4.5*text))) {
		label := tickText(v)
		x := left + width*placeOf(shifts, v)
		r.put(label, x-fyne.MeasureText(label, text, fyne.TextStyle{}).Width/2, top+height+text/4, false)
	}
	for _, v := range ticks(drops[0], drops[len(drops)-1], int(height/(2.2*text))) {
		label := tickText(v)
		r.put(label, left-fyne.MeasureText(label, text, fyne.TextStyle{}).Width-text/3, top+height*placeOf(drops, v)-0.65*text, false)
	}
}

// placeOf returns where a value of an axis lies in the picture, 0..1: places
// have a width, and their values stand in their middles. Bare numbers: mm.
func placeOf(values []float64, v float64) float32 {
	n := float64(len(values))
	return float32(((v-values[0])/(values[len(values)-1]-values[0])*(n-1) + 0.5) / n)
}

// cross marks where the group is previewed.
func (r *mapRenderer) cross(left, top, width, height float32) {
	p := r.plot
	x, y := left+width*placeOf(p.m.ShiftsMM, p.at.ShiftMM), top+height*placeOf(p.m.DropsMM, p.at.DropMM)
	if x < left || x > left+width || y < top || y > top+height {
		return
	}
	ink := colorOf(p, fynetheme.ColorNameForeground)
	for _, ends := range [][2]fyne.Position{
		{fyne.NewPos(max(left, x-14), y), fyne.NewPos(min(left+width, x+14), y)},
		{fyne.NewPos(x, max(top, y-14)), fyne.NewPos(x, min(top+height, y+14))},
	} {
		l := canvas.NewLine(ink)
		l.StrokeWidth, l.Position1, l.Position2 = 2.4, ends[0], ends[1]
		r.objects = append(r.objects, l)
	}
}

func (r *mapRenderer) put(text string, x, y float32, bold bool) {
	t := canvas.NewText(text, colorOf(r.plot, fynetheme.ColorNameForeground))
	t.TextSize, t.TextStyle.Bold = sizeOf(r.plot, fynetheme.SizeNameCaptionText), bold
	t.Move(fyne.NewPos(x, y))
	t.Resize(t.MinSize())
	r.objects = append(r.objects, t)
}
