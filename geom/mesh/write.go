package mesh

import (
	"bufio"
	"io"
	"math"
	"strings"

	"github.com/hschendel/stl"

	"aftbay/geom"
	"aftbay/geom/say"
)

// WriteSTL writes m as binary STL with title in the header (80 bytes of it).
// Coordinates are rounded to float32, which is exact for what ReadSTL gave.
// It refuses numbers that binary STL cannot hold or ReadSTL would not take.
func (m *Mesh) WriteSTL(w io.Writer, title string) error {
	// Some readers take a header that begins with "solid" for ASCII.
	if strings.HasPrefix(strings.ToLower(strings.TrimSpace(title)), "solid") {
		title = "part " + title
	}
	return m.write(w, stl.Solid{Name: title})
}

// WriteASCII writes m as ASCII STL, five times as long; numbers have the digits
// that give the same float32 when read. The title is put on one line. It refuses
// what WriteSTL refuses.
func (m *Mesh) WriteASCII(w io.Writer, title string) error {
	return m.write(w, stl.Solid{Name: strings.Join(strings.Fields(title), " "), IsAscii: true})
}

func (m *Mesh) write(w io.Writer, solid stl.Solid) error {
	if len(m.Tris) > maxFacets {
		return say.Errorf("stl: %w: %d facets, at most %d can be written", ErrTooLarge, len(m.Tris), maxFacets)
	}
	solid.Triangles = make([]stl.Triangle, len(m.Tris))
	for t, tri := range m.Tris {
		facet := &solid.Triangles[t]
		for k, v := range tri {
			p := m.Verts[v]
			for _, x := range p {
				if kind := judge(x); kind != nil {
					return say.Errorf("stl: %w: facet %d, corner %d at %v; %s", kind, t+1, k+1, p, mendFor(kind))
				}
			}
			facet.Vertices[k] = float32s(p)
		}
		facet.Normal = float32s(unitNormal(m.Corners(t)))
	}
	b := bufio.NewWriter(w)
	if err := solid.WriteAll(b); err != nil {
		return say.Errorf("stl: write: %w", err)
	}
	if err := b.Flush(); err != nil {
		return say.Errorf("stl: write: %w", err)
	}
	return nil
}

func float32s(p geom.Vec) stl.Vec3 {
	return stl.Vec3{float32(p[0]), float32(p[1]), float32(p[2])}
}

// unitNormal returns the outward unit normal of a triangle, zero if it has no
// area.
func unitNormal(a, b, c geom.Vec) geom.Vec {
	n := b.Sub(a).Cross(c.Sub(a))
	length := n.Len()
	if length == 0 || math.IsInf(length, 0) {
		return geom.Vec{}
	}
	return n.Mul(1 / length)
}
