package view3d

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/simplify"
)

const (
	// standInFrom is the number of triangles of a scene from which coarse meshes
	// are made for its moving pictures: smaller ones are drawn in time as they are.
	standInFrom = 100_000
	// standInLeast is the number of triangles of a mesh below which it stands
	// for itself.
	standInLeast = 200
	// standInShare is the deviation of a coarse mesh as a share of the scene's
	// diagonal: about half a pixel where the whole scene fills the view.
	standInShare = 1.0 / 2500
	// standInPx is how far a coarse surface may lie off on the screen, in pixels:
	// drawn nearer, the true meshes are used.
	standInPx = 1.0
	// standInEdgeRad is the bend from which an edge of a coarse mesh is drawn, as
	// for the true ones: 30°.
	standInEdgeRad = 30 * math.Pi / 180
)

// standIn is a coarse mesh with its edges.
type standIn struct {
	mesh  *mesh.Mesh
	edges [][2]int32
}

// standIns are coarse meshes for moving pictures, made beside while the view is
// at rest. A picture at rest always shows the true meshes.
type standIns struct {
	of          map[*mesh.Mesh]standIn
	deviationMM float64            // proven bound of all of them
	from        int                // triangles of a scene that is worth it
	asked       []*mesh.Mesh       // being made or made
	stop        context.CancelFunc // of the one who makes them, nil if nobody does
}

// end stops the one who makes them.
func (c *standIns) end() {
	if c.stop != nil {
		c.stop()
		c.stop = nil
	}
}

// wantStandIns starts making the coarse meshes that a large scene lacks, and
// forgets those it no longer shows.
func (v *View) wantStandIns() {
	triangles, kept := 0, map[*mesh.Mesh]standIn{}
	var wanted []*mesh.Mesh
	for i := range v.scene.Items {
		m := v.scene.Items[i].Mesh
		if m == nil {
			continue
		}
		triangles += len(m.Tris)
		if had, ok := v.coarse.of[m]; ok {
			kept[m] = had
		} else if len(m.Tris) >= standInLeast && !slices.Contains(wanted, m) {
			wanted = append(wanted, m)
		}
	}
	if triangles < v.coarse.from {
		v.coarse.end()
		v.coarse = standIns{from: v.coarse.from}
		return
	}
	if v.coarse.deviationMM == 0 {
		box := geom.EmptyBox()
		for _, p := range v.scene.Corners() {
			box = box.Grow(p)
		}
		v.coarse.deviationMM = standInShare * box.DiagonalMM()
	}
	news := func(m *mesh.Mesh) bool { return !slices.Contains(v.coarse.asked, m) }
	if v.coarse.deviationMM > 0 && slices.ContainsFunc(wanted, news) {
		v.coarse.end()
		v.coarse.of, v.coarse.asked = kept, wanted
		v.makeStandIns(wanted)
	}
}

// makeStandIns makes coarse meshes one by one beside, each used once it is there.
func (v *View) makeStandIns(wanted []*mesh.Mesh) {
	ctx, stop := context.WithCancel(context.Background())
	v.coarse.stop = stop
	deviationMM, onMain := v.coarse.deviationMM, v.paint.onMain
	v.paint.guarded(v.paint.beside, func() {
		for _, m := range wanted {
			coarse, _, err := simplify.To(ctx, m, deviationMM)
			if ctx.Err() != nil {
				return
			}
			if err != nil {
				coarse = m // it stands for itself
			}
			made := standIn{mesh: coarse, edges: mesh.FeatureEdges(coarse, standInEdgeRad)}
			onMain(func() {
				if ctx.Err() == nil {
					v.coarse.of[m] = made
				}
			})
		}
	})
}

// moving returns the scene for a picture of a height while it moves, and whether
// coarse meshes stand in it. Coloured parts keep their meshes: their colours
// belong to the triangles.
func (v *View) moving(hPx int) (s render.Scene, coarse bool) {
	if len(v.coarse.of) == 0 || v.cam.MMPerPx(hPx)*standInPx < v.coarse.deviationMM {
		return v.scene, false
	}
	s = v.scene
	s.Items = slices.Clone(s.Items)
	for i := range s.Items {
		item := &s.Items[i]
		if stand, ok := v.coarse.of[item.Mesh]; ok && item.Field == nil && stand.mesh != item.Mesh {
			item.Mesh, item.Edges, coarse = stand.mesh, stand.edges, true
			if v.scene.Items[i].Edges == nil {
				item.Edges = nil
			}
		}
	}
	return s, coarse
}
