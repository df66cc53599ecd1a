package mesh_test

import (
	"math"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
)

func isClosedLine(line []geom.Vec) bool { return len(line) > 3 && line[0] == line[len(line)-1] }

// TestSectionOfCylinder: a plane tilted by 45° about X cuts the 60 mm cylinder
// in an ellipse with half axes r and r/cos 45°. The cylinder has 48 facets
// around (its stated chord error is 30·(1-cos(π/48)) mm), so the outline is the affine image of a regular polygon inscribed in
// the circle: its area is exactly the polygon's area over cos 45°.
func TestSectionOfCylinder(t *testing.T) {
	const radiusMM, sides = 30.0, 48
	m := load(t, "shapes_open/cylinder.stl")
	c := m.Box().Center()
	tilt := geom.Vec{0, -math.Sqrt2 / 2, math.Sqrt2 / 2}
	pose := geom.About(geom.Vec{}, geom.Turn(geom.Vec{0.2, 0.4, -0.9}), geom.Vec{2500, 300, 700})
	plane := mesh.Plane{Point: pose.Point(c), Normal: pose.Dir(tilt).Mul(3)}
	lines := mesh.Section(m, pose, plane)
	if len(lines) != 1 || !isClosedLine(lines[0]) {
		t.Fatalf("%d outlines", len(lines))
	}
	wantMM2 := sides / 2 * radiusMM * radiusMM * math.Sin(2*math.Pi/sides) * math.Sqrt2
	// float32 corners of 30 mm are off by 1e-6 mm, of an outline of 230 mm.
	if got := mesh.OutlineAreaMM2(lines[0], plane.Normal); math.Abs(got-wantMM2) > 1e-3 {
		t.Errorf("area %.9g mm², want %.9g", got, wantMM2)
	}
	var least, most float64 = math.Inf(1), 0
	for _, p := range lines[0] {
		r := p.Sub(plane.Point).Len()
		least, most = min(least, r), max(most, r)
		if off := math.Abs(p.Sub(plane.Point).Dot(plane.Normal.Normalize())); off > 1e-10 {
			t.Fatalf("point %g mm off the plane", off)
		}
	}
	// The chord error of 48 sides is 30·(1-cos(π/48)) = 0.0642 mm, √2 of it along
	// the long axis.
	if math.Abs(least-radiusMM) > 0.07 || math.Abs(most-radiusMM*math.Sqrt2) > 0.1 {
		t.Errorf("half axes %g and %g mm, want 30 and %g", least, most, radiusMM*math.Sqrt2)
	}
}

// TestSectionsAddUpToTheVolume: by Cavalieri's principle the signed areas of
// many slices sum to the volume; hollows must count negative for that.
func TestSectionsAddUpToTheVolume(t *testing.T) {
	const slices = 1000
	for _, name := range []string{"hollow_box", "torus_a", "two_bodies", "bent_tube"} {
		m := load(t, "shapes_open/"+name+".stl")
		normal := geom.Vec{0.3, -0.5, 0.8}.Normalize()
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range m.Verts {
			low, high = min(low, v.Dot(normal)), max(high, v.Dot(normal))
		}
		stepMM := (high - low) / slices
		var volumeMM3 float64
		for i := range slices {
			at := low + (float64(i)+0.5)*stepMM
			for _, line := range mesh.Section(m, geom.Identity(), mesh.Plane{Point: normal.Mul(at), Normal: normal}) {
				if !isClosedLine(line) {
					t.Fatalf("%s: open outline in slice %d", name, i)
				}
				volumeMM3 += mesh.OutlineAreaMM2(line, normal) * stepMM
			}
		}
		// The midpoint rule errs by about (1/slices)² of the bends in the area.
		if want := mesh.Measure(m).VolumeMM3; math.Abs(volumeMM3-want) > 1e-5*want {
			t.Errorf("%s: slices give %.9g mm³, volume is %.9g", name, volumeMM3, want)
		}
	}
}

// TestSectionThroughCorners: planes through corners, edges and whole faces.
func TestSectionThroughCorners(t *testing.T) {
	m := load(t, "shapes_open/box_a.stl") // 60 x 40 x 30 mm about the origin
	x, z := geom.Vec{1, 0, 0}, geom.Vec{0, 0, 1}
	turned := geom.About(geom.Vec{7, 8, 9}, geom.Turn(geom.Vec{0.3, 0.7, 1.9}), geom.Vec{1000, -300, 400})
	for _, c := range []struct {
		name   string
		pose   geom.Pose
		plane  mesh.Plane
		lines  int
		areaMM float64
	}{
		{"middle", geom.Identity(), mesh.Plane{Normal: z}, 1, 60 * 40},
		{"top face, part behind", geom.Identity(), mesh.Plane{Point: geom.Vec{0, 0, 15}, Normal: z}, 1, 60 * 40},
		{"bottom face, part ahead", geom.Identity(), mesh.Plane{Point: geom.Vec{0, 0, -15}, Normal: z}, 0, 0},
		{"bottom face seen from below", geom.Identity(), mesh.Plane{Point: geom.Vec{0, 0, -15}, Normal: z.Mul(-1)}, 1, 60 * 40},
		{"through four edges", geom.Identity(), mesh.Plane{Normal: geom.Vec{2, 3, 0}}, 1, math.Hypot(60, 40) * 30},
		{"through an edge only", geom.Identity(), mesh.Plane{Point: geom.Vec{30, 20, 0}, Normal: geom.Vec{1, 1, 0}}, 0, 0},
		{"beside", geom.Identity(), mesh.Plane{Point: geom.Vec{31, 0, 0}, Normal: x}, 0, 0},
		{"posed face", turned, mesh.Plane{Point: turned.Point(geom.Vec{0, 0, 15}), Normal: turned.Dir(z)}, 1, 60 * 40},
		{"no normal", geom.Identity(), mesh.Plane{}, 0, 0},
	} {
		lines := mesh.Section(m, c.pose, c.plane)
		var areaMM2 float64
		kept := 0
		for _, line := range lines {
			if len(line) > 3 {
				kept++
				areaMM2 += mesh.OutlineAreaMM2(line, c.plane.Normal)
			}
			if line[0] != line[len(line)-1] {
				t.Errorf("%s: open outline %v", c.name, line)
			}
		}
		if kept != c.lines || math.Abs(areaMM2-c.areaMM) > 1e-8 {
			t.Errorf("%s: %d outlines of %g mm², want %d of %g", c.name, kept, areaMM2, c.lines, c.areaMM)
		}
	}
}

// TestSectionOfDamagedMeshes: a sheet gives lines from border to border, mixed
// winding still closes.
func TestSectionOfDamagedMeshes(t *testing.T) {
	for _, line := range mesh.Section(load(t, "shapes_open/bad_flipped.stl"), geom.Identity(), mesh.Plane{Normal: geom.Vec{1, 2, 3}}) {
		if !isClosedLine(line) {
			t.Errorf("mixed winding leaves an outline of %d points open", len(line))
		}
	}
	sheet := &mesh.Mesh{Verts: []geom.Vec{{0, 0, 0}, {4, 0, 0}, {4, 2, 0}, {0, 2, 0}}, Tris: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	lines := mesh.Section(sheet, geom.Identity(), mesh.Plane{Point: geom.Vec{1, 0, 0}, Normal: geom.Vec{1, 0, 0}})
	if len(lines) != 1 || len(lines[0]) != 3 {
		t.Fatalf("sheet: %v", lines)
	}
	// Material of a sheet facing up, seen along -X: below it, so the line runs
	// to the left.
	if first, last := lines[0][0], lines[0][2]; first.Sub(last).Len() != 2 || last[1] > first[1] {
		t.Errorf("sheet is cut from %v to %v", first, last)
	}
}

// TestSectionLeavesOutLooseFlatFacets: a facet without area, but with three
// corners of its own, lies loose in a closed cube. The cube is closed without
// it, so its outlines must be closed too; where such facets are what closes a
// seam, they are cut.
func TestSectionLeavesOutLooseFlatFacets(t *testing.T) {
	loose := load(t, "shapes_open/box_a.stl")
	box := loose.Box()
	n := int32(len(loose.Verts))
	for _, share := range []float64{0.1, 0.5, 0.9} {
		loose.Verts = append(loose.Verts, box.Min.Add(box.Max.Sub(box.Min).Mul(share)))
	}
	loose.Verts[n+1][0] += 1e-6 // mm: below the rounding of float32, above that of the cut
	loose.Tris = append(loose.Tris, [3]int32{n, n + 1, n + 2})
	if h := mesh.Inspect(loose); !h.Closed || h.Degenerate != 1 {
		t.Fatalf("health %+v", h)
	}
	for _, shift := range []float64{0.2, 0.5, 0.7} {
		at := box.Min.Add(box.Max.Sub(box.Min).Mul(shift))
		lines := mesh.Section(loose, geom.Identity(), mesh.Plane{Point: at, Normal: geom.Vec{0.1, 0.2, 1}})
		if len(lines) != 1 || !isClosedLine(lines[0]) {
			t.Errorf("at %g of the cube: outlines %v", shift, lines)
		}
	}

	// A seam: one edge of a facet is split at its middle on one side only, and a
	// flat facet fills the gap of no width.
	seam := load(t, "shapes_open/box_a.stl")
	tri := seam.Tris[0]
	a, b := tri[0], tri[1]
	middle := int32(len(seam.Verts))
	seam.Verts = append(seam.Verts, seam.Verts[a].Add(seam.Verts[b]).Mul(0.5))
	seam.Tris[0] = [3]int32{a, middle, tri[2]}
	seam.Tris = append(seam.Tris, [3]int32{middle, b, tri[2]}, [3]int32{a, b, middle})
	if h := mesh.Inspect(seam); !h.Closed {
		t.Fatalf("health %+v", h)
	}
	along := seam.Verts[b].Sub(seam.Verts[a])
	lines := mesh.Section(seam, geom.Identity(), mesh.Plane{Point: seam.Verts[a].Add(along.Mul(0.3)), Normal: along})
	if len(lines) != 1 || !isClosedLine(lines[0]) {
		t.Errorf("across the seam: outlines %v", lines)
	}
}
