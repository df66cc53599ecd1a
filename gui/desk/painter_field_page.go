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
}

// heatFields remembers what belongs to one result.
type heatFields struct {
	result *balance.Result
	fine   map[int]fineMesh
	at     momentKey
	moment *balance.Moment
	shown  map[string]heatField // of the last picture, by part
	which  fieldKey
	of     *scene.Scene
	spans  map[fieldKey][][2]float32 // per part
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

// fieldsOf returns what is remembered of a result; those of earlier ones are
// forgotten.
func (p *Painter) fieldsOf(r *balance.Result) *heatFields {
	if h := p.heat[r]; h != nil {
		return h
	}
	const kept = 3 // with a shield on trial, without it, and one that is being replaced
	if p.heat == nil || len(p.heat) >= kept {
		p.heat = map[*balance.Result]*heatFields{}
	}
	p.heat[r] = &heatFields{result: r, fine: map[int]fineMesh{}, spans: map[fieldKey][][2]float32{}}
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
		if ph.Part < len(spans) {
			f.low, f.high = spans[ph.Part][0], spans[ph.Part][1]
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
		return heatField{part.Mesh, p.edgesOf(part.Mesh), slices.Repeat([]float32{float32(degC)}, len(part.Mesh.Tris)), 0, 0}
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

// scaleMoments is at how many moments of a soak the ends of the scale are
// looked up; a film passes through them smoothly.
const scaleMoments = 13

// spansOf returns the least and largest value of every part, in a soak over all
// its times: a slider through time keeps one scale.
func (h *heatFields) spansOf(a *Attention) [][2]float32 {
	key := fieldKey{momentKey: momentKey{caseAt: a.Case}, shows: a.Heat}
	if spans, known := h.spans[key]; known {
		return spans
	}
	endS, moments := h.result.EndS(a.Case), 1
	if endS > 0 {
		moments = scaleMoments
	}
	var spans [][2]float32
	for k := range moments {
		m := h.result.Moment(a.Case, endS*float64(k)/float64(max(1, moments-1)))
		if spans == nil {
			spans = make([][2]float32, len(m.Parts))
		}
		for i := range m.Parts {
			for t, v := range valuesAt(m, i, a.Heat) {
				if k == 0 && t == 0 {
					spans[i] = [2]float32{v, v}
				}
				spans[i] = [2]float32{min(spans[i][0], v), max(spans[i][1], v)}
			}
		}
	}
	if endS > 0 && a.Heat == PartTemperature { // peaks fall between the moments
		for _, ph := range h.result.Cases[a.Case].Parts {
			spans[ph.Part][1] = max(spans[ph.Part][1], float32(ph.Temperature.NominalDegC))
		}
	}
	h.spans[key] = spans
	return spans
}

// valuesAt returns the figures of a part at a moment. Bare numbers: °C, kW/m².
func valuesAt(m *balance.Moment, i int, shows HeatPicture) []float32 {
	switch {
	case !m.Parts[i].Known:
		return nil
	case shows == Irradiated:
		return kilo(m.FineIrradiation(i))
	case shows == SkinTemperature:
		return m.FineSkinDegC(i)
	}
	return []float32{float32(m.Parts[i].Temperature.NominalDegC)}
}
