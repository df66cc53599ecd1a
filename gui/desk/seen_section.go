package desk

import (
	"context"
	"image"

	"aftbay/geom"
	"aftbay/geom/rearview"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/gui/phrase"
)

// section draws the lines of sight from the left, the car cut along its middle.
func (p *seenPainter) section(ctx context.Context, s *scene.Scene, r *rearview.Result, workers int) (*image.RGBA, error) {
	sc := render.Scene{Items: p.items(s, geom.Identity(), false)}
	box := geom.EmptyBox().Grow(r.Mirror.CentreMM).Grow(r.Eyes[0].AtMM)
	rays := r.Rays()
	for i := range s.Parts {
		if part := &s.Parts[i]; !rearview.SeeThrough(part.Role) && part.Box.Max[0] > r.Mirror.CentreMM[0] {
			box.Max[0] = max(box.Max[0], part.Box.Max[0])
		}
	}
	const asideMM, belowMM, aboveMM = 250, 420, 160
	box.Min[0], box.Max[0] = box.Min[0]-asideMM, box.Max[0]+2*asideMM
	box.Min[2], box.Max[2] = box.Min[2]-belowMM, box.Max[2]+aboveMM
	for i, ray := range rays {
		color := tintColors[(i+3)%len(tintColors)]
		end := ray.Mirror.Add(ray.Road.Sub(ray.Mirror).Mul((box.Max[0] - asideMM/2 - ray.Mirror[0]) / (ray.Road[0] - ray.Mirror[0])))
		if ray.Road[0] < end[0] {
			end = ray.Road
		}
		sc.Overlay.Paths = append(sc.Overlay.Paths, render.Path{Points: []geom.Vec{ray.Eye, ray.Mirror, end}, Color: color, WidthPx: 2})
		sc.Overlay.Labels = append(sc.Overlay.Labels, render.Label{At: end, Text: phrase.Say(ray.Name)})
	}
	sc.Overlay.Labels = append(sc.Overlay.Labels, render.Label{At: rays[0].Eye, Text: "eyes"}, render.Label{At: r.Mirror.CentreMM, Text: "mirror"})
	wide := widthPx(r)
	hPx := wide * 42 / 100
	cam := render.NewCamera().Look(render.ViewLeft)
	cam.Parallel = true
	o := render.Options{Workers: workers, Supersample: fineness(r), TextPx: lettersShare * float64(wide), Triad: true, Cuts: []render.Cut{{Normal: geom.Vec{0, -1, 0}}}}
	f, err := render.Draw(ctx, sc, cam.Fit(box, wide, hPx), o, wide, hPx)
	if err != nil {
		return nil, err
	}
	return f.Image, nil
}
