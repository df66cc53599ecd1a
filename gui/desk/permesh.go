package desk

import "aftbay/geom/mesh"

// perMesh remembers what is dear to work out of a mesh for as long as the mesh
// is shown: what nobody asked for between two turns is forgotten. A part that is
// reshaped gets a new mesh each time; without an end all of them would be held.
// The zero value remembers nothing yet. Use it from one goroutine at a time.
type perMesh[T any] struct{ now, before map[*mesh.Mesh]T }

// turn begins a picture: what the one before did not ask for is forgotten.
func (m *perMesh[T]) turn() { m.now, m.before = nil, m.now }

// of returns what is remembered of a mesh.
func (m *perMesh[T]) of(one *mesh.Mesh) (value T, known bool) {
	if value, known = m.now[one]; known {
		return value, true
	}
	if value, known = m.before[one]; known {
		m.put(one, value)
	}
	return value, known
}

func (m *perMesh[T]) put(one *mesh.Mesh, value T) {
	if m.now == nil {
		m.now = map[*mesh.Mesh]T{}
	}
	m.now[one] = value
}

// made returns what is remembered of a mesh, and works it out where nothing is.
func (m *perMesh[T]) made(one *mesh.Mesh, work func(*mesh.Mesh) T) T {
	value, known := m.of(one)
	if !known {
		value = work(one)
		m.put(one, value)
	}
	return value
}

// featureEdges returns the edges of a mesh that are drawn.
func featureEdges(m *mesh.Mesh) [][2]int32 { return mesh.FeatureEdges(m, edgeAngleRad) }
