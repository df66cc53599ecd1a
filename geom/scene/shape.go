package scene

import (
	"errors"
	"math"
	"slices"
	"time"

	"aftbay/geom/bvh"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/route"
	"aftbay/geom/say"
	"aftbay/geom/units"
)

// shape is a Shape with what tells whether it is still up to date.
type shape struct {
	Shape
	source
	folder    string
	sizeBytes int64
	changed   time.Time // of the file
}

// load returns the shape of a source, borrowed from prev where nothing changed;
// with kept nothing has. One that is new has its mesh as read and what was said
// about it, and is still to be examined.
func load(folder *layout.Folder, src source, prev *Scene, kept bool) (*shape, error) {
	if src.route != nil {
		return loadRoute(src, prev)
	}
	if kept {
		if old := prev.shapeOf(func(o *shape) bool { return o.file == src.file && o.unit == src.unit && o.route == nil }); old != nil {
			return old, nil
		}
	}
	info, err := folder.Stat(src.file)
	if err != nil {
		return nil, err
	}
	old := prev.shapeOf(func(o *shape) bool {
		return o.file == src.file && o.unit == src.unit && o.folder == folder.Path() &&
			o.sizeBytes == info.Size() && o.changed.Equal(info.ModTime())
	})
	if old != nil {
		return old, nil
	}
	data, is, err := folder.ReadPrinted(src.file)
	if err != nil {
		return nil, err
	}
	made := &shape{source: src, folder: folder.Path(), sizeBytes: info.Size(), changed: info.ModTime()}
	hash := is.SHA256
	if old := prev.shapeOf(func(o *shape) bool { return o.route == nil && o.unit == src.unit && o.Hash == hash }); old != nil {
		made.Shape = old.Shape
		return made, nil
	}
	if made.Shape, err = rawFrom(data, src); err != nil {
		return nil, err
	}
	made.Hash = hash
	return made, nil
}

// examined returns the shape with all that is known of it: itself if it was
// borrowed.
func (s *shape) examined() (*shape, error) {
	if s.Tree != nil {
		return s, nil
	}
	mended, done, health := mesh.Examined(s.AsRead)
	if len(mended.Tris) == 0 {
		return nil, layout.Fault{Where: s.file, What: say.Of("no facet has an area"), Mend: say.Of("export the part again")}
	}
	s.Mesh, s.Health, s.Said = mended, health, append(s.Said, done...)
	s.Shape = finish(s.Shape)
	return s, nil
}

// shapeOf returns a shape that suits, nil if there is none or no scene.
func (s *Scene) shapeOf(suits func(*shape) bool) *shape {
	if s == nil {
		return nil
	}
	for _, o := range s.shapes {
		if suits(o) {
			return o
		}
	}
	return nil
}

// rawFrom reads the contents of an STL file; the mesh is still to be examined.
func rawFrom(data []byte, src source) (Shape, error) {
	factor, err := units.MeshFactor(src.unit)
	if err != nil {
		return Shape{}, layout.Fault{Where: src.file, What: say.Words(err)}
	}
	raw, said, err := mesh.ReadSTLNoted(data)
	if err != nil {
		return Shape{}, meshFault(src.file, err)
	}
	if factor != 1 {
		raw = raw.Scaled(factor)
	}
	return Shape{Mesh: raw, AsRead: raw, Said: said}, nil
}

// ShapeOf returns the shape of a mesh that comes from no file.
func ShapeOf(m *mesh.Mesh) Shape {
	return finish(Shape{Mesh: m, AsRead: m, Health: mesh.Inspect(m)})
}

// finish fills in what follows from the mesh and the health as read.
func finish(s Shape) Shape {
	s.Tree = bvh.Build(s.Mesh)
	s.Closed = s.Health.Closed
	if s.AsRead != s.Mesh {
		s.Closed = mesh.IsClosed(s.Mesh)
	}
	s.Sheet = !s.Closed && mesh.IsSheet(s.Mesh)
	s.Measures = mesh.Measure(s.Mesh)
	return s
}

// OpenText says of a shape that is not closed what that means.
func (s *Shape) OpenText() say.Text {
	if s.Sheet {
		return say.Of("is an open sheet: it has no inside")
	}
	return say.Of("lacks facets: its inside is not known")
}

// meshFault puts the file's name before what the reader says.
func meshFault(file string, err error) layout.Fault {
	var re *mesh.ReadError
	if errors.As(err, &re) {
		return layout.Fault{Where: file, What: say.Words(err)} // it ends in its own remedy
	}
	return layout.Fault{Where: file, What: say.Words(err), Mend: say.Of("export the part again")}
}

// loadRoute makes a route's tube.
func loadRoute(src source, prev *Scene) (*shape, error) {
	r := src.route
	old := prev.shapeOf(func(o *shape) bool {
		return o.route != nil && o.route.DiameterMM == r.DiameterMM &&
			o.route.BendRadiusMM == r.BendRadiusMM && slices.Equal(o.route.PointsMM, r.PointsMM)
	})
	if old != nil {
		return old, nil
	}
	radiusMM := r.DiameterMM / 2
	tube, length, err := route.Tube(r.PointsMM, radiusMM, r.BendRadiusMM, sidesFor(radiusMM))
	if err != nil {
		return nil, err
	}
	kept := *r // the caller may edit its document before the next Build
	kept.PointsMM = slices.Clone(r.PointsMM)
	src.route = &kept
	return &shape{source: src, Shape: finish(Shape{Mesh: tube, AsRead: tube, Health: mesh.Inspect(tube), Length: &length})}, nil
}

// The faceting of routes: sides enough that the chord error stays at
// routeChordMM, within bounds that keep a wire round and a duct light.
// Common practice, no source.
const (
	routeChordMM = 0.05
	leastSides   = 12
	mostSides    = 96
)

// sidesFor returns how many sides a tube of a radius gets.
func sidesFor(radiusMM float64) int {
	if radiusMM <= routeChordMM {
		return leastSides
	}
	// The sagitta r·(1 − cos(π/n)) equals the chord error at this n.
	n := math.Ceil(math.Pi / math.Acos(1-routeChordMM/radiusMM))
	return int(min(max(n, leastSides), mostSides))
}
