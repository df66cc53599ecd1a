package main

import (
	"context"
	"fmt"
	"math"
	"time"

	"aftbay/geom"
	"aftbay/geom/bvh"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// speedResult is the JSON of speed: wall times on this machine.
type speedResult struct {
	Triangles int     `json:"triangles"`
	BuildMS   float64 `json:"build_ms"`
	raySpeed
	pairSpeed
	FrameMS float64 `json:"frame_ms"` // 1280 × 800 with edges and outlines
}

// times measures the kernels on the layout. The figures are wall times and
// differ from run to run.
func times(ctx context.Context, c *call) (bool, error) {
	s, folder, err := c.load(ctx)
	if err != nil {
		return false, err
	}
	defer folder.Close()
	start := time.Now()
	r := speedResult{}
	whole := merged(s)
	r.Triangles = len(whole.Tris)
	r.BuildMS = inMS(func() {
		err = geom.Each(ctx, c.workers, len(s.Parts), nil, func(i int) error { bvh.Build(s.Parts[i].Mesh); return nil })
	})
	if err != nil {
		return false, err
	}
	if r.pairSpeed, err = pairsOf(ctx, s, c.workers); err != nil {
		return false, err
	}
	if r.raySpeed, err = raysOf(ctx, whole, c.workers); err != nil {
		return false, err
	}
	if r.FrameMS, err = frameMS(ctx, s, c.workers); err != nil {
		return false, err
	}
	c.solveTook = time.Since(start)
	t := desk.Table{Title: "How fast is this machine with this layout?", Foot: []string{
		fmt.Sprintf("%d triangles; trees %.1f ms; a picture %.1f ms", r.Triangles, r.BuildMS, r.FrameMS),
		r.pairSpeed.sentence(),
		r.raySpeed.sentence(),
	}}
	return false, c.give(r, t)
}

func inMS(do func()) float64 {
	start := time.Now()
	do()
	return float64(time.Since(start).Microseconds()) / 1000
}

// merged returns all parts as one mesh in vehicle axes.
func merged(s *scene.Scene) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range s.Parts {
		p := &s.Parts[i]
		base := int32(len(m.Verts))
		for _, v := range p.Mesh.Verts {
			m.Verts = append(m.Verts, p.Pose.Point(v))
		}
		for _, t := range p.Mesh.Tris {
			m.Tris = append(m.Tris, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return m
}

// frameMS draws the scene a few times and returns the time of one picture.
func frameMS(ctx context.Context, s *scene.Scene, workers int) (perFrameMS float64, err error) {
	const frames, wPx, hPx = 5, 1280, 800
	items := make([]render.Item, len(s.Parts))
	for i := range s.Parts {
		p := &s.Parts[i]
		items[i] = render.Item{Mesh: p.Mesh, Edges: mesh.FeatureEdges(p.Mesh, math.Pi/6), Pose: p.Pose, Closed: p.Closed, Color: render.Swatch(i)}
	}
	sc := render.Scene{Items: items}
	cam := render.NewCamera().FitPoints(sc.Corners(), wPx, hPx)
	var frame *render.Frame
	took := inMS(func() {
		for range frames {
			if frame, err = render.Draw(ctx, sc, cam, render.Options{Workers: workers, Reuse: frame}, wPx, hPx); err != nil {
				return
			}
		}
	})
	return took / frames, err
}
