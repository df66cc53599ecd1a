package clearance

import (
	"math"
	"sync"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/mesh"
)

const (
	// smoothRad is the largest bend between two facets that still stand for one
	// smooth surface: twelve facets a turn and finer. Common practice, no source.
	smoothRad = math.Pi / 6
	// onEdgeMM is how near a witness point lies to an edge to lie on it: far more
	// than rounding, far less than a facet.
	onEdgeMM = 1e-3
	// flatMM is what the rounding of normals makes of a flat face, at most: a chord
	// error below it is none.
	flatMM = 1e-6
)

// witness is where on a mesh a nearest point lies.
type witness struct {
	tri   int
	holds [3]bool // corners that span the point: three inside, two on an edge, one at a vertex
	known bool
}

// witnessOf places a point, given in the vehicle frame, on a triangle of a body.
func witnessOf(b dist.Body, tri int, point geom.Vec) witness {
	m := b.Tree.Mesh()
	if tri < 0 || tri >= len(m.Tris) {
		return witness{}
	}
	partPoint := b.Pose.Inverse().Point(point)
	p, q, r := m.Corners(tri)
	corners := [3]geom.Vec{p, q, r}
	w := witness{tri: tri, known: true}
	for k := range 3 { // is it off the edge opposite corner k?
		from, edge := corners[(k+1)%3], corners[(k+2)%3].Sub(corners[(k+1)%3])
		w.holds[k] = partPoint.Sub(from).Cross(edge).Len() > onEdgeMM*edge.Len()
	}
	return w
}

// chords holds the chord errors of a mesh, prepared on first use.
type chords struct {
	once sync.Once
	of   *mesh.Chords
}

// atMM returns how far the true surface may lie from the mesh at a witness
// point. On an edge or at a vertex the triangles around it all count, since any
// of them may be the one that was found: what is returned there is at least the
// largest of them.
func (c *chords) atMM(m *mesh.Mesh, w witness) float64 {
	c.once.Do(func() { c.of = mesh.NewChords(m, smoothRad) })
	if w.holds == [3]bool{true, true, true} {
		return c.of.AtMM(w.tri)
	}
	leastMM, mostMM := math.Inf(1), 0.0
	for k, v := range m.Tris[w.tri] {
		aroundMM := c.of.AroundMM(v)
		mostMM = max(mostMM, aroundMM)
		if w.holds[k] {
			leastMM = min(leastMM, aroundMM)
		}
	}
	return min(leastMM, mostMM)
}

// chordMM returns the chord errors of both parts at the nearest points of a gap
// together, nil where these are not known. That of a part that has grown is the
// cold one: a millimetre per metre of growth is a thousandth of it.
func (c *check) chordMM(j job, g *gap) *float64 {
	if !g.witnesses[0].known || !g.witnesses[1].known {
		return nil
	}
	var sumMM float64
	for side, i := range [2]int{j.a, j.b} {
		m := c.scene.Parts[i].Mesh
		sumMM += c.chords[m].atMM(m, g.witnesses[side])
	}
	if sumMM < flatMM {
		sumMM = 0
	}
	return &sumMM
}

// chordsOf returns an entry for every mesh of the scene, those of the previous
// run where there are some.
func (c *check) chordsOf() map[*mesh.Mesh]*chords {
	all := map[*mesh.Mesh]*chords{}
	for i := range c.scene.Parts {
		m := c.scene.Parts[i].Mesh
		if c.prev != nil && c.prev.chords[m] != nil {
			all[m] = c.prev.chords[m]
		} else if all[m] == nil {
			all[m] = &chords{}
		}
	}
	return all
}
