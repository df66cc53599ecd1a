package drop

import (
	"context"
	"math"
	"slices"

	"aftbay/geom"
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
)

// MapOptions steer RunMap.
type MapOptions struct {
	Options
	Shifts, Drops int           // columns and rows; 0: MapSize
	ShiftMM       *layout.Range // nil: that of the layout, or ±MapShiftMM
	TiltDeg       float64       // of the group about its pivot, positive lifts the front
}

const (
	// MapSize is how many places along each side a map has.
	MapSize = 41
	// MapShiftMM is how far a map goes fore and aft where the layout does not say.
	MapShiftMM = 40.0
	// mapCapMM is the margin from which the map tells no more differences.
	mapCapMM = 20.0
	// maxMapSize keeps a map in memory: a million places.
	maxMapSize = 1000
)

// Map is where the group can stand: going down against going fore and aft.
// Rows run over ShiftsMM, columns over DropsMM.
type Map struct {
	DropsMM  []float64 `json:"drops_mm"`
	ShiftsMM []float64 `json:"shifts_mm"` // rearward positive
	// MarginMM is how much is left to the nearest limit, negative beyond it and
	// nil where parts overlap: mm of clearance or height, or of further drop for
	// an angle. Margins of CapMM and more are all CapMM.
	MarginMM [][]*float64 `json:"margin_mm"`
	// Limit[i][k] is the place in Limits of what binds there, −1 where nothing
	// does within the cap.
	Limit   [][]int     `json:"limit"`
	Limits  []say.Text  `json:"limits"`
	Columns []MapColumn `json:"columns"` // one for each shift; empty while the map is coarse
	CapMM   float64     `json:"cap_mm"`
	TiltDeg float64     `json:"tilt_deg"`
	Deepest *MapPlace   `json:"deepest"` // lowest place at which all holds; nil: none
	Widest  *MapPlace   `json:"widest"`  // place with the largest margin; nil: none holds
	StepMM  [2]float64  `json:"step_mm"` // drop and shift between places computed so far
}

// MapColumn is the windows at one fore-aft shift, found to 0.01 mm.
type MapColumn struct {
	ShiftMM   float64    `json:"shift_mm"`
	WindowsMM []Window   `json:"windows_mm"`
	Low       []say.Text `json:"low"`  // Low[i]: limit at the least drop of window i, "" at the end of the range
	High      []say.Text `json:"high"` // likewise at the most
}

// MapPlace is one place of a map.
type MapPlace struct {
	DropMM   float64  `json:"drop_mm"`
	ShiftMM  float64  `json:"shift_mm"`
	MarginMM float64  `json:"margin_mm"`
	Limit    say.Text `json:"limit"`
}

// mapper computes one map.
type mapper struct {
	m       *Map
	study   *Study
	fixed   [][]Limit      // by row, nil while not computed
	number  map[string]int // place in m.Limits of a fixed limit
	pairs   []clearance.Ruled
	margins []marginAt
	leaves  [][]*node // one for each place, once they are single
	within  Window
}

// marginAt is the margin of one pair with the group shifted; see Margin.
type marginAt func(ctx context.Context, shift geom.Vec, enoughMM float64) (float64, error)

// RunMap computes the map of a layout's drop group: coarse first, each finer
// picture going to show (which may be nil and must not keep the map), the
// border to 0.01 mm at the end. The same map for any number of workers.
//
// A clearance changes by at most the way that the group goes, so what is known
// at one place bounds it at all others: only pairs that could bind are asked.
//
// Errors: as Prepare; a size or range that makes no map.
func RunMap(ctx context.Context, s *scene.Scene, o MapOptions, show func(*Map), progress geom.Progress) (*Map, error) {
	mp, err := newMapper(ctx, s, o)
	if err != nil {
		return nil, err
	}
	nodes := []*node{mp.root()}
	done, total := 0, len(mp.m.ShiftsMM)*len(mp.m.DropsMM)
	for len(nodes) > 0 {
		if err := mp.prepareFixed(ctx, o.Workers, nodes); err != nil {
			return nil, say.Errorf("drop map: %w", err)
		}
		if err := geom.Each(ctx, o.Workers, len(nodes), nil, func(i int) error { return mp.judge(ctx, nodes[i]) }); err != nil {
			return nil, say.Errorf("drop map: %w", err)
		}
		var next []*node
		for _, n := range nodes {
			mp.paint(n)
			next = append(next, n.split()...)
		}
		done = total - countLeft(next)
		if progress != nil {
			progress(done, total)
		}
		mp.best()
		if show != nil {
			show(mp.m)
		}
		nodes = next
	}
	if err := mp.borders(ctx, o.Workers); err != nil {
		return nil, say.Errorf("drop map: %w", err)
	}
	mp.m.tidy()
	if show != nil {
		show(mp.m)
	}
	return mp.m, nil
}

// tidy keeps the names of limits that bind somewhere.
func (m *Map) tidy() {
	number := make([]int, len(m.Limits))
	var names []say.Text
	for i := range m.Limit {
		for k, n := range m.Limit[i] {
			if n < 0 {
				continue
			}
			if number[n] == 0 {
				names = append(names, m.Limits[n])
				number[n] = len(names)
			}
			m.Limit[i][k] = number[n] - 1
		}
	}
	m.Limits = append([]say.Text{}, names...)
}

// Clone returns a copy that shares nothing that changes: for a listener that
// keeps what it is shown.
func (m *Map) Clone() *Map {
	out := *m
	out.MarginMM, out.Limit = slices.Clone(m.MarginMM), slices.Clone(m.Limit)
	for i := range out.Limit {
		out.MarginMM[i], out.Limit[i] = slices.Clone(m.MarginMM[i]), slices.Clone(m.Limit[i])
	}
	return &out
}

func newMapper(ctx context.Context, s *scene.Scene, o MapOptions) (*mapper, error) {
	if !(math.Abs(o.TiltDeg) <= mostTiltDeg) {
		return nil, say.Errorf("drop map: a tilt of %g degrees: give one from -%d to %d", o.TiltDeg, mostTiltDeg, mostTiltDeg)
	}
	if s.Doc.Drop != nil {
		s = tilted(s, o.TiltDeg)
	}
	st, err := Prepare(ctx, s, o.Options)
	if err != nil {
		return nil, err
	}
	shiftMM := layout.Range{-MapShiftMM, MapShiftMM}
	if given := s.Doc.Drop.ShiftMM; given != nil {
		shiftMM = *given
	}
	if o.ShiftMM != nil {
		shiftMM = *o.ShiftMM
	}
	switch {
	case !(shiftMM[0] < shiftMM[1]) || math.IsInf(shiftMM[1]-shiftMM[0], 0):
		return nil, say.Errorf("drop map: the shift runs from %g to %g mm: give a least and a larger most one", shiftMM[0], shiftMM[1])
	case st.within[0] >= st.within[1]:
		return nil, say.Errorf("drop map: the drop runs from %g to %g mm: give drop range_mm a least and a larger most one", st.within[0], st.within[1])
	case o.Shifts < 0 || o.Drops < 0 || o.Shifts == 1 || o.Drops == 1 || o.Shifts > maxMapSize || o.Drops > maxMapSize:
		return nil, say.Errorf("drop map: %d x %d places: give 2 to %d each way", o.Shifts, o.Drops, maxMapSize)
	}
	mp := &mapper{study: st, number: map[string]int{}, within: st.within, pairs: st.probe.Ruled(), m: &Map{
		CapMM: mapCapMM, TiltDeg: o.TiltDeg, DropsMM: spread(st.within, o.Drops), ShiftsMM: spread(Window(shiftMM), o.Shifts),
	}}
	mp.fixed = make([][]Limit, len(mp.m.ShiftsMM))
	for k := range mp.pairs {
		p := mp.pairs[k]
		mp.m.Limits = append(mp.m.Limits, st.pairLimit(p).Name)
		mp.margins = append(mp.margins, func(ctx context.Context, shift geom.Vec, enoughMM float64) (float64, error) {
			gapMM, err := st.probe.GapMM(ctx, p, shift, p.Rule.LeastMM+enoughMM)
			return gapMM - p.Rule.LeastMM, err
		})
	}
	for range mp.m.ShiftsMM {
		mp.m.MarginMM = append(mp.m.MarginMM, make([]*float64, len(mp.m.DropsMM)))
		mp.m.Limit = append(mp.m.Limit, make([]int, len(mp.m.DropsMM)))
	}
	return mp, nil
}

// spread returns n values over a range, MapSize for 0.
func spread(w Window, n int) []float64 {
	if n == 0 {
		n = MapSize
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = w[0] + (w[1]-w[0])*float64(i)/float64(n-1)
	}
	return out
}

// beyond is the range and beyond it what the map tells margins for.
func (mp *mapper) beyond() Window {
	return Window{mp.within[0] - 2*mapCapMM, mp.within[1] + 2*mapCapMM}
}

// prepareFixed computes the limits that need no mesh for the shifts that some
// blocks are judged at, as far as they are not known yet. Their names follow
// those of the pairs in the list of limits.
func (mp *mapper) prepareFixed(ctx context.Context, workers int, nodes []*node) error {
	var rows []int
	for _, n := range nodes {
		if row, _ := n.middle(); mp.fixed[row] == nil {
			mp.fixed[row] = []Limit{}
			rows = append(rows, row)
		}
	}
	err := geom.Each(ctx, workers, len(rows), nil, func(i int) error {
		mp.fixed[rows[i]] = mp.study.Shifted(mp.m.ShiftsMM[rows[i]]).fixed(mp.beyond())
		return nil
	})
	slices.Sort(rows)
	for _, row := range rows {
		for _, l := range mp.fixed[row] {
			if _, known := mp.number[l.key]; !known {
				mp.number[l.key] = len(mp.m.Limits)
				mp.m.Limits = append(mp.m.Limits, l.Name)
			}
		}
	}
	return err
}

// leftMM returns the margin of a limit with known windows: how far a drop is
// from leaving the one that it lies in, or how far outside it lies. An end of
// the studied range is no limit.
func leftMM(l *Limit, dropMM float64, beyond Window) float64 {
	if len(l.WindowsMM) == 0 {
		return -mapCapMM
	}
	outMM := math.Inf(1)
	for _, w := range l.WindowsMM {
		if dropMM >= w[0] && dropMM <= w[1] {
			in := math.Inf(1)
			if w[0] > beyond[0] {
				in = dropMM - w[0]
			}
			if w[1] < beyond[1] {
				in = math.Min(in, w[1]-dropMM)
			}
			return in
		}
		outMM = math.Min(outMM, math.Max(w[0]-dropMM, dropMM-w[1]))
	}
	return -outMM
}

// Sentence says in words what the map found.
func (m *Map) Sentence() say.Text {
	if m.TiltDeg != 0 {
		return say.F("Tilted by %s: %s", units.FormatDeg(m.TiltDeg), m.found())
	}
	return m.found()
}

// found says what the map found at its tilt.
func (m *Map) found() say.Text {
	if m.Deepest == nil {
		return say.Of("Nowhere on the map does everything hold.")
	}
	s := say.F("Deepest: %s down at %s", units.FormatMM(m.Deepest.DropMM), shiftText(m.Deepest.ShiftMM))
	if !m.Deepest.Limit.IsZero() {
		s = say.F("%s, then %s", s, m.Deepest.Limit)
	}
	if m.Widest != nil {
		s = say.F("%s. Most room: %s down at %s, %s to the nearest limit", s, units.FormatMM(m.Widest.DropMM), shiftText(m.Widest.ShiftMM), units.FormatMM(m.Widest.MarginMM))
	}
	return say.F("%s.", s)
}

func shiftText(mm float64) say.Text {
	switch {
	case mm > 0:
		return say.F("%s rearward", units.FormatMM(mm))
	case mm < 0:
		return say.F("%s forward", units.FormatMM(-mm))
	}
	return say.Of("no shift")
}
