package mesh

import (
	"math"
	"testing"

	"aftbay/geom"
)

// tube returns a cylinder of n strips about Z from z=0 to high, its ends closed,
// posed and with float32 corners as from a file; taper makes it a cone.
func tube(n int, radiusMM, highMM, taper float64, pose geom.Pose) *Mesh {
	m := &Mesh{}
	add := func(p geom.Vec) {
		p = pose.Point(p)
		for k := range p {
			p[k] = float64(float32(p[k]))
		}
		m.Verts = append(m.Verts, p)
	}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		add(geom.Vec{radiusMM * c, radiusMM * s, 0})
		add(geom.Vec{taper * radiusMM * c, taper * radiusMM * s, highMM})
	}
	add(geom.Vec{})
	add(geom.Vec{0, 0, highMM})
	for i := range n {
		a, b := int32(2*i), int32(2*((i+1)%n))
		m.Tris = append(m.Tris, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1}, [3]int32{b, a, int32(2 * n)}, [3]int32{a + 1, b + 1, int32(2*n + 1)})
	}
	return m
}

// The corners of a faceted cylinder lie on it: axis and radius are found however
// coarse it is, to the rounding of float32 corners (about 1e-4 mm at 2 m).
func TestRoundFaceIsTheCylinder(t *testing.T) {
	pose := geom.Pose{R: geom.Turn(geom.Vec{0.4, -1.1, 2}), T: geom.Vec{1800, -240, 610}}
	for _, n := range []int{10, 24, 96} {
		f := NewFaces(tube(n, 27, 140, 1, pose))
		for _, tri := range []int{0, 1, 4 * (n / 2)} {
			r, ok := f.Round(tri)
			if !ok || len(r.Facets) != 2*n {
				t.Fatalf("%d strips, facet %d: found %v with %d facets, want %d", n, tri, ok, len(r.Facets), 2*n)
			}
			from, to := pose.Point(geom.Vec{}), pose.Point(geom.Vec{0, 0, 140})
			if r.From.Sub(from).Len() > r.From.Sub(to).Len() {
				from, to = to, from
			}
			if math.Abs(r.RadiusMM-27) > 5e-4 || r.From.Sub(from).Len() > 2e-3 || r.To.Sub(to).Len() > 2e-3 || r.OffMM > 1e-3 {
				t.Errorf("%d strips: radius %v, from %v to %v, want 27, %v, %v; off %v", n, r.RadiusMM, r.From, r.To, from, to, r.OffMM)
			}
		}
		if _, ok := f.Round(2); ok {
			t.Errorf("%d strips: the flat end counts as round", n)
		}
	}
}

func TestRoundFaceOfABarStopsAtTheFlats(t *testing.T) {
	// A bar: two flats 60 long joined by half cylinders of 20 mm radius.
	const n, r = 16, 20.0
	var rim []geom.Vec
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi * float64(i) / n)
		rim = append(rim, geom.Vec{30 + r*s, r * c, 0})
	}
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi * float64(i) / n)
		rim = append(rim, geom.Vec{-30 - r*s, -r * c, 0})
	}
	m := &Mesh{}
	for _, p := range rim {
		m.Verts = append(m.Verts, p, p.Add(geom.Vec{0, 0, 50}))
	}
	for i := range rim {
		a, b := int32(2*i), int32(2*((i+1)%len(rim)))
		m.Tris = append(m.Tris, [3]int32{a, a + 1, b + 1}, [3]int32{a, b + 1, b})
	}
	f := NewFaces(m)
	got, ok := f.Round(2 * (n / 2))
	if !ok || math.Abs(got.RadiusMM-r) > 1e-9 || math.Abs(got.From[0]-30) > 1e-9 || len(got.Facets) != 2*n {
		t.Errorf("the round end: %v %+v", ok, got)
	}
	flat, facets, ok := f.Flat(2 * n)
	if !ok || len(facets) != 2 || math.Abs(math.Abs(flat[1])-1) > 1e-12 {
		t.Errorf("the flat: normal %v, facets %v", flat, facets)
	}
}

func TestWhatIsNotRoundSaysSo(t *testing.T) {
	for _, n := range []int{12, 40, 400} {
		if r, ok := NewFaces(tube(n, 50, 60, 0.6, geom.Identity())).Round(0); ok {
			t.Errorf("a cone of %d strips: %+v", n, r)
		}
	}
	if _, ok := NewFaces(tube(4, 50, 60, 1, geom.Identity())).Round(0); ok {
		t.Error("a square bar")
	}
	f := NewFaces(&Mesh{Verts: []geom.Vec{{}, {1, 0, 0}, {2, 0, 0}}, Tris: [][3]int32{{0, 1, 2}, {0, 0, 1}}})
	for _, tri := range []int{-1, 0, 1, 2} {
		if _, ok := f.Round(tri); ok {
			t.Errorf("facet %d of a mesh without area", tri)
		}
	}
}
