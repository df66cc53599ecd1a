package desk

import (
	"fmt"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/render"
	"aftbay/geom/scene"
	"aftbay/gui/phrase"
	"aftbay/thermal/spot"
)

// whyKind is one colour of the map that tells why a component cannot stand
// somewhere.
type whyKind struct {
	text    string
	color   render.RGB
	reasons []string
}

// Sky blue and yellow. Source: Okabe & Ito, as the verdict colours. Read-only.
var (
	skyColor    = render.RGB{R: 86, G: 180, B: 233}
	yellowColor = render.RGB{R: 240, G: 228, B: 66}
)

// whyKinds gathers the reasons into as many colours as any eye can tell apart.
// The first is what passed. Read-only.
var whyKinds = []whyKind{
	{phrase.Of("can be mounted"), render.OkColor, []string{""}},
	{phrase.Of("too hot"), render.ShortColor, []string{spot.TooHot}},
	{phrase.Of("too close or in the way"), render.OverlapColor, []string{spot.Overlap, spot.TooClose, spot.NotKept}},
	{phrase.Of("lead too far or no way for it"), skyColor, []string{spot.TooFar, spot.Walled, spot.NoLead}},
	{phrase.Of("no tool, no way off"), yellowColor, []string{spot.NoTool, spot.NoSwing, spot.NoRemoval}},
	{phrase.Of("ground, splash, fill point"), render.AccentColor, []string{spot.NearGround, spot.Splashed, spot.OverFill}},
	{phrase.Of("not flat, or covered"), render.NoRuleColor, []string{spot.NotFlat, spot.Buried}},
}

// kindOf returns which colour a reason has.
func kindOf(reason string) int {
	return slices.IndexFunc(whyKinds, func(k whyKind) bool { return slices.Contains(k.reasons, reason) })
}

// whyMap is the map of one study, made once.
type whyMap struct {
	study *spot.Study
	hosts map[int]map[int]*mesh.Mesh // by part, by kind
}

// showWhy colours the hosts by what came of the candidates on them, instead of
// their own colour.
func (p *Painter) showWhy(out *Picture, s *State, st *spot.Study) {
	if p.why.study != st {
		p.why = whyMap{study: st, hosts: mapsOf(s.Scene, st)}
	}
	counts := make([]int, len(whyKinds))
	for _, t := range st.Tried {
		counts[kindOf(t.Reason)]++
	}
	key := &render.Key{Title: phrase.Of("why not here? (places tried)")}
	for k, kind := range whyKinds {
		if counts[k] > 0 {
			key.Entries = append(key.Entries, render.KeyEntry{Color: kind.color, Text: fmt.Sprintf("%s: %d", kind.text, counts[k])})
		}
	}
	out.Overlay.Key = key
	for i := range s.Scene.Parts {
		kinds, isHost := p.why.hosts[i]
		if !isHost {
			out.Items[i].Ghost = true
			continue
		}
		for k := range whyKinds {
			if kinds[k] == nil || out.Items[i].Hidden {
				continue
			}
			part := &s.Scene.Parts[i]
			out.Items = append(out.Items, render.Item{Mesh: kinds[k], Pose: part.Pose, Color: whyKinds[k].color})
			out.Parts = append(out.Parts, part.Name)
		}
		// Its own faces give way to the pieces.
		out.Items[i].Hidden = true
	}
}

// mapsOf cuts the hosts of a study into pieces and gives each the colour of the
// nearest candidate on its side.
func mapsOf(s *scene.Scene, st *spot.Study) map[int]map[int]*mesh.Mesh {
	tried := map[int][]*spot.Tried{}
	for i := range st.Tried {
		t := &st.Tried[i]
		tried[t.Host] = append(tried[t.Host], t)
	}
	out := map[int]map[int]*mesh.Mesh{}
	for host, list := range tried {
		out[host] = mapOf(&s.Parts[host], list)
	}
	return out
}

const (
	// piecesPerHost is about how many pieces a host is cut into.
	piecesPerHost = 6000
	// leastPieceMM: smaller pieces show nothing more.
	leastPieceMM = 4
)

// mapOf returns the pieces of a host by kind.
func mapOf(part *scene.Part, list []*spot.Tried) map[int]*mesh.Mesh {
	near := newNearTried(list)
	near.sheet = !part.Closed
	out := map[int]*mesh.Mesh{}
	pieceMM := math.Max(leastPieceMM, math.Sqrt(4*part.Measures.AreaMM2/piecesPerHost))
	for t := range part.Mesh.Tris {
		a, b, c := part.Mesh.Corners(t)
		normal := part.Pose.Dir(b.Sub(a).Cross(c.Sub(a)))
		if normal.Len() == 0 {
			continue
		}
		normal = normal.Normalize()
		cut(a, b, c, pieceMM, func(a, b, c geom.Vec) {
			kind := near.kind(part.Pose.Point(a.Add(b).Add(c).Mul(1.0/3)), normal)
			m := out[kind]
			if m == nil {
				m = &mesh.Mesh{}
				out[kind] = m
			}
			n := int32(len(m.Verts))
			m.Verts = append(m.Verts, a, b, c)
			m.Tris = append(m.Tris, [3]int32{n, n + 1, n + 2})
		})
	}
	return out
}

// cut halves a triangle at its longest edge until none is longer than mostMM.
func cut(a, b, c geom.Vec, mostMM float64, see func(a, b, c geom.Vec)) {
	for range 2 { // the longest edge first
		if ab := b.Sub(a).Len(); ab < c.Sub(b).Len() || ab < a.Sub(c).Len() {
			a, b, c = b, c, a
		}
	}
	if b.Sub(a).Len() <= mostMM {
		see(a, b, c)
		return
	}
	m := a.Add(b).Mul(0.5)
	cut(a, m, c, mostMM, see)
	cut(m, b, c, mostMM, see)
}

// nearTried finds the candidate nearest to a point, among those on the same side.
type nearTried struct {
	sheet bool // both sides are one surface
	boxMM float64
	boxes map[[3]int][]*spot.Tried
}

// newNearTried puts candidates into boxes about as wide as they stand apart.
func newNearTried(list []*spot.Tried) *nearTried {
	box := geom.EmptyBox()
	for _, t := range list {
		box = box.Grow(t.PointMM)
	}
	n := &nearTried{boxMM: math.Max(1, box.DiagonalMM()/math.Sqrt(float64(len(list)))), boxes: map[[3]int][]*spot.Tried{}}
	for _, t := range list {
		at := n.at(t.PointMM)
		n.boxes[at] = append(n.boxes[at], t)
	}
	return n
}

func (n *nearTried) at(p geom.Vec) [3]int {
	var at [3]int
	for k := range at {
		at[k] = int(math.Floor(p[k] / n.boxMM))
	}
	return at
}

// sameSide is the least cosine between normals of one side.
const sameSide = 0.5

// kind returns the colour of the nearest candidate that faces alike; that of
// what is not flat where there is none near.
func (n *nearTried) kind(p, normal geom.Vec) int {
	at := n.at(p)
	best, bestMM := kindOf(spot.NotFlat), math.Inf(1)
	for x := at[0] - 2; x <= at[0]+2; x++ {
		for y := at[1] - 2; y <= at[1]+2; y++ {
			for z := at[2] - 2; z <= at[2]+2; z++ {
				for _, t := range n.boxes[[3]int{x, y, z}] {
					cos := t.Normal.Dot(normal)
					if farMM := t.PointMM.Sub(p).Len(); farMM < bestMM && (cos > sameSide || n.sheet && cos < -sameSide) {
						best, bestMM = kindOf(t.Reason), farMM
					}
				}
			}
		}
	}
	return best
}
