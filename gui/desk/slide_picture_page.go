package desk

import (
	"context"
	"image"
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/render"
	"aftbay/gui/phrase"
)

// Still is a picture made for a size, with the words below it.
type Still struct {
	Image   *image.RGBA
	Caption string
}

// StillSize is how large a picture is made.
type StillSize struct {
	WPx, HPx int
	TextPx   float64 // height of its letters
	Workers  int     // 0: all processors
	Dark     bool    // on a dark ground
}

const (
	// sectionMM is the height that a section through a narrowest place shows at
	// least, roomMM what is shown around a place or part.
	sectionMM = 160
	roomMM    = 420
)

// SectionStill draws the section through the narrowest place of a finding,
// square to its shortest line; nil if there is no such finding.
func (p *Painter) SectionStill(ctx context.Context, s *State, finding string, size StillSize) (*Still, error) {
	f := findingOf(s, finding)
	if f == nil || s.Scene == nil {
		return nil, nil
	}
	pic := p.Picture(s, &Attention{Finding: finding})
	cam, cut := render.Closeup(f.PointA, f.PointB, sectionMM)
	img, err := drawStill(ctx, pic, cam, []render.Cut{cut}, size)
	if err != nil {
		return nil, err
	}
	return &Still{img, f.A + phrase.Of(" (orange) and ") + f.B + phrase.Of(" (blue), cut through the narrowest place, square to the shortest line")}, nil
}

// AroundStill draws what a concern speaks of among its neighbours; nil if there
// is no such concern or no scene.
func (p *Painter) AroundStill(ctx context.Context, s *State, key string, size StillSize) (*Still, error) {
	c, ok := ConcernOf(s, key)
	if !ok || s.Scene == nil {
		return nil, nil
	}
	var a Attention
	LookAtConcern(&a, &c)
	pic := p.Picture(s, &a)
	box := geom.EmptyBox()
	caption := phrase.Of("the layout")
	if f := findingOf(s, key); f != nil {
		box = box.Grow(f.PointA).Grow(f.PointB)
		caption = phrase.Of("where it is")
		p.clear(s, &pic, f)
	} else if len(c.Parts) > 0 {
		box = BoxOf(s, c.Parts)
		caption = c.What + noteText(pic.Note)
	}
	cam := render.NewCamera()
	if box.IsEmpty() {
		all := render.Scene{Items: pic.Items}
		cam = cam.FitPoints(all.Corners(), size.WPx, size.HPx)
	} else {
		cam = cam.Fit(grown(box, roomMM), size.WPx, size.HPx)
	}
	img, err := drawStill(ctx, pic, cam, nil, size)
	if err != nil {
		return nil, err
	}
	return &Still{img, caption}, nil
}

// clear makes panels see-through that would hide what is under them.
func (p *Painter) clear(s *State, pic *Picture, f *clearance.Pair) {
	for i, part := range pic.Parts {
		if (part == f.A || part == f.B) && i < len(s.Scene.Parts) && slices.Contains(shells, s.Scene.Parts[i].Role) {
			pic.Items[i].Ghost = true
		}
	}
}

// drawStill makes a smooth picture in the light look.
func drawStill(ctx context.Context, pic Picture, cam render.Camera, cuts []render.Cut, size StillSize) (*image.RGBA, error) {
	o := render.Options{Workers: size.Workers, Supersample: 2, Soft: true, Triad: true, Cuts: cuts, Field: pic.Field, TextPx: size.TextPx, Dark: size.Dark}
	if cuts == nil {
		o.Ground = pic.Ground
	}
	f, err := render.Draw(ctx, render.Scene{Items: pic.Items, Overlay: pic.Overlay}, cam, o, size.WPx, size.HPx)
	if err != nil {
		return nil, err
	}
	return f.Image, nil
}
