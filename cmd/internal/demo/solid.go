package demo

import (
	"math"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

// Axis numbers of a Vec.
const (
	axisX = iota
	axisY
	axisZ
)

// Sides of round things: 32 keep the chord error of a drum of 150 mm radius at
// 0.7 mm, 20 that of a tube of 21 mm radius below 0.3 mm.
const (
	roundSides = 32
	tubeSides  = 20
)

// point2 is a corner of an outline, mm: (y, z), (x, z) or (x, y) for a prism
// along X, Y or Z; (along, radius) for a turned body.
type point2 [2]float64 // Bare numbers: mm, as the comment says

// box returns the closed box between two corners.
func box(least, most geom.Vec) *mesh.Mesh {
	return prism(axisX, least[0], most[0], []point2{
		{least[1], least[2]}, {most[1], least[2]}, {most[1], most[2]}, {least[1], most[2]},
	})
}

// prism returns the closed solid that an outline sweeps along an axis. The
// outline may be concave and run either way round; it must not cross itself.
func prism(axis int, fromMM, toMM float64, outline []point2) *mesh.Mesh {
	n := int32(len(outline))
	m := &mesh.Mesh{}
	for _, along := range []float64{fromMM, toMM} {
		for _, p := range outline {
			m.Verts = append(m.Verts, lift(axis, along, p))
		}
	}
	for i := range n {
		j := (i + 1) % n
		m.Tris = append(m.Tris, [3]int32{i, j, n + j}, [3]int32{i, n + j, n + i})
	}
	for _, t := range ears(outline) {
		m.Tris = append(m.Tris, [3]int32{t[2], t[1], t[0]}, [3]int32{n + t[0], n + t[1], n + t[2]})
	}
	return outward(m)
}

// lift puts an outline point into space.
func lift(axis int, alongMM float64, p point2) geom.Vec {
	switch axis {
	case axisX:
		return geom.Vec{alongMM, p[0], p[1]}
	case axisY:
		return geom.Vec{p[0], alongMM, p[1]}
	}
	return geom.Vec{p[0], p[1], alongMM}
}

// ears cuts a simple polygon into triangles that run the polygon's own way.
func ears(outline []point2) [][3]int32 {
	sign := math.Copysign(1, polygonArea(outline))
	left := make([]int32, len(outline))
	for i := range left {
		left[i] = int32(i)
	}
	var out [][3]int32
	for len(left) > 3 {
		cut := len(left) - 1 // a simple polygon always has an ear; the last corner stands in
		for i := range left {
			if isEar(outline, left, i, sign) {
				cut = i
				break
			}
		}
		k := len(left)
		out = append(out, [3]int32{left[(cut+k-1)%k], left[cut], left[(cut+1)%k]})
		left = append(left[:cut], left[cut+1:]...)
	}
	return append(out, [3]int32{left[0], left[1], left[2]})
}

// isEar reports whether the corner at place i juts out and holds no other corner.
func isEar(outline []point2, left []int32, i int, sign float64) bool { // Bare numbers: sign is ±1
	k := len(left)
	a, b, c := outline[left[(i+k-1)%k]], outline[left[i]], outline[left[(i+1)%k]]
	if sign*cross2(a, b, c) <= 0 {
		return false
	}
	for j, v := range left {
		if j == i || j == (i+k-1)%k || j == (i+1)%k {
			continue
		}
		p := outline[v]
		if sign*cross2(a, b, p) >= 0 && sign*cross2(b, c, p) >= 0 && sign*cross2(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// cross2 is twice the signed area of a triangle.
func cross2(a, b, c point2) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// polygonArea is the signed area of an outline.
func polygonArea(outline []point2) float64 {
	var twice float64
	for i := range outline {
		twice += cross2(outline[0], outline[i], outline[(i+1)%len(outline)])
	}
	return twice / 2
}

// outward turns every facet round if the solid's volume comes out negative.
func outward(m *mesh.Mesh) *mesh.Mesh {
	if mesh.Measure(m).VolumeMM3 < 0 {
		for t, v := range m.Tris {
			m.Tris[t] = [3]int32{v[0], v[2], v[1]}
		}
	}
	return m
}

// rounded returns the outline of a rectangle whose corners are rounded.
func rounded(least, most point2, radiusMM float64) []point2 {
	const steps = 5 // per quarter turn
	centres := [4]point2{
		{most[0] - radiusMM, most[1] - radiusMM},
		{least[0] + radiusMM, most[1] - radiusMM},
		{least[0] + radiusMM, least[1] + radiusMM},
		{most[0] - radiusMM, least[1] + radiusMM},
	}
	var out []point2
	for quarter, c := range centres {
		for k := range steps + 1 {
			sin, cos := math.Sincos(math.Pi / 2 * (float64(quarter) + float64(k)/steps))
			out = append(out, point2{c[0] + radiusMM*cos, c[1] + radiusMM*sin})
		}
	}
	return out
}

// strip returns the outline of a sheet: the line and, thicknessMM lower, the
// same line backwards.
func strip(line []point2, thicknessMM float64) []point2 {
	out := append([]point2{}, line...)
	for i := len(line) - 1; i >= 0; i-- {
		out = append(out, point2{line[i][0], line[i][1] - thicknessMM})
	}
	return out
}

// turned returns the solid that a closed profile of (along, radius) points
// makes about the line from origin along dir. Points of radius 0 lie on it.
func turned(origin, dir geom.Vec, profile []point2, sides int) *mesh.Mesh {
	dir = dir.Normalize()
	across := dir.Cross(geom.Vec{0.36, 0.48, 0.8}).Normalize()
	up := dir.Cross(across)
	m := &mesh.Mesh{}
	rings := make([][]int32, len(profile)) // one vertex on the axis, else sides of them
	for i, p := range profile {
		centre := origin.Add(dir.Mul(p[0]))
		count := sides
		if p[1] == 0 {
			count = 1
		}
		for k := range count {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(sides))
			rings[i] = append(rings[i], int32(len(m.Verts)))
			m.Verts = append(m.Verts, centre.Add(across.Mul(p[1]*cos)).Add(up.Mul(p[1]*sin)))
		}
	}
	for i := range profile {
		m.Tris = append(m.Tris, band(rings[i], rings[(i+1)%len(rings)], sides)...)
	}
	return outward(m)
}

// band joins two rings; a ring of one vertex makes a fan, two make nothing.
func band(a, b []int32, sides int) [][3]int32 {
	var out [][3]int32
	for k := range sides {
		a0, a1 := a[k%len(a)], a[(k+1)%len(a)]
		b0, b1 := b[k%len(b)], b[(k+1)%len(b)]
		if a0 != a1 {
			out = append(out, [3]int32{a0, a1, b1})
		}
		if b0 != b1 {
			out = append(out, [3]int32{a0, b1, b0})
		}
	}
	return out
}

// rod returns the round solid between two points.
func rod(from, to geom.Vec, radiusMM float64) *mesh.Mesh {
	l := to.Sub(from).Len()
	return turned(from, to.Sub(from), []point2{{0, 0}, {0, radiusMM}, {l, radiusMM}, {l, 0}}, roundSides)
}

// wedge returns the closed solid between two four-cornered faces that run the
// same way round.
func wedge(near, far [4]geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{Verts: append(near[:], far[:]...)}
	for i := range int32(4) {
		j := (i + 1) % 4
		m.Tris = append(m.Tris, [3]int32{i, j, 4 + j}, [3]int32{i, 4 + j, 4 + i})
	}
	m.Tris = append(m.Tris, [3]int32{2, 1, 0}, [3]int32{3, 2, 0}, [3]int32{4, 5, 6}, [3]int32{4, 6, 7})
	return outward(m)
}

// sheetAlongX returns an open sheet that follows a line of (y, z) points; its
// outside lies to the right of the line, seen against X.
func sheetAlongX(fromMM, toMM float64, line []point2) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, p := range line {
		m.Verts = append(m.Verts, lift(axisX, fromMM, p), lift(axisX, toMM, p))
	}
	for k := range int32(len(line) - 1) {
		a := 2 * k
		m.Tris = append(m.Tris, [3]int32{a, a + 1, a + 3}, [3]int32{a, a + 3, a + 2})
	}
	return m
}

// halfPipe is a sheet along X: part of a cylinder about the line (y, z) =
// centre, from one angle to the other.
func halfPipe(fromMM, toMM float64, centre point2, radiusMM, fromRad, toRad float64) *mesh.Mesh {
	const steps = 16
	var line []point2
	for k := range steps + 1 {
		sin, cos := math.Sincos(fromRad + (toRad-fromRad)*float64(k)/steps)
		line = append(line, point2{centre[0] + radiusMM*cos, centre[1] + radiusMM*sin})
	}
	return sheetAlongX(fromMM, toMM, line)
}
