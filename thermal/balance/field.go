package balance

import (
	"aftbay/geom/mesh"
)

// IrradiationField returns the irradiation of every triangle of every part's
// own mesh, W/m², outer side, for the picture; in a soak, at its start. A part
// without patches has none.
func (r *Result) IrradiationField(c int) [][]float32 {
	st, sol := r.study, r.Cases[c].solved
	out := make([][]float32, len(st.parts))
	areasM2 := make([][]float64, len(st.parts))
	received := st.receivedWM2(st.emitted(sol.columns, sol.start()))
	for i := range st.parts {
		if m := st.parts[i].body.Mesh; m != nil {
			out[i], areasM2[i] = make([]float32, len(m.Tris)), make([]float64, len(m.Tris))
		}
	}
	sums := make([][]float64, len(st.parts))
	for i := range sums {
		sums[i] = make([]float64, len(out[i]))
	}
	set := st.set
	for t := range set.Mesh.Tris {
		part, source := set.PartOf[t], set.SourceOf[t]
		areasM2[part][source] += set.TriM2[t]
		sums[part][source] += set.TriM2[t] * received[set.OuterOf[t]]
	}
	for i := range out {
		for t := range out[i] {
			if areasM2[i][t] > 0 {
				out[i][t] = float32(sums[i][t] / areasM2[i][t])
			}
		}
	}
	return out
}

// FineField returns a part's surface cut as finely as it was solved, part
// frame, and the irradiation of each of its triangles, W/m², outer side; in a
// soak, at its start. It is what a picture of a part with few large triangles
// should show. A part without patches has none.
func (r *Result) FineField(c, part int) (*mesh.Mesh, []float32) {
	st, sol := r.study, r.Cases[c].solved
	if st.parts[part].body.Mesh == nil {
		return nil, nil
	}
	received := st.receivedWM2(st.emitted(sol.columns, sol.start()))
	back := st.parts[part].body.Pose.Inverse()
	out := &mesh.Mesh{}
	var values []float32
	at := map[int32]int32{} // vertex of the set -> of out
	set := st.set
	for t, tri := range set.Mesh.Tris {
		if int(set.PartOf[t]) != part {
			continue
		}
		var mine [3]int32
		for k, v := range tri {
			i, known := at[v]
			if !known {
				i = int32(len(out.Verts))
				at[v] = i
				out.Verts = append(out.Verts, back.Point(set.Mesh.Verts[v]))
			}
			mine[k] = i
		}
		out.Tris = append(out.Tris, mine)
		values = append(values, float32(received[set.OuterOf[t]]))
	}
	return out, values
}
