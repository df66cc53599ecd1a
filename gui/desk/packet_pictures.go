package desk

import (
	"image"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/gui/report"
)

// Size of the report's pictures: about 200 dots an inch at half a page's width.
const wPx, hPx = 1000, 640

// draw makes a still picture in the light look. One picture is drawn at a time.
func (b *packer) draw(pic Picture, cam render.Camera, cuts []render.Cut) (*image.RGBA, error) {
	o := render.Options{Workers: b.workers, Supersample: 2, Soft: true, Triad: true, Cuts: cuts, Field: pic.Field, TextPx: 20, Reuse: b.before}
	if len(cuts) == 0 {
		o.Ground = pic.Ground
	}
	b.before = nil // its memory is gone, whatever comes of the picture
	f, err := render.Draw(b.ctx, render.Scene{Items: pic.Items, Overlay: pic.Overlay}, cam, o, wPx, hPx)
	if err != nil {
		return nil, err
	}
	image := f.Image
	b.before, f.Image = f, nil // the picture is handed on, the rest stays
	return image, nil
}

// keep packs a drawn picture while the next ones are drawn. No more images wait
// than workers pack them, so that they never pile up.
func (b *packer) keep(name string, img image.Image, caption string) *report.Picture {
	out := &report.Picture{Name: name, Caption: caption}
	b.slots <- struct{}{}
	b.packing.Add(1)
	geom.Go(b.ctx, func() {
		defer b.packing.Done()
		defer func() { <-b.slots }()
		p, err := report.NewPicture(name, img, caption)
		if err != nil {
			select {
			case b.failed <- err:
			default: // one is told
			}
			return
		}
		*out = *p
	})
	return out
}

// packed waits until all pictures are packed.
func (b *packer) packed() error {
	b.before = nil // no more pictures come
	b.packing.Wait()
	select {
	case err := <-b.failed:
		return err
	default:
		return nil
	}
}

// whole draws the powertrain bay: all that is not hidden, with the bodywork
// see-through.
func (b *packer) whole(a *Attention) (Picture, *image.RGBA, error) {
	pic := b.painter.Picture(b.s, a)
	image, err := b.draw(pic, render.NewCamera().FitPoints(b.bay(pic), wPx, hPx), nil)
	return pic, image, err
}
