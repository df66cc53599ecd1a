package radiate

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

// shape is a surface of the reference file, metres.
type shape struct {
	Type                 string
	O, U, V, C, N, Axis  []float64
	P, Q                 []float64
	R, R0, R1, Ri, Ro, L float64
	HalfDeg              float64 `json:"half_deg"`
	Side                 string
}

type geometry struct {
	Dim             int
	Emitter, Target shape
	Blockers        []shape
}

type refCase struct {
	ID, Kind, Title string
	Params          json.RawMessage
	Geometry        geometry
	Expected        struct {
		F     float64
		Terms []float64
		Q, J  []float64
		T     []float64
	}
}

func readCases(t *testing.T, prefix string) []refCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var raw struct{ Cases []json.RawMessage }
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatal(err)
	}
	var out []refCase
	for _, r := range raw.Cases {
		var head struct{ ID, Kind string }
		if err := json.Unmarshal(r, &head); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(head.ID, prefix) {
			continue
		}
		var c refCase
		if head.Kind == "view_factor" || head.Kind == "closure" || head.Kind == "radiosity" {
			if err := json.Unmarshal(r, &c); err != nil {
				t.Fatalf("%s: %v", head.ID, err)
			}
			out = append(out, c)
		}
	}
	return out
}

// readKind returns the cases of a kind; figures that are no lists are left out.
func readKind(t *testing.T, kind string) []refCase {
	t.Helper()
	data, err := os.ReadFile("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	var raw struct{ Cases []json.RawMessage }
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatal(err)
	}
	var out []refCase
	for _, r := range raw.Cases {
		var c refCase
		var head struct{ Kind string }
		if err := json.Unmarshal(r, &head); err != nil {
			t.Fatal(err)
		}
		if head.Kind != kind {
			continue
		}
		if err := json.Unmarshal(r, &c); err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	if len(out) == 0 {
		t.Fatalf("no case of kind %s", kind)
	}
	return out
}

func vec(v []float64) geom.Vec {
	out := geom.Vec{}
	for i, x := range v {
		out[i] = 1000 * x
	}
	return out
}

// frame returns two vectors square to n, right-handed with it.
func frame(n geom.Vec) (a, b geom.Vec) {
	f := newAround(n.Normalize())
	return f.a, f.b
}

// facets is how many flats make a round; its radius is raised so that the area
// of the cylinder's side is the true one.
const facets = 64

var roundScale = (2 * math.Pi / facets) / (2 * math.Sin(math.Pi/facets))

// spun makes a surface of revolution about axis: profile(v) gives radius and
// height in mm. Outside is away from the axis for rising heights.
func spun(c, axis geom.Vec, nv int, profile func(v float64) (r, z float64)) *mesh.Mesh {
	a, b := frame(axis)
	k := axis.Normalize()
	return plain.Sheet(facets, nv, func(u, v float64) geom.Vec {
		r, z := profile(v)
		s, co := math.Sincos(2 * math.Pi * math.Mod(u, 1))
		r *= roundScale
		return c.Add(a.Mul(r * co)).Add(b.Mul(r * s)).Add(k.Mul(z))
	})
}

// sheet makes the mesh of a shape; halfMM is the half length of an extrusion
// where the case is two-dimensional.
func (s shape) sheet(t *testing.T, halfMM float64) *mesh.Mesh {
	t.Helper()
	mm := func(m float64) float64 { return 1000 * m }
	z := geom.Vec{0, 0, 1}
	if s.Axis != nil {
		z = geom.Vec{s.Axis[0], s.Axis[1], s.Axis[2]}
	}
	var m *mesh.Mesh
	switch s.Type {
	case "rect":
		m = plain.Sheet(1, 1, func(u, v float64) geom.Vec { return vec(s.O).Add(vec(s.U).Mul(u)).Add(vec(s.V).Mul(v)) })
	case "elem":
		n := geom.Vec{}
		copy(n[:], s.N)
		a, b := frame(n)
		const sideMM = 0.02
		if len(s.N) == 2 {
			a, b = geom.Vec{-n[1], n[0], 0}, geom.Vec{0, 0, 1}
		}
		m = plain.Sheet(1, 1, func(u, v float64) geom.Vec {
			return vec(s.P).Add(a.Mul((u - 0.5) * sideMM)).Add(b.Mul((v - 0.5) * sideMM))
		})
	case "disk", "annulus":
		n := geom.Vec{s.N[0], s.N[1], s.N[2]}
		lo, hi := mm(s.Ri), mm(s.R)
		if s.Type == "annulus" {
			hi = mm(s.Ro)
		}
		m = plain.Flipped(spun(vec(s.C), n, 4, func(v float64) (float64, float64) { return lo + (hi-lo)*v, 0 }))
	case "cyl":
		m = spun(vec(s.C), z, 1, func(v float64) (float64, float64) { return mm(s.R), mm(s.L) * v })
	case "frustum":
		m = spun(vec(s.C), z, 1, func(v float64) (float64, float64) { return mm(s.R0 + (s.R1-s.R0)*v), mm(s.L) * v })
	case "sphere":
		m = spun(vec(s.C), z, 32, func(v float64) (float64, float64) {
			sn, c := math.Sincos(math.Pi * v)
			return mm(s.R) * sn, -mm(s.R) * c
		})
	case "cap":
		half := s.HalfDeg * math.Pi / 180
		m = plain.Flipped(spun(vec(s.C), z, 24, func(v float64) (float64, float64) { sn, c := math.Sincos(half * v); return mm(s.R) * sn, mm(s.R) * c }))
	case "seg":
		p, q := vec(s.P), vec(s.Q)
		m = plain.Sheet(1, 1, func(u, v float64) geom.Vec { return p.Add(q.Sub(p).Mul(u)).Add(z.Mul((v - 0.5) * 2 * halfMM)) })
		m = plain.Flipped(m) // normal to the left of p→q: z × (q−p)
	case "circle":
		m = spun(vec(s.C).Sub(z.Mul(halfMM)), z, 1, func(v float64) (float64, float64) { return mm(s.R), 2 * halfMM * v })
	default:
		t.Fatalf("unknown shape %q", s.Type)
	}
	if s.Side == "in" {
		m = plain.Flipped(m)
	}
	return m
}
