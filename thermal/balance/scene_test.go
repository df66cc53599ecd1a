package balance

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
	"aftbay/geom/scene"
)

// body is one part of a test layout.
type body struct {
	part layout.Part
	mesh *mesh.Mesh
}

// stand builds the scene of some bodies through files, as a user would.
func stand(t testing.TB, heat *layout.Heat, bodies ...body) *scene.Scene {
	t.Helper()
	dir := t.TempDir()
	doc := &layout.Document{Title: "test", Heat: heat}
	for _, b := range bodies {
		b.part.Mesh = b.part.Name + ".stl"
		if b.part.Role == "" {
			b.part.Role = "body"
		}
		f, err := os.Create(filepath.Join(dir, b.part.Mesh))
		if err != nil {
			t.Fatal(err)
		}
		if err := b.mesh.WriteSTL(f, b.part.Name); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		doc.Parts = append(doc.Parts, b.part)
	}
	if err := layout.Save(dir, doc); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func solve(t testing.TB, s *scene.Scene) *Result {
	t.Helper()
	r, err := Run(context.Background(), s, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// sphere is closed, with the true sphere's area.
func sphere(radiusMM float64) *mesh.Mesh {
	m := plain.Sheet(48, 24, func(u, v float64) geom.Vec {
		s, c := math.Sincos(2 * math.Pi * math.Mod(u, 1))
		sv, cv := math.Sincos(math.Pi * v)
		return geom.Vec{radiusMM * sv * c, radiusMM * sv * s, -radiusMM * cv}
	})
	return m.Scaled(math.Sqrt(4 * math.Pi * radiusMM * radiusMM / mesh.Measure(m).AreaMM2))
}

// open takes one triangle out, which makes a sheet of a solid.
func open(m *mesh.Mesh) *mesh.Mesh {
	m.Tris = m.Tris[1:]
	return m
}

// tube is an open cylinder along z with the true cylinder's area, outside out.
func tube(radiusMM, lengthMM float64) *mesh.Mesh {
	const n = 64
	radiusMM *= math.Pi / n / math.Sin(math.Pi/n)
	return plain.Sheet(n, 8, func(u, v float64) geom.Vec {
		s, c := math.Sincos(2 * math.Pi * math.Mod(u, 1))
		return geom.Vec{radiusMM * c, radiusMM * s, lengthMM * (v - 0.5)}
	})
}

// brick is a closed box about its centre.
func brick(size geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		m.Verts = append(m.Verts, geom.Vec{(float64(i&1) - 0.5) * size[0], (float64(i>>1&1) - 0.5) * size[1], (float64(i>>2&1) - 0.5) * size[2]})
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Tris = append(m.Tris, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// noSpread moves nothing.
func noSpread() *layout.Spread {
	return &layout.Spread{SourceK: new(0.0), Emissivity: new(0.0), Film: &layout.Range{1, 1}, AirK: new(0.0)}
}

// find returns a part's answer by name.
func find(t testing.TB, c *Case, name string) *PartHeat {
	t.Helper()
	for i := range c.Parts {
		if c.Parts[i].Name == name {
			return &c.Parts[i]
		}
	}
	t.Fatalf("case %q has no part %q", c.Name, name)
	return nil
}
