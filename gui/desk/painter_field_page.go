package desk

import (
	"slices"

	"aftbay/geom/mesh"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// heatField is a part as a heat picture shows it. Bare numbers: °C or kW/m².
type heatField struct {
	mesh      *mesh.Mesh // its own, or cut as finely as it was solved
	edges     [][2]int32
	values    []float32 // per triangle; none: it takes no part
	low, high float32   // of the scale: in a soak over all its times
	top       float32   // where the scale ends: few spots of the picture are above
}

// heatFields remembers what belongs to one result.
type heatFields struct {
	result   *balance.Result
	fine     map[int]fineMesh
	at       momentKey
	moment   *balance.Moment
	shown    map[string]heatField // of the last picture, by part
	which    fieldKey
	of       *scene.Scene
	spans    map[fieldKey]heatSpans
	areasMM2 map[int][]float64 // per part of the result, of its fine triangles
}

type fineMesh struct {
	mesh  *mesh.Mesh
	edges [][2]int32
}

// momentKey names a moment of a case, fieldKey what is shown of it.
type momentKey struct {
	caseAt int
	timeS  float64
}

type fieldKey struct {
	momentKey
	shows HeatPicture
	timed bool
}

// forgetHeat forgets what belongs to results that a state does not have any more:
// each holds all its rays.
func (p *Painter) forgetHeat(s *State) {
	for r := range p.heat {
		t := s.Answers.Shield.Value
		if r != s.Answers.Heat.Value && (t == nil || r != t.Before && r != t.After) {
			delete(p.heat, r)
		}
	}
}

// fieldsOf returns what is remembered of a result.
func (p *Painter) fieldsOf(r *balance.Result) *heatFields {
	if h := p.heat[r]; h != nil {
		return h
	}
	if p.heat == nil {
		p.heat = map[*balance.Result]*heatFields{}
	}
	p.heat[r] = &heatFields{result: r, fine: map[int]fineMesh{}, spans: map[fieldKey]heatSpans{}, areasMM2: map[int][]float64{}}
	return p.heat[r]
}

// heatField returns what the picture shows of a part.
func (p *Painter) heatField(s *State, a *Attention, part *scene.Part) heatField {
	h := p.fieldsOf(s.Answers.Heat.Value)
	which := fieldKey{momentKey{a.Case, a.TimeS}, a.Heat, a.Timed}
	if h.which != which || h.of != s.Scene || h.shown == nil {
		h.which, h.of, h.shown = which, s.Scene, map[string]heatField{}
	}
	if f, known := h.shown[part.Name]; known {
		return f
	}
	var f heatField
	if ph := partHeat(s, a.Case, part.Name); ph != nil {
		f = p.makeField(h, part, a, ph)
		spans := h.spansOf(a)
		if t := s.Answers.Shield.Value; t != nil { // one scale with the shield and without
			spans = p.fieldsOf(t.Before).spansOf(a)
		}
		if ph.Part < len(spans.of) {
			f.low, f.high, f.top = spans.of[ph.Part][0], spans.of[ph.Part][1], spans.top
		}
	}
	if f.mesh == nil || len(f.values) != len(f.mesh.Tris) { // unknown, or reshaped since
		f = heatField{}
	}
	h.shown[part.Name] = f
	return f
}

// makeField works out a part's colours. A part that is held along a line has no
// one temperature: it shows that of its skin.
func (p *Painter) makeField(h *heatFields, part *scene.Part, a *Attention, ph *balance.PartHeat) heatField {
	m, i := h.momentOf(a), ph.Part
	if a.Heat == PartTemperature && ph.HottestDegC == nil { // one temperature
		degC := ph.Temperature.NominalDegC
		if a.Timed {
			degC = m.Parts[i].Temperature.NominalDegC
		}
		return heatField{part.Mesh, p.edgesOf(part.Mesh), slices.Repeat([]float32{float32(degC)}, len(part.Mesh.Tris)), 0, 0, 0}
	}
	fine, known := h.fine[i]
	if !known {
		fine = p.fineOf(h.result, i, part.Mesh)
		h.fine[i] = fine
	}
	f := heatField{mesh: fine.mesh, edges: fine.edges}
	switch whole := fine.mesh == part.Mesh; {
	case a.Heat == Irradiated && whole:
		f.values = kilo(m.Irradiation(i))
	case a.Heat == Irradiated:
		f.values = kilo(m.FineIrradiation(i))
	case whole:
		f.values = m.SkinDegC(i)
	default:
		f.values = m.FineSkinDegC(i)
	}
	return f
}

// kilo turns W/m² into kW/m².
func kilo(wM2 []float32) []float32 {
	for t := range wM2 {
		wM2[t] /= 1000
	}
	return wM2
}

// fineOf returns a part's surface as it was solved: its own mesh where no
// triangle of it was cut. Its own corners stay in front, so that its edges hold.
func (p *Painter) fineOf(r *balance.Result, i int, own *mesh.Mesh) fineMesh {
	cut := r.FineMesh(i)
	if cut == nil || len(cut.Tris) == len(own.Tris) {
		return fineMesh{own, p.edgesOf(own)}
	}
	out := &mesh.Mesh{Verts: slices.Concat(own.Verts, cut.Verts)}
	first := int32(len(own.Verts))
	for _, t := range cut.Tris {
		out.Tris = append(out.Tris, [3]int32{t[0] + first, t[1] + first, t[2] + first})
	}
	return fineMesh{out, p.edgesOf(own)}
}

// momentOf returns the moment looked at; without a chosen time that of key-off.
func (h *heatFields) momentOf(a *Attention) *balance.Moment {
	at := momentKey{a.Case, a.TimeS}
	if h.moment == nil || h.at != at {
		h.at, h.moment = at, h.result.Moment(a.Case, a.TimeS)
	}
	return h.moment
}
