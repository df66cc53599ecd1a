package rearview

// Layers of the sweep: the field, then mirror and glass of each eye, then the
// outline of each blocker for each eye.
const (
	layerField  = 0
	layerMirror = 1
	layerGlass  = layerMirror + nEyes
	layerParts  = layerGlass + nEyes
)

// shadow is what one part hides from each eye.
type shadow struct {
	part  int           // in the scene
	edges [nEyes][]edge // its outline
	trim  [nEyes][]edge // of it what bounds the shadow inside the fields
}

func (s *shadow) empty() bool {
	for k := range s.edges {
		if len(s.edges[k]) > 0 {
			return false
		}
	}
	return true
}

// loss is what one blocker takes. Bare numbers: areas of the picture.
type loss struct {
	alone  float64 // lost to both eyes if it were the only one
	gained float64 // seen again if it alone were gone
}

// tally adds up the areas of one sweep. Bare numbers: areas of the picture.
type tally struct {
	field          float64
	seen           [nEyes]float64
	either, both   float64
	clear, unpaned float64 // seen by either without any blocker; without glass besides
	hidden         float64 // from the middle eye by blockers
	lost           []loss  // by blocker
	onField        bool
	mirror, glass  [nEyes]bool
	hides          [][nEyes]bool // by blocker
	blocks         [nEyes]int    // number of blockers that hide the cell from each eye
	active         []int         // blockers that hide it from some eye
	noGlass        bool
	eyes           []int // of the sweep at hand
}

func (t *tally) toggle(layer int32, on bool) {
	switch l := int(layer); {
	case l == layerField:
		t.onField = on
	case l < layerGlass:
		t.mirror[l-layerMirror] = on
	case l < layerParts:
		t.glass[l-layerGlass] = on
	default:
		j, k := (l-layerParts)/nEyes, (l-layerParts)%nEyes
		was := t.hides[j] != [nEyes]bool{}
		t.hides[j][k] = on
		if on {
			t.blocks[k]++
		} else {
			t.blocks[k]--
		}
		if is := t.hides[j] != [nEyes]bool{}; is != was {
			t.list(j, is)
		}
	}
}

// list keeps the blockers that are active.
func (t *tally) list(j int, add bool) {
	if add {
		t.active = append(t.active, j)
		return
	}
	for i, other := range t.active {
		if other == j {
			t.active = append(t.active[:i], t.active[i+1:]...)
			return
		}
	}
}

// passes reports whether mirror and glass let an eye see the cell.
func (t *tally) passes(k int) bool { return t.mirror[k] && (t.noGlass || t.glass[k]) }

// cell adds one cell of the picture.
func (t *tally) cell(c *cell) {
	if !t.onField {
		return
	}
	area := c.area()
	if area == 0 {
		return
	}
	t.field += area
	if t.eyes[0] == middle {
		switch {
		case t.passes(middle) && t.blocks[middle] == 0:
			t.seen[middle] += area
		case t.passes(middle):
			t.hidden += area
		}
		return
	}
	if t.mirror[left] || t.mirror[right] {
		t.unpaned += area
	}
	inLeft, inRight := t.passes(left), t.passes(right)
	seesLeft, seesRight := inLeft && t.blocks[left] == 0, inRight && t.blocks[right] == 0
	if inLeft || inRight {
		t.clear += area
		for _, j := range t.active {
			h := &t.hides[j]
			if !(inLeft && !h[left]) && !(inRight && !h[right]) {
				t.lost[j].alone += area
			}
			if !seesLeft && !seesRight && (inLeft && t.blocks[left] == ones(h[left]) || inRight && t.blocks[right] == ones(h[right])) {
				t.lost[j].gained += area
			}
		}
	}
	t.count(area, seesLeft, seesRight)
}

func (t *tally) passed(*line, float64, float64) {} // Bare numbers: places in the picture

func (t *tally) ended() {}

// count adds an area to what is seen. Bare numbers: of the picture.
func (t *tally) count(area float64, seesLeft, seesRight bool) {
	if seesLeft {
		t.seen[left] += area
	}
	if seesRight {
		t.seen[right] += area
	}
	if seesLeft || seesRight {
		t.either += area
	}
	if seesLeft && seesRight {
		t.both += area
	}
}

func ones(on bool) int {
	if on {
		return 1
	}
	return 0
}

// around returns the sides of a polygon as edges, its inside to their left.
func around(poly []dot) []edge {
	wind := int32(1)
	if area2(poly) < 0 {
		wind = -1
	}
	var out []edge
	for i, p := range poly {
		out = append(out, edge{p, poly[(i+1)%len(poly)], wind})
	}
	return out
}

// stops adds field, mirror and glass of some eyes.
func (st *study) stops(lines []line, f *field, within pane, eyes []int) []line {
	lines = appendLines(lines, around(f.poly), layerField, within)
	for _, k := range eyes {
		e := &st.sight.eyes[k]
		lines = appendLines(lines, around(e.mirror), layerMirror+k, within)
		if len(e.glass) > 2 {
			lines = appendLines(lines, around(e.glass), layerGlass+k, within)
		}
	}
	return lines
}

// The eyes of one sweep. The middle one goes by itself: what it sees is asked
// for alone, and fewer lines cross. Read-only.
var (
	twoEyes  = []int{left, right}
	oneEye   = []int{middle}
	allEyes  = []int{left, right, middle}
	eyeParts = [][]int{twoEyes, oneEye}
)

// measure sweeps one field with the shadows of blockers.
func (st *study) measure(f *field, shadows []shadow) *tally {
	t := &tally{
		lost: make([]loss, len(shadows)), hides: make([][nEyes]bool, len(shadows)), noGlass: len(st.sight.glass) == 0,
	}
	within := paneOf(f.poly)
	for _, eyes := range eyeParts {
		t.field, t.eyes = 0, eyes
		lines := st.stops(st.lines[:0], f, within, eyes)
		for j := range shadows {
			for _, k := range eyes {
				lines = appendLines(lines, shadows[j].trim[k], layerParts+nEyes*j+k, within)
			}
		}
		st.lines = lines
		st.sweeper.sweep(lines, layerParts+nEyes*len(shadows), t)
	}
	return t
}
