package shield

import (
	"context"
	"math"

	"aftbay/geom"
	"aftbay/geom/dist"
	"aftbay/geom/layout"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
	"aftbay/geom/scene"
)

// The two forms.
const (
	Shell = "shell"
	Plate = "plate"
)

// Of a shield that does not say so. Common practice, no source.
const (
	usualOffsetMM = 15
	// plateMargin is how much larger than what it covers a plate is.
	plateMargin = 1.2
	leastSideMM = 20
)

// facingCos: a facet counts as facing a part down to this cosine (about 78°);
// flatter than that hardly any radiation goes.
const facingCos = 0.2

// sharpestCos bounds how far a shell's corner is carried out: the offset over
// the mean cosine of its facets, at most twice the offset.
const sharpestCos = 0.5

// Form returns the sheet of a shield, vehicle frame; its outside looks away
// from the part that it covers. It fails when a named part does not exist, when
// the two are one, or when nothing of the one faces the other.
func Form(ctx context.Context, s *scene.Scene, sh *layout.Shield) (*mesh.Mesh, error) {
	over, err := partOf(s, "over", sh.Over)
	if err != nil {
		return nil, err
	}
	aim, err := partOf(s, "for", sh.For)
	if err != nil {
		return nil, err
	}
	if over == aim {
		return nil, say.Errorf("over and for are both %q: name the part that it covers and another that it protects", sh.Over)
	}
	offsetMM := float64(usualOffsetMM)
	if sh.OffsetMM != nil {
		offsetMM = *sh.OffsetMM
	}
	if !(offsetMM > 0) {
		return nil, say.Errorf("offset_mm %g: give a distance above 0", offsetMM)
	}
	switch sh.Form {
	case "", Shell:
		return shell(over, aim, offsetMM)
	case Plate:
		return plate(ctx, s, over, aim, offsetMM, sh)
	}
	return nil, say.Errorf("form %q: give %q or %q", sh.Form, Shell, Plate)
}

func partOf(s *scene.Scene, key, name string) (*scene.Part, error) {
	i, ok := s.Index(name)
	if !ok {
		return nil, say.Errorf("%s %q: no part has that name", key, name)
	}
	return &s.Parts[i], nil
}

// shell moves the facets of a part that face another outward. Of a sheet whose
// outside faces away, it takes the inside.
func shell(over, aim *scene.Part, offsetMM float64) (*mesh.Mesh, error) {
	posed := make([]geom.Vec, len(over.Mesh.Verts))
	for v, p := range over.Mesh.Verts {
		posed[v] = over.Pose.Point(p)
	}
	kept, normals := facing(over.Mesh.Tris, posed, aim)
	if len(kept) == 0 && !over.Closed {
		turned := make([][3]int32, len(over.Mesh.Tris))
		for i, t := range over.Mesh.Tris {
			turned[i] = [3]int32{t[0], t[2], t[1]}
		}
		kept, normals = facing(turned, posed, aim)
	}
	if len(kept) == 0 {
		return nil, say.Errorf("nothing of %q faces %q: a shell there would shield nothing", over.Name, aim.Name)
	}
	return moved(posed, kept, normals, offsetMM), nil
}

// facing returns the facets whose outside faces a part, with their normals times
// twice the area.
func facing(tris [][3]int32, posed []geom.Vec, aim *scene.Part) (kept [][3]int32, normals []geom.Vec) {
	back := aim.Pose.Inverse()
	for _, t := range tris {
		a, b, c := posed[t[0]], posed[t[1]], posed[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Len() == 0 {
			continue
		}
		mid := a.Add(b).Add(c).Mul(1.0 / 3)
		near, ok := aim.Tree.Nearest(back.Point(mid), math.Inf(1))
		if !ok {
			continue
		}
		way := aim.Pose.Point(near.Point).Sub(mid)
		if n.Dot(way) >= facingCos*n.Len()*math.Max(way.Len(), leastGapMM) {
			kept, normals = append(kept, t), append(normals, n)
		}
	}
	return kept, normals
}

// leastGapMM keeps a direction between touching points finite.
const leastGapMM = 1e-9

// moved returns facets moved along the mean normals of their corners.
func moved(posed []geom.Vec, kept [][3]int32, normals []geom.Vec, offsetMM float64) *mesh.Mesh {
	mean := map[int32]geom.Vec{}
	for k, t := range kept {
		for _, v := range t {
			mean[v] = mean[v].Add(normals[k])
		}
	}
	// How far a corner goes so that its facets come to stand at the offset.
	cos, count := map[int32]float64{}, map[int32]int{}
	for k, t := range kept {
		for _, v := range t {
			cos[v] += mean[v].Normalize().Dot(normals[k].Normalize())
			count[v]++
		}
	}
	out := &mesh.Mesh{}
	at := map[int32]int32{}
	for _, t := range kept {
		var mine [3]int32
		for i, v := range t {
			k, known := at[v]
			if !known {
				k = int32(len(out.Verts))
				at[v] = k
				by := offsetMM / math.Max(sharpestCos, cos[v]/float64(count[v]))
				out.Verts = append(out.Verts, posed[v].Add(mean[v].Normalize().Mul(by)))
			}
			mine[i] = k
		}
		out.Tris = append(out.Tris, mine)
	}
	return out
}

// plate stands between two parts, at an offset from the first.
func plate(ctx context.Context, s *scene.Scene, over, aim *scene.Part, offsetMM float64, sh *layout.Shield) (*mesh.Mesh, error) {
	near, err := dist.Between(ctx, s.Body(over.Index), s.Body(aim.Index), dist.Options{})
	if err != nil {
		return nil, err
	}
	way := near.PointB.Sub(near.PointA)
	if near.Overlap || way.Len() <= leastGapMM {
		return nil, say.Errorf("%q and %q touch: there is no room for a plate between them", over.Name, aim.Name)
	}
	normal := way.Normalize()
	center := near.PointA.Add(normal.Mul(offsetMM))
	wide, high := across(normal)
	widthMM, heightMM := coverMM(over, aim, wide), coverMM(over, aim, high)
	if sh.WidthMM != nil {
		widthMM = *sh.WidthMM
	}
	if sh.HeightMM != nil {
		heightMM = *sh.HeightMM
	}
	if !(widthMM > 0 && heightMM > 0) {
		return nil, say.Errorf("width_mm %g, height_mm %g: give lengths above 0", widthMM, heightMM)
	}
	w, h := wide.Mul(widthMM/2), high.Mul(heightMM/2)
	return &mesh.Mesh{
		Verts: []geom.Vec{center.Sub(w).Sub(h), center.Add(w).Sub(h), center.Add(w).Add(h), center.Sub(w).Add(h)},
		Tris:  [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}, nil
}

// coverMM is the extent of the smaller of two parts along a line, with a margin.
func coverMM(over, aim *scene.Part, line geom.Vec) float64 {
	sideMM := math.Inf(1)
	for _, p := range []*scene.Part{over, aim} {
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range p.Mesh.Verts {
			along := p.Pose.Point(v).Dot(line)
			low, high = math.Min(low, along), math.Max(high, along)
		}
		sideMM = math.Min(sideMM, high-low)
	}
	return math.Max(leastSideMM, plateMargin*sideMM)
}

// across returns two unit vectors square to a normal, the first level where the
// normal is not upright, so that wide × high = normal.
func across(normal geom.Vec) (wide, high geom.Vec) {
	up := geom.Vec{0, 0, 1}
	if math.Abs(normal[2]) > 0.9 {
		up = geom.Vec{1, 0, 0}
	}
	wide = up.Cross(normal).Normalize()
	return wide, normal.Cross(wide)
}
