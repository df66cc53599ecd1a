package desk

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// leastTriangleMM is how far three points must be off one line: less tells no
// turn.
const leastTriangleMM = 0.01

// OntoPoints returns the rigid move that takes a first point onto another, the
// direction to a second one along with it, and the plane of a third: the first
// fits exactly, the others as far as their distances agree.
func OntoPoints(from, onto [3]geom.Vec) (geom.Pose, error) {
	a, err := frameOf(from)
	if err != nil {
		return geom.Pose{}, say.Errorf("the points of the part: %w", err)
	}
	b, err := frameOf(onto)
	if err != nil {
		return geom.Pose{}, say.Errorf("the points to go to: %w", err)
	}
	return b.After(a.Inverse()), nil
}

// frameOf returns the frame of three points: its origin the first, X towards the
// second, Z square to their plane.
func frameOf(p [3]geom.Vec) (geom.Pose, error) {
	x, z := p[1].Sub(p[0]), p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
	longest := max(x.Len(), p[2].Sub(p[0]).Len(), p[2].Sub(p[1]).Len())
	if longest == 0 || z.Len()/longest < leastTriangleMM || x.Len() < leastTriangleMM {
		return geom.Pose{}, say.New("they lie on one line, so they tell no turn: choose a third one beside the line of the others")
	}
	x, z = x.Normalize(), z.Normalize()
	return geom.Pose{R: mgl64.Mat3FromCols(x, z.Cross(x), z), T: p[0]}, nil
}

// PlaceByPoints moves parts or a group so that three of its points come onto three
// others, as an edit. The points are in vehicle axes, as shown.
func (d *Desk) PlaceByPoints(l Load, from, onto [3]geom.Vec) error {
	by, err := OntoPoints(from, onto)
	if err != nil {
		return err
	}
	return d.Edit("place "+l.text()+phrase.Of(" by three points"), func(doc *layout.Document) error { return l.put(doc, by) })
}

// ThreePoints are points picked one after the other: three of what moves, then
// the three that they go to.
type ThreePoints struct {
	Load   Load
	Points []geom.Vec
}

// Add takes one more point; done is true when there are six.
func (t *ThreePoints) Add(p geom.Vec) (done bool) {
	t.Points = append(t.Points, p)
	return len(t.Points) == 6
}

// Sets returns the points of what moves and those to go to.
func (t *ThreePoints) Sets() (from, onto [3]geom.Vec) {
	copy(from[:], t.Points[:3])
	copy(onto[:], t.Points[3:])
	return from, onto
}

// addPicked numbers the points that are picked, and joins each to where it goes.
func addPicked(out *Picture, a *Attention) {
	if a.Picking != "" {
		out.Note = a.Picking
	}
	for i, at := range a.Picked {
		out.Overlay.Markers = append(out.Overlay.Markers, render.Marker{At: at, Text: fmt.Sprint(i%3 + 1), Color: render.AccentColor})
		if i >= 3 {
			out.Overlay.Witnesses = append(out.Overlay.Witnesses, render.Witness{From: a.Picked[i-3], To: at, Color: render.AccentColor})
		}
	}
}

// Says tells what to click next.
func (t *ThreePoints) Says() string {
	ordinals := [3]string{"first", "second", "third"}
	n := len(t.Points)
	if n < 3 {
		return phrase.Of("Click the ") + ordinals[n] + phrase.Of(" point on ") + t.Load.text() + phrase.Of(". Escape ends it.")
	}
	return phrase.Of("Click where the ") + ordinals[(n-3)%3] + phrase.Of(" point goes. Escape ends it.")
}
