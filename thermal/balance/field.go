package balance

import (
	"aftbay/geom/mesh"
)

// IrradiationField returns the irradiation of every triangle of every part's
// own mesh, W/m², outer side, for the picture; in a soak, at its start. A part
// without patches has none.
func (r *Result) IrradiationField(c int) [][]float32 {
	m := r.Moment(c, 0)
	out := make([][]float32, len(m.Parts))
	for i := range out {
		out[i] = m.Irradiation(i)
	}
	return out
}

// FineField returns a part's fine mesh and the irradiation of each of its
// triangles, W/m², outer side; in a soak, at its start.
func (r *Result) FineField(c, part int) (*mesh.Mesh, []float32) {
	return r.FineMesh(part), r.Moment(c, 0).FineIrradiation(part)
}
