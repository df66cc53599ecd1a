package desk

import (
	"slices"

	"aftbay/geom"
	"aftbay/geom/render"
)

// Handle is where a cut can be taken hold of.
type Handle struct {
	Name       string // of the cut
	At, Normal geom.Vec
}

// addCuts puts the reader's cuts into a picture: what they take away, their
// outlines, and a letter at the top of each to hold it by.
func addCuts(out *Picture, s *State, a *Attention) {
	if len(a.Sections) == 0 {
		return
	}
	box := geom.EmptyBox()
	for i := range s.Scene.Parts {
		if !out.Items[i].Hidden {
			box = box.Union(s.Scene.Parts[i].Box)
		}
	}
	if box.IsEmpty() {
		return
	}
	for i := range a.Sections {
		c := &a.Sections[i]
		cut := render.Cut{Point: c.Point, Normal: c.Normal, Grid: c.Grid}
		outline := cut.Outline(box)
		color := render.AccentColor
		if c.Idle {
			color = render.NoRuleColor
		} else {
			out.Cuts = append(out.Cuts, cut)
		}
		at := c.Point
		if len(outline) > 0 {
			at = topOf(outline)
			out.Overlay.Paths = append(out.Overlay.Paths, render.Path{Points: append(outline, outline[0]), Color: color})
		}
		out.Overlay.Markers = append(out.Overlay.Markers, render.Marker{At: at, Text: c.Name, Color: color, Stays: true})
		out.Handles = append(out.Handles, Handle{Name: c.Name, At: at, Normal: c.Normal})
	}
}

// topOf returns the highest point of an outline; of equal ones the one farthest
// to the rear, then to the right.
func topOf(outline []geom.Vec) geom.Vec {
	return slices.MaxFunc(outline, func(p, q geom.Vec) int {
		for _, k := range [3]int{2, 0, 1} {
			switch d := p[k] - q[k]; {
			case d < -1e-6:
				return -1
			case d > 1e-6:
				return 1
			}
		}
		return 0
	})
}
