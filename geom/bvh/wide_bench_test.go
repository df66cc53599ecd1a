package bvh

import (
	"math/rand/v2"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// finer cuts every triangle into nine.
func finer(m *mesh.Mesh) *mesh.Mesh {
	const n = 3
	out := &mesh.Mesh{}
	for t := range m.Tris {
		a, b, c := m.Corners(t)
		base := int32(len(out.Verts))
		at := func(i, j int) int32 { return base + int32(i*(i+1)/2+j) }
		for i := range n + 1 {
			for j := range i + 1 {
				p := a.Mul(float64(n-i) / n).Add(b.Mul(float64(i-j) / n)).Add(c.Mul(float64(j) / n))
				out.Verts = append(out.Verts, p)
			}
		}
		for i := range n {
			for j := range i + 1 {
				out.Tris = append(out.Tris, [3]int32{at(i, j), at(i+1, j), at(i+1, j+1)})
				if j < i {
					out.Tris = append(out.Tris, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
				}
			}
		}
	}
	return out
}

// surfaceRays are rays from points of a mesh into the half space before them.
func surfaceRays(m *mesh.Mesh, n int) []Ray {
	rng := rand.New(rand.NewPCG(7, 0))
	farMM := m.Box().DiagonalMM()
	rays := make([]Ray, n)
	for i := range rays {
		x, y, z := m.Corners(rng.IntN(len(m.Tris)))
		up := y.Sub(x).Cross(z.Sub(x)).Normalize()
		d := geom.Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize().Add(up)
		rays[i] = Ray{Origin: x.Add(y).Add(z).Mul(1.0 / 3).Add(up.Mul(1e-3)), Dir: d, FarMM: farMM}
	}
	return rays
}

// BenchmarkRays is the rate of closest and any hits of both ray trees over the
// invented bay of 20,000 triangles and the same cut into 183,000.
func BenchmarkRays(b *testing.B) {
	small, _ := sceneMesh(b, "bay_20k")
	for size, m := range map[string]*mesh.Mesh{"20k": small, "183k": finer(small)} {
		rays := surfaceRays(m, 1<<14)
		for kind, tree := range map[string]*RayTree{"wide": BuildRays(m), "plain": Plain(m)} {
			b.Run(size+"/"+kind+"/closest", func(b *testing.B) {
				b.ReportAllocs()
				i := 0
				for b.Loop() {
					tree.Cast(rays[i&(1<<14-1)])
					i++
				}
			})
			b.Run(size+"/"+kind+"/closest many", func(b *testing.B) {
				b.ReportAllocs()
				hits := make([]Hit, len(rays))
				for b.Loop() {
					tree.CastAll(rays, hits)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(rays)), "ns/ray")
			})
			b.Run(size+"/"+kind+"/any", func(b *testing.B) {
				b.ReportAllocs()
				i := 0
				for b.Loop() {
					tree.Blocked(rays[i&(1<<14-1)])
					i++
				}
			})
		}
	}
}

// BenchmarkBuildRays builds both ray trees over 183,000 triangles.
func BenchmarkBuildRays(b *testing.B) {
	small, _ := sceneMesh(b, "bay_20k")
	m := finer(small)
	b.Run("wide", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			BuildRays(m)
		}
	})
	b.Run("plain", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Plain(m)
		}
	})
}
