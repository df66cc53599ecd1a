package rearview

import (
	"aftbay/geom"
	"aftbay/geom/say"
)

// Patch is a piece of the field that a part hides from one eye, in quads of
// road points, vehicle frame.
type Patch struct {
	Part  string
	Quads [][4]geom.Vec
	Share float64 // of the field
}

// farShare is where pictures end the road: at b = 1/400 of the near side's, far
// beyond what a pixel tells from the horizon.
const farShare = 1.0 / 400

// Hidden returns what each part hides of the first rule's field from the left
// (0) or the right eye (1), so far as mirror and glass show it. A piece that
// several parts hide goes to the one that takes most of the field.
func (r *Result) Hidden(eye int) []Patch {
	st := r.study
	f := &st.fields[0]
	within := paneOf(f.poly)
	within.lo.b = max(within.lo.b, f.near*farShare)
	lines := st.stops(nil, f, within, []int{eye})
	order := r.byLoss()
	for j, s := range order {
		lines = appendLines(lines, s.trim[eye], layerParts+j, within)
	}
	w := &patcher{st: st, eye: eye, on: make([]bool, layerParts+len(order)), out: make([]Patch, len(order))}
	for j, s := range order {
		w.out[j].Part = st.scene.Parts[s.part].Name
	}
	w.back = st.sight.toRoad.Inverse()
	var sw sweeper
	sw.sweep(lines, len(w.on), w)
	var out []Patch
	for _, p := range w.out {
		if len(p.Quads) > 0 {
			p.Share /= area2(f.poly) / 2
			out = append(out, p)
		}
	}
	return out
}

// byLoss returns the shadows with the greatest loss first.
func (r *Result) byLoss() []shadow {
	var out []shadow
	taken := map[int]bool{}
	for _, l := range r.LostBy {
		for _, s := range r.study.shadows {
			if r.study.scene.Parts[s.part].Name == l.Part {
				out, taken[s.part] = append(out, s), true
			}
		}
	}
	for _, s := range r.study.shadows {
		if !taken[s.part] {
			out = append(out, s)
		}
	}
	return out
}

// patcher is a watcher that gathers hidden cells.
type patcher struct {
	st   *study
	eye  int
	on   []bool
	back geom.Pose
	out  []Patch
}

func (w *patcher) toggle(layer int32, on bool) { w.on[layer] = on }

func (w *patcher) cell(c *cell) {
	glass := len(w.st.sight.glass) == 0 || w.on[layerGlass+w.eye]
	if !w.on[layerField] || !w.on[layerMirror+w.eye] || !glass || c.area() == 0 {
		return
	}
	for j := range w.out {
		if w.on[layerParts+j] {
			at := func(a, b float64) geom.Vec { return w.back.Point(w.st.road(dot{a, b})) } // Bare numbers: places in the picture
			w.out[j].Quads = append(w.out[j].Quads, [4]geom.Vec{at(c.a0, c.top0), at(c.a1, c.top1), at(c.a1, c.bot1), at(c.a0, c.bot0)})
			w.out[j].Share += c.area()
			return
		}
	}
}

func (w *patcher) passed(*line, float64, float64) {} // Bare numbers: places in the picture

func (w *patcher) ended() {}

// road returns the road point at a place of the picture, road frame.
func (st *study) road(p dot) geom.Vec {
	xMM := pictureMM / p.b
	return geom.Vec{st.sight.midXMM + xMM, p.a * xMM, 0}
}

// Field returns the corners of the first rule's field on the road, the near
// side first, then the far side where pictures end it; vehicle frame.
func (r *Result) Field() [4]geom.Vec {
	st := r.study
	f := &st.fields[0]
	back := st.sight.toRoad.Inverse()
	at := func(b float64) (left, right geom.Vec) { // Bare numbers: place in the picture
		across := column(turned(around(f.poly)), b)
		lo, hi := across[0].from, across[len(across)-1].to
		return back.Point(st.road(dot{lo, b})), back.Point(st.road(dot{hi, b}))
	}
	const inside = 1e-9 // off the sides themselves
	within := paneOf(f.poly)
	nearLeft, nearRight := at(within.hi.b * (1 - inside))
	farLeft, farRight := at(max(within.lo.b*(1+inside), f.near*farShare))
	return [4]geom.Vec{nearLeft, nearRight, farRight, farLeft}
}

// turned exchanges a and b of edges.
func turned(edges []edge) []edge {
	var out []edge
	for _, e := range edges {
		out = append(out, edge{dot{e.from.b, e.from.a}, dot{e.to.b, e.to.a}, -e.wind})
	}
	return out
}

// column returns the spans inside closed outlines along an upright line.
// Bare numbers: place in the picture.
func column(edges []edge, a float64) []span {
	var out []span
	wind, from := int32(0), 0.0
	cs := ruler{upright: true, at: a}.cross(nil, edges, 0)
	for len(cs) > 0 {
		least := 0
		for i := range cs {
			if cs[i].place < cs[least].place {
				least = i
			}
		}
		was := wind
		if wind += cs[least].wind; was == 0 {
			from = cs[least].place
		} else if wind == 0 {
			out = append(out, span{from, cs[least].place})
		}
		cs = append(cs[:least], cs[least+1:]...)
	}
	return out
}

// Ray is a line of sight of the middle eye, vehicle frame: from the eye by way
// of the mirror to a road point on the centre line.
type Ray struct {
	Name              say.Text
	Eye, Mirror, Road geom.Vec
}

// Rays returns the lines of sight that a section shows: to the horizon, to the
// near side of the field, and to the nearest road seen.
func (r *Result) Rays() []Ray {
	st := r.study
	s := st.sight
	back := s.toRoad.Inverse()
	var out []Ray
	add := func(name say.Text, xMM float64) {
		road := geom.Vec{xMM, 0, 0}
		e, m := &s.eyes[middle], &s.mirror
		d := road.Sub(e.image)
		on := e.image.Add(d.Mul(m.Centre.Sub(e.image).Dot(m.Normal) / d.Dot(m.Normal)))
		out = append(out, Ray{name, back.Point(e.eye), back.Point(on), back.Point(road)})
	}
	f := &st.fields[0]
	add(say.Of("horizon"), s.midXMM+pictureMM/(f.near*farShare))
	add(say.Of("near side of the field"), f.nearXMM)
	if r.UnbrokenRoadMM != nil {
		add(say.Of("nearest road seen"), s.eyes[middle].eye[0]+*r.UnbrokenRoadMM)
	}
	return out
}

// Reflection returns the pose that takes vehicle points to their images in the
// mirror; it exchanges left and right.
func (r *Result) Reflection() geom.Pose {
	s := r.study.sight
	return s.toRoad.Inverse().After(s.reflect).After(s.toRoad)
}

// MirrorCorners returns the corners of the mirror in order round it, vehicle
// frame.
func (r *Result) MirrorCorners() [4]geom.Vec {
	s := r.study.sight
	back, m := s.toRoad.Inverse(), &s.mirror
	return [4]geom.Vec{back.Point(m.corner(-1, -1)), back.Point(m.corner(1, -1)), back.Point(m.corner(1, 1)), back.Point(m.corner(-1, 1))}
}
