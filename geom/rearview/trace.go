package rearview

// tracer is a watcher that draws the outline of what a sweep finds: for each of
// its regions the pieces of lines at which it begins or ends.
type tracer struct {
	layers  []bool // which layers are on
	regions []func(layers []bool) bool
	was     []bool   // per region, on the near side of the line before
	out     [][]edge // per region
	last    [][]int  // per region and line: one more than the place of its latest piece in out
}

func (t *tracer) toggle(layer int32, on bool) { t.layers[layer] = on }

func (t *tracer) cell(*cell) {}

// passed is told of each line of a column after its layer has changed.
// Bare numbers: places in the picture.
func (t *tracer) passed(l *line, a0, a1 float64) {
	for r, in := range t.regions {
		is := in(t.layers)
		if is == t.was[r] {
			continue
		}
		t.was[r] = is
		wind := int32(1)
		if !is {
			wind = -1
		}
		to := dot{a1, l.at(a1)}
		if k := t.last[r][l.id]; k > 0 && t.out[r][k-1].to.a == a0 && t.out[r][k-1].wind == wind {
			t.out[r][k-1].to = to
			continue
		}
		t.out[r] = append(t.out[r], edge{dot{a0, l.at(a0)}, to, wind})
		t.last[r][l.id] = len(t.out[r])
	}
}

// ended is told that a column is over.
func (t *tracer) ended() { clear(t.was) }

// trace returns the outlines of regions of what lines of some layers cut out.
// They bound the regions toward greater and lesser b, which is all that a sweep
// asks for.
func (s *sweeper) trace(lines []line, layers int, regions ...func(layers []bool) bool) [][]edge {
	t := &tracer{
		layers: make([]bool, layers), regions: regions, was: make([]bool, len(regions)),
		out: make([][]edge, len(regions)), last: make([][]int, len(regions)),
	}
	for r := range t.last {
		t.last[r] = make([]int, len(lines))
	}
	s.sweep(lines, layers, t)
	return t.out
}

// trim drops from an outline what lies inside it or outside a pane.
func (s *sweeper) trim(edges []edge, within pane) []edge {
	lines := appendLines(nil, edges, 0, within)
	if len(lines) == 0 {
		return nil
	}
	return s.trace(lines, 1, func(layers []bool) bool { return layers[0] })[0]
}
