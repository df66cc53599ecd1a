package render

import (
	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Item is one posed mesh of the picture.
type Item struct {
	Mesh   *mesh.Mesh
	Edges  [][2]int32 // vertex pairs drawn as lines; may be nil
	Pose   geom.Pose
	Color  RGB
	Closed bool // faces turned away are left out, cuts get caps

	Hidden    bool
	Ghost     bool // see-through
	Selected  bool // outlined, also where something is in front of it
	Highlight bool // lighter: under the pointer

	Field []float32 // value per triangle, coloured by Options.Field; nil: Color
}

// Scene is all that is drawn.
type Scene struct {
	Items   []Item
	Overlay Overlay
}

// Cut takes away all that lies on the side its Normal points to.
type Cut struct {
	Point, Normal geom.Vec
	Grid          bool // lines with millimetres on it, see grid.go
}

// Ground is the grid drawn at one height.
type Ground struct {
	ZMM    float64
	StepMM float64 // between lines; 0 means 100
}

// Options says how to draw; the zero value is a plain picture.
type Options struct {
	Workers     int // 0: one per processor, four at most
	Supersample int // n×n samples a pixel, 1 to 4; 0 means 1
	Dark        bool
	Soft        bool // creases and gaps darkened: for still pictures
	NoEdges     bool
	NoOutlines  bool
	Triad       bool // small axes in the lower left corner
	Ground      *Ground
	Cuts        []Cut // what is left is on the kept side of all; MaxCuts at most
	Field       *FieldScale
	TextPx      float64 // height of letters; 0 means 14
	LineShare   float64 // of the usual width of lines; 0 means 1: less for a picture to be stretched
	Reuse       *Frame  // a frame nobody needs any more: its memory is taken
}

// Overlay is what is drawn over the parts, always in sight but for what speaks of
// a place that the cuts take away.
type Overlay struct {
	Witnesses []Witness
	Markers   []Marker
	Labels    []Label
	Paths     []Path
	Flows     []Flow
	Key       *Key
}

// Key says what the colours of a picture mean, each with its words.
type Key struct {
	Title   string
	Entries []KeyEntry
}

// KeyEntry is one colour of a key.
type KeyEntry struct {
	Color RGB
	Text  string
}

// Witness is a dimension line between two points.
type Witness struct {
	From, To geom.Vec
	Text     string
	Color    RGB
}

// Marker is a disc with a short text (a number) in it.
type Marker struct {
	At    geom.Vec
	Text  string
	Color RGB
	Stays bool // on the picture: one that would be off it stands at its rim
}

// Label is a text with a line to the point it speaks of.
type Label struct {
	At   geom.Vec
	Text string
}

// Flow is an arrow from where something comes to where it arrives, as wide as
// its share, with a text at its beginning.
type Flow struct {
	From, To geom.Vec
	Text     string
	Color    RGB
	Share    float64 // 0..1, of all that arrives
}

// Path is a polyline; parts may hide it.
type Path struct {
	Points  []geom.Vec
	Color   RGB
	WidthPx float64 // 0 means 1.5
}

// Corners returns the posed box corners of all items that are not hidden.
func (s *Scene) Corners() []geom.Vec {
	var out []geom.Vec
	for i := range s.Items {
		it := &s.Items[i]
		if it.Hidden || it.Mesh == nil || len(it.Mesh.Verts) == 0 {
			continue
		}
		for _, c := range it.Mesh.Box().Corners() {
			out = append(out, it.Pose.Point(c))
		}
	}
	return out
}

// Box returns a box around all items that are not hidden.
func (s *Scene) Box() geom.Box {
	all := geom.EmptyBox()
	for _, c := range s.Corners() {
		all = all.Grow(c)
	}
	return all
}
