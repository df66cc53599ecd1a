package scene

import "aftbay/geom/dist"

// Body returns part i as the distance functions want it.
func (s *Scene) Body(i int) dist.Body {
	p := &s.Parts[i]
	return dist.Body{Tree: p.Tree, Pose: p.Pose, Closed: p.Closed}
}
