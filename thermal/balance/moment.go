package balance

import (
	"aftbay/geom/mesh"
	"aftbay/thermal"
)

// Moment is the whole scene at one time of a case, for the picture. It is
// read-only.
type Moment struct {
	TimeS                     float64
	AirDegC, SurroundingsDegC float64
	Parts                     []MomentPart // one per part of the scene

	study *study
	onWM2 []float64 // per patch
	skinK []float64 // per patch
}

// MomentPart is one part at a moment.
type MomentPart struct {
	Known       bool // false for drawings, which take no part
	Temperature Band // of the part as a whole
}

// EndS returns how long a case lasts, 0 for a standing one.
func (r *Result) EndS(c int) float64 {
	if sol := r.Cases[c].solved; sol.curves != nil {
		return sol.curves[0].EndS()
	}
	return 0
}

// Moment returns the scene at a time after key-off; a standing case is the same
// at all times. Cost: some milliseconds.
func (r *Result) Moment(c int, timeS float64) *Moment {
	st, sol := r.study, r.Cases[c].solved
	now := sol.at(0, timeS)
	m := &Moment{
		TimeS: timeS, AirDegC: thermal.Celsius(now.around.AirK), SurroundingsDegC: thermal.Celsius(now.around.SurroundingsK),
		Parts: make([]MomentPart, len(st.parts)), study: st,
	}
	all := make([]state, len(sol.variations))
	for v := range all {
		all[v] = sol.at(v, timeS)
	}
	tempsK := make([]float64, len(all))
	for i := range m.Parts {
		for v := range all {
			tempsK[v] = all[v].tempsK[i]
		}
		lowK, highK := band(tempsK)
		m.Parts[i] = MomentPart{
			Known:       st.parts[i].body.Mesh != nil,
			Temperature: Band{LowDegC: thermal.Celsius(lowK), NominalDegC: thermal.Celsius(tempsK[0]), HighDegC: thermal.Celsius(highK)},
		}
	}
	m.onWM2 = st.receivedWM2(st.emitted(sol.columns, now))
	m.skinK = make([]float64, len(m.onWM2))
	skins := make([]func(patch int, onWM2 float64) float64, len(st.parts))
	for p, onWM2 := range m.onWM2 {
		i := st.set.Patches[p].Part
		if skins[i] == nil {
			skins[i] = st.skinsOf(sol, i, now)
		}
		m.skinK[p] = skins[i](p, onWM2)
	}
	return m
}

// skinsOf returns the skin temperature of a part's patches by what falls on
// them.
func (st *study) skinsOf(sol *solution, i int, now state) func(patch int, onWM2 float64) float64 {
	p := &st.parts[i]
	bulkK, coupleWM2K, airK := now.tempsK[i], p.coupleWM2K(), sol.networks[0].AirK(i, now.around)
	filmWM2K := sol.networks[0].FilmWM2K(i, bulkK, airK)
	return func(k int, onWM2 float64) float64 {
		pp := &st.set.Patches[k]
		if p.held && sol.columns == profiled {
			if p.props.HeldAlong != nil {
				return p.alongK(pp.CenterMM)
			}
			return bulkK
		}
		return skin{
			emissivity: st.emission.Emissivity[k], receivedWM2: onWM2, filmWM2K: filmWM2K * (1 - st.factors.BuriedShare[k]),
			airK: airK, coupleWM2K: coupleWM2K, bulkK: bulkK,
		}.settleK()
	}
}

// Irradiation returns what falls on each triangle of a part's own mesh, outer
// side, W/m². A part that takes no part has none.
func (m *Moment) Irradiation(part int) []float32 {
	return m.onOwnMesh(part, func(patch int32) float64 { return m.onWM2[patch] })
}

// SkinDegC returns the temperature of each triangle of a part's own mesh, outer
// side, °C: see Skin.
func (m *Moment) SkinDegC(part int) []float32 {
	return m.onOwnMesh(part, func(patch int32) float64 { return thermal.Celsius(m.skinK[patch]) })
}

// FineIrradiation is Irradiation on Result.FineMesh.
func (m *Moment) FineIrradiation(part int) []float32 {
	return m.onFineMesh(part, func(patch int32) float64 { return m.onWM2[patch] })
}

// FineSkinDegC is SkinDegC on Result.FineMesh.
func (m *Moment) FineSkinDegC(part int) []float32 {
	return m.onFineMesh(part, func(patch int32) float64 { return thermal.Celsius(m.skinK[patch]) })
}

// onOwnMesh averages a figure of the patches over the triangles of a part's own
// mesh. Bare numbers: of whatever unit the figure has.
func (m *Moment) onOwnMesh(part int, of func(patch int32) float64) []float32 {
	own := m.study.parts[part].body.Mesh
	if own == nil {
		return nil
	}
	set := m.study.set
	sums, areasM2 := make([]float64, len(own.Tris)), make([]float64, len(own.Tris))
	for t := set.FirstOf[part]; t < set.FirstOf[part+1]; t++ {
		source := set.SourceOf[t]
		areasM2[source] += set.TriM2[t]
		sums[source] += set.TriM2[t] * of(set.OuterOf[t])
	}
	out := make([]float32, len(own.Tris))
	for t := range out {
		if areasM2[t] > 0 {
			out[t] = float32(sums[t] / areasM2[t])
		}
	}
	return out
}

// onFineMesh lists a figure of the patches per triangle as it was solved.
// Bare numbers: of whatever unit the figure has.
func (m *Moment) onFineMesh(part int, of func(patch int32) float64) []float32 {
	if m.study.parts[part].body.Mesh == nil {
		return nil
	}
	set := m.study.set
	var out []float32
	for t := set.FirstOf[part]; t < set.FirstOf[part+1]; t++ {
		out = append(out, float32(of(set.OuterOf[t])))
	}
	return out
}

// FineMesh returns a part's surface cut as finely as it was solved, part frame.
// It is what a picture of a part with few large triangles should show; the same
// for all moments. A part that takes no part has none.
func (r *Result) FineMesh(part int) *mesh.Mesh {
	st := r.study
	if st.parts[part].body.Mesh == nil {
		return nil
	}
	back := st.parts[part].body.Pose.Inverse()
	out := &mesh.Mesh{}
	at := map[int32]int32{} // vertex of the set -> of out
	set := st.set
	for t := set.FirstOf[part]; t < set.FirstOf[part+1]; t++ {
		var mine [3]int32
		for k, v := range set.Mesh.Tris[t] {
			i, known := at[v]
			if !known {
				i = int32(len(out.Verts))
				at[v] = i
				out.Verts = append(out.Verts, back.Point(set.Mesh.Verts[v]))
			}
			mine[k] = i
		}
		out.Tris = append(out.Tris, mine)
	}
	return out
}
