package mesh

import (
	"math"

	"aftbay/geom"
)

// Plane is an unbounded plane in the vehicle frame. Normal need not be of unit
// length.
type Plane struct{ Point, Normal geom.Vec }

// Section returns the outlines in which the plane cuts the posed mesh, vehicle
// frame. A closed outline repeats its first point at its end; where the mesh is
// open an outline may run from border to border. Facets that Inspect leaves out
// are not cut. Seen against the plane's normal
// (its tip towards the eye) the material lies to the left: outer outlines run
// counter-clockwise, hollows clockwise.
//
// A corner on the plane counts as in front of it, always, so outlines close and
// nothing is cut twice: a face that lies in the plane is outlined if the part
// lies behind it and left out if the part lies in front. A plane without a
// normal cuts nothing.
func Section(m *Mesh, pose geom.Pose, plane Plane) [][]geom.Vec {
	if plane.Normal.Len() == 0 || !geom.IsFinite(plane.Normal) || !geom.IsFinite(plane.Point) {
		return nil
	}
	c := cutter{mesh: m, nodeOf: map[[2]int32]int32{}}
	c.place(pose, plane)
	counts := counted(m)
	for t, tri := range m.Tris {
		if counts[t] {
			c.cut(tri)
		}
	}
	return c.join()
}

// OutlineAreaMM2 returns the area inside a closed outline, negative if it runs
// clockwise seen with the tip of normal towards the eye.
func OutlineAreaMM2(outline []geom.Vec, normal geom.Vec) float64 {
	if len(outline) < 3 || normal.Len() == 0 {
		return 0
	}
	var doubled geom.Vec
	for i := range outline[1:] {
		doubled = doubled.Add(outline[i].Sub(outline[0]).Cross(outline[i+1].Sub(outline[0])))
	}
	return doubled.Dot(normal.Normalize()) / 2
}

// cutter gathers where a plane crosses edges (nodes) and facets (segments).
type cutter struct {
	mesh    *Mesh
	points  []geom.Vec         // vehicle frame, len = len(mesh.Verts)
	aheadMM []float64          // signed distance of points from the plane; len likewise
	nodeOf  map[[2]int32]int32 // crossed edge, smaller corner first -> node
	nodes   []geom.Vec
	segs    [][2]int32 // nodes at start and end, material to the left
}

// place puts the corners into the vehicle frame. Distances below the rounding
// of their own calculation count as 0, so that a face in the plane stays whole.
func (c *cutter) place(pose geom.Pose, plane Plane) {
	const roundings = 16 // of about ten operations, each half a step of 2^-52
	normal := plane.Normal.Normalize()
	c.points = make([]geom.Vec, len(c.mesh.Verts))
	c.aheadMM = make([]float64, len(c.mesh.Verts))
	for i, v := range c.mesh.Verts {
		p := pose.Point(v)
		noiseMM := roundings * 0x1p-52 * (v.Len() + pose.T.Len() + plane.Point.Len())
		aheadMM := p.Sub(plane.Point).Dot(normal)
		if math.Abs(aheadMM) <= noiseMM {
			aheadMM = 0
		}
		c.points[i], c.aheadMM[i] = p, aheadMM
	}
}

func (c *cutter) isAhead(v int32) bool { return c.aheadMM[v] >= 0 }

// cut adds the segment of a facet that has corners on both sides. It runs from
// the edge that leads behind the plane to the one that leads back ahead, which
// keeps the material to its left.
func (c *cutter) cut(tri [3]int32) {
	var out, in int32
	crossed := false
	for k := range 3 {
		from, to := tri[k], tri[(k+1)%3]
		switch {
		case c.isAhead(from) && !c.isAhead(to):
			out, crossed = c.node(from, to), true
		case !c.isAhead(from) && c.isAhead(to):
			in = c.node(from, to)
		}
	}
	if crossed && out != in {
		c.segs = append(c.segs, [2]int32{out, in})
	}
}

// node returns the node on an edge; both facets of the edge get the same one.
func (c *cutter) node(v, w int32) int32 {
	key := [2]int32{min(v, w), max(v, w)}
	n, ok := c.nodeOf[key]
	if !ok {
		a, b := key[0], key[1]
		share := c.aheadMM[a] / (c.aheadMM[a] - c.aheadMM[b])
		n = int32(len(c.nodes))
		c.nodeOf[key] = n
		c.nodes = append(c.nodes, c.points[a].Add(c.points[b].Sub(c.points[a]).Mul(share)))
	}
	return n
}

// join strings the segments into outlines, in the order of the facets.
func (c *cutter) join() [][]geom.Vec {
	// touching[n]: segments at node n, as 2·segment, plus 1 at its end
	touching := make([][]int32, len(c.nodes))
	for s, seg := range c.segs {
		touching[seg[0]] = append(touching[seg[0]], int32(2*s))
		touching[seg[1]] = append(touching[seg[1]], int32(2*s+1))
	}
	used := make([]bool, len(c.segs))
	var outlines [][]geom.Vec
	add := func(s int) {
		if line := c.follow(s, touching, used); line != nil {
			outlines = append(outlines, line)
		}
	}
	for s, seg := range c.segs { // first what begins at a border
		if !used[s] && len(touching[seg[0]]) == 1 {
			add(s)
		}
	}
	for s := range c.segs {
		if !used[s] {
			add(s)
		}
	}
	return outlines
}

// follow walks from segment s until it is back or nothing is left, and returns
// the points without repeats, nil if they are one and the same. Where winding is
// mixed it walks segments backwards rather than stop.
func (c *cutter) follow(s int, touching [][]int32, used []bool) []geom.Vec {
	start, at := c.segs[s][0], c.segs[s][1]
	used[s] = true
	line := []geom.Vec{c.nodes[start]}
	for {
		if p := c.nodes[at]; p != line[len(line)-1] {
			line = append(line, p)
		}
		if at == start {
			break
		}
		next := int32(-1)
		for _, end := range touching[at] {
			if !used[end/2] && (next < 0 || next%2 == 1 && end%2 == 0) {
				next = end
			}
		}
		if next < 0 {
			break
		}
		used[next/2] = true
		at = c.segs[next/2][1-next%2]
	}
	if len(line) < 2 {
		return nil
	}
	return line
}
