package lead

import (
	"slices"
	"sync"

	"aftbay/geom"
)

// tail is the way on from a cell, pulled taut once for all connectors whose ways
// lead over that cell.
type tail struct {
	once   sync.Once
	points []geom.Vec
}

// onTail returns a way with all that comes after its first cell pulled taut, and
// straight up to there; with nothing pulled where the component would lie on
// that. What is pulled depends on the
// cell alone, not on who asks first.
func (f *Field) onTail(s *Start, points []geom.Vec) []geom.Vec {
	k := slices.IndexFunc(points[1:len(points)-1], f.isCell) + 1
	if k == 0 {
		return f.straighten(s, points, len(points))
	}
	known, _ := f.tails.LoadOrStore(points[k], &tail{})
	t := known.(*tail)
	t.once.Do(func() { t.points = f.tighten(&Start{Point: points[k]}, points[k:], fine, 0) })
	out := slices.Concat(points[:k], t.points)
	for i := k; i < len(out); i++ {
		if i > 1 && s.ownHolds(out[i-1], out[i]) {
			return f.straighten(s, points, len(points))
		}
	}
	return f.straighten(s, out, k+1)
}

// isCell reports whether a point is the middle of a cell.
func (f *Field) isCell(p geom.Vec) bool {
	at, ok := f.search.cellOf(p)
	return ok && f.search.middle(f.search.at(at[0], at[1], at[2])) == p
}
