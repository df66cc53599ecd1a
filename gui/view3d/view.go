package view3d

import (
	"image/color"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom"
	"aftbay/geom/render"
)

// Event is a place on the view and what lies there.
type Event struct {
	Pick  render.Pick
	Hit   bool          // Pick says what; otherwise the background was hit
	At    fyne.Position // on the view
	Place fyne.Position // on the canvas, for a menu
	Add   bool          // Shift or Control is held: to add to what is selected

	From, Dir geom.Vec // the line of sight: where it starts, and its unit direction
	Modifier  fyne.KeyModifier
}

// View shows a scene. Set the callbacks before it is shown; all may be nil.
type View struct {
	widget.BaseWidget

	OnPick   func(Event)         // a click
	OnMenu   func(Event)         // a secondary click
	OnHover  func(Event)         // the pointer moved; not while dragging
	OnCamera func(render.Camera) // the camera moved by pointer or key; drawn apart: it is seen
	OnKey    func(*fyne.KeyEvent)
	OnRune   func(rune)

	// Grab is asked when a drag starts on a part: true takes the part along
	// instead of turning the view. OnMove then gets the shift since the start, in
	// the plane of the picture at the depth of the grip; OnDrop ends it.
	Grab   func(Event) bool
	OnMove func(shift geom.Vec)
	OnDrop func()

	scene   render.Scene
	options render.Options
	cam     render.Camera
	fitNext bool // fit as soon as the size is known

	raster *canvas.Raster
	ring   *canvas.Rectangle
	band   *canvas.Rectangle
	paint  painting
	coarse standIns
	hand   hand
	tools  []Tool
	glide  *fyne.Animation // a change of view on its way
}

// New returns a view without parts.
func New() *View {
	v := &View{cam: render.NewCamera(), fitNext: true}
	v.options.Triad = true
	v.raster = canvas.NewRaster(v.generate)
	v.raster.ScaleMode = canvas.ImageScalePixels
	v.ring = canvas.NewRectangle(color.Transparent)
	v.ring.StrokeWidth = 2
	v.ring.Hide()
	v.band = canvas.NewRectangle(color.Transparent)
	v.band.StrokeWidth = 1.5
	v.band.Hide()
	v.paint.beside = func(job func()) { go job() }
	v.paint.onMain = fyne.Do
	v.paint.restS = 0.15
	v.coarse.from = standInFrom
	v.ExtendBaseWidget(v)
	return v
}

// Beside makes the view draw beside the toolkit's goroutine, so that this one is
// free for the hand: by quick what the hand waits for, by slow the rest; onMain
// brings what was drawn to the toolkit's goroutine. Without it pictures are drawn
// when they are asked for, the smooth ones on goroutines.
func (v *View) Beside(onMain, quick, slow func(run func())) {
	v.paint.onMain, v.paint.apart, v.paint.beside = onMain, quick, slow
}

// SetScene shows other items; the overlay stays. The slice is copied, the
// meshes and fields are not and must not change any more.
func (v *View) SetScene(items []render.Item) {
	v.scene.Items = slices.Clone(items)
	v.wantStandIns()
	v.changed()
}

// SetOverlay shows other dimension lines, markers, labels and paths.
func (v *View) SetOverlay(o render.Overlay) {
	v.scene.Overlay = render.Overlay{
		Witnesses: slices.Clone(o.Witnesses), Markers: slices.Clone(o.Markers),
		Labels: slices.Clone(o.Labels), Paths: slices.Clone(o.Paths), Flows: slices.Clone(o.Flows), Key: o.Key,
	}
	v.changed()
}

// Options returns how the scene is drawn.
func (v *View) Options() render.Options { return v.options }

// SetOptions changes how the scene is drawn. Workers, Supersample, Soft,
// TextPx and Reuse are the view's own business.
func (v *View) SetOptions(o render.Options) {
	o.Workers, o.Supersample, o.Soft, o.TextPx, o.LineShare, o.Reuse = 0, 0, false, 0, 0, nil
	v.options = o
	v.changed()
}

// Camera returns where the view looks from.
func (v *View) Camera() render.Camera { return v.cam }

// SetCamera looks from elsewhere; OnCamera is not told.
func (v *View) SetCamera(c render.Camera) {
	v.stopGlide()
	v.cam, v.fitNext = c, false
	v.changed()
}

// FitAll moves the camera so that all shown items fill the view. Before the
// first picture there is no way to follow with the eye: it begins there.
func (v *View) FitAll() {
	if !v.fitNext {
		v.fitPoints(v.scene.Corners())
	}
}

// FitItems moves the camera so that some items fill the view.
func (v *View) FitItems(indices ...int) {
	var some render.Scene
	for _, i := range indices {
		if i >= 0 && i < len(v.scene.Items) {
			some.Items = append(some.Items, v.scene.Items[i])
		}
	}
	v.fitPoints(some.Corners())
}

func (v *View) fitPoints(points []geom.Vec) {
	if v.paint.wPx == 0 {
		v.fitNext = true
		return
	}
	v.glideTo(v.cam.FitPoints(points, v.paint.wPx, v.paint.hPx))
}

// Look turns to a standard view and fits all into it.
func (v *View) Look(to render.View) {
	c := v.cam.Look(to)
	if v.paint.wPx == 0 {
		v.cam, v.fitNext = c, true
		return
	}
	v.glideTo(c.FitPoints(v.scene.Corners(), v.paint.wPx, v.paint.hPx))
}

// moveTo sets the camera for the user and says so.
func (v *View) moveTo(c render.Camera) {
	v.cam = c
	v.changed()
	if v.OnCamera != nil && v.paint.apart == nil {
		v.OnCamera(c)
	}
}

// MinSize keeps the view large enough to be of use.
func (v *View) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(240, 160)
}

// CreateRenderer implements fyne.Widget.
func (v *View) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	return &layers{view: v, objects: []fyne.CanvasObject{v.raster, v.band, v.ring}}
}

// layers is the picture with the focus ring over it.
type layers struct {
	view    *View
	objects []fyne.CanvasObject
}

func (l *layers) Layout(size fyne.Size) {
	l.view.raster.Resize(size)
	l.view.ring.Resize(size)
}

func (l *layers) MinSize() fyne.Size           { return l.view.MinSize() }
func (l *layers) Objects() []fyne.CanvasObject { return l.objects }

// Destroy ends what is under way.
func (l *layers) Destroy() {
	l.view.stopGlide()
	l.view.paint.cancelFine()
	l.view.coarse.end()
}

func (l *layers) Refresh() {
	l.view.ring.StrokeColor = theme.Color(theme.ColorNamePrimary)
	l.view.ring.Refresh()
	l.view.raster.Refresh()
}

// seconds turns a number of seconds into a duration.
func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
