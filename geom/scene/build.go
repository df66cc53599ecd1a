package scene

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mounts"
	"aftbay/geom/say"
)

// Options steer Build. The zero value uses every processor.
type Options struct {
	Workers  int
	Progress geom.Progress // counts mesh files and routes
	// Kept takes the files that prev has read as they were then, without a look
	// at the disk: what changed there since comes in with a Build that is asked for.
	Kept bool
	// Early is told once, as soon as all files are read, what can already be
	// drawn; nil: nobody asks. Not called where a file could not be read.
	Early func(d *Draft)
}

// Draft is a scene of which only the surfaces are known, as read and in place:
// nothing about them is examined yet. It is read-only.
type Draft struct {
	Parts []Part // in file order; of their shapes the meshes alone
}

// Build returns the scene of a document whose files are in folder. prev, which
// may be nil, lends the meshes and trees that have not changed. Everything
// wrong with the files comes back at once as layout.Faults, each naming part,
// file and remedy. The result does not depend on the number of workers.
func Build(ctx context.Context, doc *layout.Document, folder *layout.Folder, prev *Scene, o Options) (*Scene, error) {
	jobs, users := gather(doc)
	done := make([]*shape, len(jobs))
	failed := make([]error, len(jobs))
	err := geom.Each(ctx, o.Workers, len(jobs), nil, func(i int) error {
		done[i], failed[i] = load(folder, jobs[i], prev, o.Kept)
		return nil // go on: all faults are wanted
	})
	if err != nil {
		return nil, err
	}
	if o.Early != nil && !slices.ContainsFunc(failed, func(err error) bool { return err != nil }) {
		o.Early(draftOf(users, done))
	}
	err = geom.Each(ctx, o.Workers, len(jobs), o.Progress, func(i int) error {
		if failed[i] == nil {
			done[i], failed[i] = done[i].examined()
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	s := &Scene{Doc: doc, shapes: done}
	var faults layout.Faults
	for _, u := range users {
		if err := failed[u.job]; err != nil {
			faults = append(faults, faultOf(u.where, err))
		}
	}
	faults = append(faults, s.readPositions(folder, prev, o.Kept)...)
	if len(faults) > 0 {
		return nil, faults
	}
	s.stand(users, folder, prev)
	return s, nil
}

// source is what one shape is made from: a mesh file in a unit, or a route.
type source struct {
	file, unit string
	route      *layout.Route
}

// user is a part, route or spot that needs a shape.
type user struct {
	job   int
	where string
	part  *layout.Part
	route *layout.Route
	spot  *layout.Spot
}

// gather lists each source once, and who uses it: parts, routes, spots.
func gather(doc *layout.Document) (jobs []source, users []user) {
	number := map[source]int{}
	use := func(src source, u user) {
		job, known := number[src]
		if !known {
			job = len(jobs)
			number[src] = job
			jobs = append(jobs, src)
		}
		u.job = job
		users = append(users, u)
	}
	for i := range doc.Parts {
		p := &doc.Parts[i]
		use(source{file: p.Mesh, unit: p.MeshUnit}, user{where: fmt.Sprintf("parts[%d] %q", i, p.Name), part: p})
	}
	for i := range doc.Routes {
		r := &doc.Routes[i]
		use(source{route: r}, user{where: fmt.Sprintf("routes[%d] %q", i, r.Name), route: r})
	}
	for i := range doc.Spots {
		c := &doc.Spots[i]
		use(source{file: c.Mesh, unit: c.MeshUnit}, user{where: fmt.Sprintf("spots[%d] %q", i, c.Name), spot: c})
	}
	return jobs, users
}

// stand fills the scene from its shapes; prev lends the boxes of parts that stand
// where they stood.
func (s *Scene) stand(users []user, folder *layout.Folder, prev *Scene) {
	s.index = map[string]int{}
	s.groups = map[string]*layout.Group{}
	for i := range s.Doc.Groups {
		s.groups[s.Doc.Groups[i].Name] = &s.Doc.Groups[i]
	}
	for _, u := range users {
		shape := noted(s.shapes[u.job], folder)
		if u.spot != nil {
			s.Spots = append(s.Spots, Component{Layout: u.spot, Shape: shape})
			continue
		}
		p := partFor(u, len(s.Parts), shape)
		if old := prev.partOf(p.Name); old != nil && old.Mesh == p.Mesh && old.Pose == p.Pose {
			p.Box = old.Box
		} else {
			p.Box = posedBox(p.Mesh, p.Pose)
		}
		s.index[p.Name] = p.Index
		s.Parts = append(s.Parts, p)
	}
}

// partFor returns the part of a user, its box still to come.
func partFor(u user, index int, shape Shape) Part {
	p := Part{Index: index, Layout: u.part, Route: u.route, Shape: shape}
	if u.route != nil {
		p.Layout = &layout.Part{
			Name: u.route.Name, Role: u.route.Role, Group: u.route.Group,
			Material: u.route.Material, LimitDegC: u.route.LimitDegC, Fluid: u.route.Fluid,
		}
	}
	p.Name, p.Role, p.Group = p.Layout.Name, p.Layout.Role, p.Layout.Group
	p.Pose = PoseOf(p.Layout)
	return p
}

// draftOf returns what can be drawn of shapes that are read.
func draftOf(users []user, read []*shape) *Draft {
	d := &Draft{}
	for _, u := range users {
		if u.spot == nil {
			d.Parts = append(d.Parts, partFor(u, len(d.Parts), Shape{Mesh: read[u.job].Mesh}))
		}
	}
	return d
}

// noted returns a shape as it is used, with a word on a file that has changed
// since the layout was saved.
func noted(s *shape, folder *layout.Folder) Shape {
	out := s.Shape
	if s.route != nil {
		return out
	}
	out.Changed = folder.ChangeOf(s.file, layout.Print{Bytes: s.sizeBytes, SHA256: s.Hash})
	if out.Changed != nil {
		out.Said = append(slices.Clone(out.Said), out.Changed.Sentence())
	}
	return out
}

// readPositions reads the load cases of every group: those of its table, then
// those that its loads come to on its mounts.
func (s *Scene) readPositions(folder *layout.Folder, prev *Scene, kept bool) layout.Faults {
	s.positions = map[string][]layout.Position{}
	s.tables = map[string][]layout.Position{}
	var faults layout.Faults
	for i := range s.Doc.Groups {
		g := &s.Doc.Groups[i]
		where := fmt.Sprintf("groups[%d] %q", i, g.Name)
		var table []layout.Position
		known := false
		if kept && prev != nil {
			table, known = prev.tables[g.Positions]
		}
		if !known {
			var err error
			table, err = folder.Positions(g)
			faults = append(faults, faultsOf(where, err)...)
		}
		s.tables[g.Positions] = table
		loaded, err := mounts.Positions(g)
		faults = append(faults, faultsOf(where, err)...)
		for k, p := range loaded {
			if slices.ContainsFunc(table, func(t layout.Position) bool { return t.Name == p.Name }) {
				faults = append(faults, layout.Fault{
					Where: fmt.Sprintf("%s: loads[%d] %q", where, k, p.Name), What: say.F("%s has a position of this name too", g.Positions),
					Mend: say.Of("give one of them another name"),
				})
			}
		}
		s.positions[g.Name] = append(slices.Clip(table), loaded...)
	}
	return faults
}

// faultsOf puts the place before each fault in an error, none if it is nil.
func faultsOf(where string, err error) layout.Faults {
	var many layout.Faults
	if !errors.As(err, &many) {
		if err == nil {
			return nil
		}
		return layout.Faults{faultOf(where, err)}
	}
	var out layout.Faults
	for _, f := range many {
		out = append(out, faultOf(where, f))
	}
	return out
}

// faultOf names who needs the file in which something is wrong.
func faultOf(where string, err error) layout.Fault {
	var f layout.Fault
	if errors.As(err, &f) {
		return layout.Fault{Where: where + ": " + f.Where, What: f.What, Mend: f.Mend}
	}
	return layout.Fault{Where: where, What: say.Words(err)}
}
